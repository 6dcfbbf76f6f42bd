using CsCheck;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>Whatever a report says or leaves out, what comes of it is neutral and not negative, or it is an error.</summary>
public sealed class WaterLaws
{
    private static readonly Gen<WaterReport> s_reports =
        from ec in Gen.Double[1, 1500].Nullable()
        from gh in Gen.Double[0, 30].Nullable()
        from kh in Gen.Double[0, 25].Nullable()
        from pH in Gen.Double[4, 9].Nullable()
        from calcium in Gen.Double[0, 200].Nullable(0.6)
        from sodium in Gen.Double[0, 100].Nullable(0.6)
        from chloride in Gen.Double[0, 150].Nullable(0.6)
        from sulfate in Gen.Double[0, 150].Nullable(0.6)
        select new WaterReport
        {
            Name = "water",
            Readings =
            [
                .. Line(WaterQuantity.Conductivity, ec, WaterUnit.MicrosiemensPerCm), .. Line(WaterQuantity.Hardness, gh, WaterUnit.GermanDegrees),
                .. Line(WaterQuantity.Alkalinity, kh, WaterUnit.GermanDegrees), .. Line(WaterQuantity.PH, pH, WaterUnit.None),
                .. Line(WaterQuantity.Calcium, calcium, WaterUnit.MgPerLitre), .. Line(WaterQuantity.Sodium, sodium, WaterUnit.MgPerLitre),
                .. Line(WaterQuantity.Chloride, chloride, WaterUnit.MgPerLitre), .. Line(WaterQuantity.Sulfate, sulfate, WaterUnit.MgPerLitre),
            ],
        };

    [Fact]
    public void A_completed_water_is_neutral_and_holds_nothing_below_zero() => s_reports.Sample(report =>
    {
        var water = WaterCompleter.Complete(report);
        if (water.Source is null)
        {
            water.Problems.ShouldContain(problem => problem.Severity == Severity.Error);
            return;
        }

        water.Source.MolPerKgWater.NetCharge().ShouldBe(0, 1e-9);
        foreach (var component in Components.All.Where(component => component != Component.Hydrogen))
        {
            water.Source.MolPerKgWater[component].ShouldBeGreaterThanOrEqualTo(0);
        }

        foreach (var value in water.Values)
        {
            value.Low.ShouldBeLessThanOrEqualTo(value.MmolPerLitre);
            value.High.ShouldBeGreaterThanOrEqualTo(value.MmolPerLitre);
        }

        if (report.Readings.FirstOrDefault(reading => reading.Quantity == WaterQuantity.PH) is { } pH)
        {
            water.PH.ShouldBe(pH.Value, 0.01);
        }
    }, iter: 60);

    [Fact]
    public void Every_unit_of_an_ion_says_the_same() => Gen.Select(Gen.Int[0, WaterIon.All.Count - 1].Select(i => WaterIon.All[i]), Gen.Double[1e-3, 10]).Sample((ion, mmol) =>
    {
        WaterUnits.MmolPerLitre(ion, mmol * ion.IonGramsPerMole, WaterUnit.MgPerLitre).ShouldBe(mmol, mmol * 1e-12);
        WaterUnits.MmolPerLitre(ion, mmol * ion.IonGramsPerMole * 1000, WaterUnit.MicrogramsPerLitre).ShouldBe(mmol, mmol * 1e-12);
        WaterUnits.MmolPerLitre(ion, mmol * ion.ElementGramsPerMole, WaterUnit.MgPerLitreAsElement).ShouldBe(mmol, mmol * 1e-12);
        if (ion.Charge != 0)
        {
            WaterUnits.MmolPerLitre(ion, mmol * Math.Abs(ion.Charge), WaterUnit.MeqPerLitre).ShouldBe(mmol, mmol * 1e-12);
        }
    });

    private static IEnumerable<WaterReading> Line(WaterQuantity quantity, double? value, WaterUnit unit) => value is { } known ? [new WaterReading(quantity, known, unit)] : [];
}
