using CsCheck;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Facts;

public sealed class FactJsonTests
{
    [Fact]
    public void Amounts_are_written_by_name_and_only_those_there_are()
    {
        FactJson.Write(ComponentAmounts.From((Component.Calcium, 0.001), (Component.Hydrogen, -0.002))).ShouldBe("""{"Hydrogen":-0.002,"Calcium":0.001}""");
    }

    [Fact]
    public void Component_amounts_come_back_to_the_last_bit()
    {
        Gen.Double[-1, 1].Array[ComponentAmounts.Count].Select(amounts => ComponentAmounts.FromSpan(amounts))
            .Sample(amounts => FactJson.Read<ComponentAmounts>(FactJson.Write(amounts)).Equals(amounts));
    }

    [Fact]
    public void Nutrient_amounts_come_back_to_the_last_bit()
    {
        Gen.Double[0, 1e6].Array[NutrientAmounts.Count].Select(amounts => NutrientAmounts.FromSpan(amounts))
            .Sample(amounts => FactJson.Read<NutrientAmounts>(FactJson.Write(amounts)).Equals(amounts));
    }

    [Fact]
    public void A_band_without_an_end_comes_back_without_one()
    {
        var band = new Band(40, 60, double.PositiveInfinity);

        FactJson.Read<Band>(FactJson.Write(band)).ShouldBe(band);
    }
}
