using Rootwater.Chemistry.Species;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Desks;

public sealed class WaterReportsTests
{
    [Fact]
    public void A_report_in_mixed_units_becomes_a_neutral_water()
    {
        var read = WaterReports.Read(Report(
            new("pH", 7.4, ""), new("Ca", 92, "mg/L"), new("Mg", 12, "mg/L"), new("Na", 22, "mg/L"), new("K", 3, "mg/L"),
            new("HCO3", 275, "mg/L"), new("Cl", 40, "mg/L"), new("SO4", 38, "mg/L"), new("NO3", 15, "mg/L")));

        read.Problems.ShouldBeEmpty();
        // 275 mg/L over 61.016 g/mol.
        read.AlkalinityMeqPerLitre!.Value.ShouldBe(4.51, 0.15);
        read.PH!.Value.ShouldBe(7.4, 0.01);
        Charge(read.Source!.MolPerKgWater).ShouldBe(0, 1e-9);
    }

    [Fact]
    public void A_pen_and_drops_are_enough_and_the_rest_is_said_to_be_estimated()
    {
        var read = WaterReports.Read(Report(new("EC", 560, "µS/cm"), new("GH", 14, "°dH"), new("KH", 11, "°dH")));

        read.Problems.ShouldBeEmpty();
        // 11 German degrees of 0.35665 meq/L each.
        read.AlkalinityMeqPerLitre!.Value.ShouldBe(3.92, 0.15);
        read.Notes.ShouldNotBeEmpty();
    }

    [Fact]
    public void Something_nobody_measures_in_water_is_refused_by_its_name()
    {
        WaterReports.Read(Report(new ReportedValue("goodness", 7, "mg/L"))).Problems.Single().Field.ShouldBe("goodness");
    }

    [Fact]
    public void A_bare_ppm_of_EC_is_asked_about()
    {
        WaterReports.Read(Report(new ReportedValue("EC", 350, "ppm"))).Problems.Single().Accepted.ShouldContain("0.64");
    }

    [Theory]
    [InlineData("pH", 15.0, "")]
    [InlineData("Ca", -3.0, "mg/L")]
    [InlineData("EC", 900_000.0, "µS/cm")]
    public void A_value_that_cannot_be_is_refused(string what, double value, string unit)
    {
        var read = WaterReports.Read(Report(new ReportedValue(what, value, unit)));

        read.Source.ShouldBeNull();
        read.Problems.ShouldNotBeEmpty();
    }

    private static NewWaterReport Report(params ReportedValue[] values) => new() { WaterId = Guid.CreateVersion7(), SampledOn = new DateOnly(2026, 2, 1), Values = values, Origin = WaterOrigin.Ground };

    private static double Charge(ComponentAmounts mol) =>
        mol[Component.Hydrogen] + mol[Component.Sodium] + mol[Component.Potassium] + mol[Component.Ammonium]
        + 2 * (mol[Component.Calcium] + mol[Component.Magnesium] + mol[Component.Zinc] + mol[Component.IronII] + mol[Component.Manganese] + mol[Component.Copper])
        - mol[Component.Nitrate] - mol[Component.Chloride] - 2 * (mol[Component.Sulfate] + mol[Component.Carbonate]) - 3 * mol[Component.Phosphate];
}
