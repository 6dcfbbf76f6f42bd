using CsCheck;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>What goes into a unit comes out of it again, for every unit there is.</summary>
public sealed class QuantityLaws
{
    private static readonly Gen<double> s_values = Gen.Double[1e-3, 1e4];

    [Fact]
    public void Hardness_and_alkalinity_come_back_from_every_scale() => Gen.Select(s_values, Gen.Enum<CarbonateScale>(), Gen.Enum<CarbonateScale>()).Sample((value, from, to) =>
    {
        var hardness = Hardness.From(value, from);
        Hardness.From(hardness.In(to), to).In(from).ShouldBe(value, value * 1e-12);
        var alkalinity = Alkalinity.From(value, from);
        Alkalinity.From(alkalinity.In(to), to).In(from).ShouldBe(value, value * 1e-12);
        Alkalinity.FromMgBicarbonatePerLitre(alkalinity.MgBicarbonatePerLitre).MeqPerLitre.ShouldBe(alkalinity.MeqPerLitre, alkalinity.MeqPerLitre * 1e-12);
        Hardness.FromMmolPerLitre(hardness.MmolPerLitre).MeqPerLitre.ShouldBe(hardness.MeqPerLitre, hardness.MeqPerLitre * 1e-12);
    });

    [Fact]
    public void Conductivity_comes_back_from_every_scale() => Gen.Select(s_values, Gen.Enum<ConductivityScale>(), Gen.Enum<ConductivityScale>()).Sample((value, from, to) =>
        ElectricalConductivity.From(ElectricalConductivity.From(value, from).In(to), to).In(from).ShouldBe(value, value * 1e-12));

    [Fact]
    public void Doses_come_back_from_ounces_and_gallons() => s_values.Sample(value =>
    {
        MassDose.FromOuncesPer100Gallons(MassDose.FromGramsPerLitre(value).OuncesPer100Gallons).GramsPerLitre.ShouldBe(value, value * 1e-12);
        VolumeDose.FromFluidOuncesPer100Gallons(VolumeDose.FromMillilitresPerLitre(value).FluidOuncesPer100Gallons).MillilitresPerLitre.ShouldBe(value, value * 1e-12);
        VolumeDose.FromMillilitresPer100Gallons(VolumeDose.FromMillilitresPerLitre(value).MillilitresPer100Gallons).MillilitresPerLitre.ShouldBe(value, value * 1e-12);
        MassDose.ForElement(MassDose.FromGramsPerLitre(value).ElementMgPerLitre(0.155), 0.155).GramsPerLitre.ShouldBe(value, value * 1e-12);
    });
}
