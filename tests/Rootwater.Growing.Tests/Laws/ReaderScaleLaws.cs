using CsCheck;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>What is shown in any unit and typed back in is what was kept; every scale rises; anchors are those of the definitions.</summary>
public sealed class ReaderScaleLaws
{
    private static readonly (string Name, Func<double, double> From, Func<double, double> To)[] s_scales =
    [
        .. Enum.GetValues<VolumeUnit>().Select(unit => (unit.ToString(), (Func<double, double>)(kept => unit.FromLitres(kept)), (Func<double, double>)(shown => unit.ToLitres(shown)))),
        .. Enum.GetValues<TemperatureUnit>().Select(unit => (unit.ToString(), (Func<double, double>)(kept => unit.FromCelsius(kept)), (Func<double, double>)(shown => unit.ToCelsius(shown)))),
        .. Enum.GetValues<EcScale>().Select(unit => (unit.ToString(), (Func<double, double>)(kept => unit.FromMicrosiemens(kept)), (Func<double, double>)(shown => unit.ToMicrosiemens(shown)))),
        .. Enum.GetValues<HardnessUnit>().Select(unit => (unit.ToString(), (Func<double, double>)(kept => unit.FromMilliequivalents(kept)), (Func<double, double>)(shown => unit.ToMilliequivalents(shown)))),
    ];

    public static TheoryData<string> Scales => new(s_scales.Select(scale => scale.Name));

    [Theory]
    [MemberData(nameof(Scales))]
    public void Shown_and_typed_back_it_is_what_was_kept(string name)
    {
        var scale = s_scales.Single(each => each.Name == name);
        Gen.Double[-50, 50_000].Sample(kept => Math.Abs(scale.To(scale.From(kept)) - kept) <= 1e-12 * Math.Max(50, Math.Abs(kept)));
    }

    [Theory]
    [MemberData(nameof(Scales))]
    public void More_is_shown_as_more(string name)
    {
        var scale = s_scales.Single(each => each.Name == name);
        Gen.Double[0, 1000].Select(Gen.Double[1e-6, 1000]).Sample((low, more) => scale.From(low + more) > scale.From(low));
    }

    [Fact]
    public void Anchors_are_those_of_the_definitions()
    {
        // 231 cubic inches of 2.54 cm; water freezes at 32 °F and boils at 212 °F.
        VolumeUnit.UsGallon.ToLitres(1).ShouldBe(231 * Math.Pow(0.254, 3), 1e-12);
        TemperatureUnit.Fahrenheit.FromCelsius(0).ShouldBe(32);
        TemperatureUnit.Fahrenheit.FromCelsius(100).ShouldBe(212, 1e-12);
        TemperatureUnit.Fahrenheit.FromCelsius(-40).ShouldBe(-40, 1e-12);
        // UC ANR (Faber 2014): 640 ppm to the dS/m; meters' "442" convention: 0.7.
        EcScale.Ppm640.FromMicrosiemens(1000).ShouldBe(640, 1e-12);
        EcScale.Ppm700.FromMicrosiemens(1413).ShouldBe(989.1, 0.05);
        // FAO glossary: 50 mg/L CaCO3 are 2.805 °dH; Bailey: 1 meq/L is 50.04 mg/L CaCO3. Tolerance: the printed digits.
        HardnessUnit.MilligramsPerLitreCaCO3.FromMilliequivalents(1).ShouldBe(50.04, 0.005);
        HardnessUnit.GermanDegree.FromMilliequivalents(HardnessUnit.MilligramsPerLitreCaCO3.ToMilliequivalents(50)).ShouldBe(2.805, 0.005);
    }
}
