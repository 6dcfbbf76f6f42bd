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

    [Fact]
    public void A_recorded_forecast_reads_the_quick_way_as_it_does_the_general_way()
    {
        var number = Gen.OneOf(Gen.Double[-1e4, 1e4], Gen.Const(double.PositiveInfinity), Gen.Const(double.NegativeInfinity));
        var band = Gen.Select(number, number, number, (low, value, high) => new Expected(low, value, high));
        Gen.Select(Gen.Double[0, 14], band, band, band, band, (day, ph, ec, medium, reservoir) => new BelievedMoment(day, ph, ec, medium, reservoir)).Array[0, 9].Sample(moments =>
        {
            var (kind, version, json) = FactKinds.Write(new RootForecastBelieved(Guid.Empty, Guid.Empty, Guid.Empty, Guid.Empty, "fitted", null, moments, null, new BandCorrections(new(0.1, 2, 3), new(0, 1, 0), new(-0.1, 1.5, 9))));
            var (quick, general) = ((RootForecastBelieved)FactKinds.Read(kind, version, json), FactJson.Read<RootForecastBelieved>(json));
            return quick.Moments.SequenceEqual(general.Moments) && quick with { Moments = [] } == general with { Moments = [] } && general.Moments.SequenceEqual(moments);
        });
    }

    [Fact]
    public void What_a_moment_says_beyond_what_is_known_is_passed_over_and_what_it_leaves_out_is_nought()
    {
        const string json = """{"moments":[{"reservoirLitres":{"high":3,"unit":{"of":["L"]},"value":2,"low":1},"more":[{"day":9}],"day":1.5}],"model":"m"}""";

        var read = (RootForecastBelieved)FactKinds.Read(FactKinds.NameOf<RootForecastBelieved>(), 1, json);

        read.Moments.ShouldBe([new BelievedMoment(1.5, default, default, default, new Expected(1, 2, 3))]);
        read.Model.ShouldBe("m");
    }

    [Fact]
    public void An_amount_of_nothing_known_is_refused_by_its_name()
    {
        Should.Throw<System.Text.Json.JsonException>(() => FactJson.Read<NutrientAmounts>("""{"Potassium":1,"Unobtainium":2}""")).Message.ShouldContain("No Nutrient is called \"Unobtainium\"");
        FactJson.Read<NutrientAmounts>("""{"Potassium":1,"Phosphorus":2}""").ShouldBe(NutrientAmounts.From((Nutrient.Phosphorus, 2), (Nutrient.Potassium, 1)), "in whatever order they stand");
    }
}
