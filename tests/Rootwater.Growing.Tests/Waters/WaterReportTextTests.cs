using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Waters;

/// <summary>Invented reports in the layouts that suppliers and growers use.</summary>
public sealed class WaterReportTextTests
{
    private static WaterTextReading Read(string name) => WaterReportText.Parse(TestFiles.Read("Waters", nameof(WaterReportTextTests), name), "water");

    private static void ShouldState(WaterTextReading reading, WaterQuantity quantity, double value, WaterUnit unit) =>
        reading.Report.ShouldNotBeNull().Readings.Where(line => line.Quantity == quantity).ShouldHaveSingleItem().ShouldBe(new WaterReading(quantity, value, unit));

    [Fact]
    public void Reads_a_supplier_s_table_with_decimal_commas()
    {
        var reading = Read("Supplier");
        ShouldState(reading, WaterQuantity.PH, 7.42, WaterUnit.None);
        ShouldState(reading, WaterQuantity.Conductivity, 512, WaterUnit.MicrosiemensPerCm);
        reading.Report!.EcReferenceCelsius.ShouldBe(20);
        ShouldState(reading, WaterQuantity.Calcium, 82, WaterUnit.MgPerLitre);
        ShouldState(reading, WaterQuantity.Magnesium, 11.4, WaterUnit.MgPerLitre);
        ShouldState(reading, WaterQuantity.Sulfate, 38, WaterUnit.MgPerLitre);
        ShouldState(reading, WaterQuantity.Nitrate, 12.5, WaterUnit.MgPerLitre);
        ShouldState(reading, WaterQuantity.Alkalinity, 4.05, WaterUnit.MmolPerLitre);
        ShouldState(reading, WaterQuantity.Hardness, 14.1, WaterUnit.GermanDegrees);
        ShouldState(reading, WaterQuantity.Ammonium, 0.025, WaterUnit.MgPerLitre);
        ShouldState(reading, WaterQuantity.Iron, 0.02, WaterUnit.MgPerLitre);
        reading.Report.Readings.Count.ShouldBe(13);
    }

    [Fact]
    public void Reads_a_pen_and_drops_and_says_what_unit_was_taken()
    {
        var reading = Read("PenAndDrops");
        ShouldState(reading, WaterQuantity.Conductivity, 412, WaterUnit.MicrosiemensPerCm);
        ShouldState(reading, WaterQuantity.Hardness, 9, WaterUnit.GermanDegrees);
        ShouldState(reading, WaterQuantity.Alkalinity, 6, WaterUnit.GermanDegrees);
        ShouldState(reading, WaterQuantity.PH, 7.6, WaterUnit.None);
        reading.Problems.Count(problem => problem.Message.Contains("German degrees")).ShouldBe(2);
    }

    [Fact]
    public void Reads_grains_ppm_of_calcium_carbonate_and_nitrate_as_nitrogen()
    {
        var reading = Read("AmericanTable");
        ShouldState(reading, WaterQuantity.Hardness, 7.5, WaterUnit.GrainsPerUsGallon);
        ShouldState(reading, WaterQuantity.Alkalinity, 105, WaterUnit.MgPerLitreAsCaCO3);
        ShouldState(reading, WaterQuantity.Sodium, 18, WaterUnit.MgPerLitre);
        ShouldState(reading, WaterQuantity.Nitrate, 1.2, WaterUnit.MgPerLitreAsElement);
        ShouldState(reading, WaterQuantity.Conductivity, 0.38, WaterUnit.MillisiemensPerCm);
        ShouldState(reading, WaterQuantity.Temperature, 68, WaterUnit.Fahrenheit);
    }

    [Theory]
    [InlineData("EC 260 ppm")]
    [InlineData("TDS 260 ppm")]
    [InlineData("EC 0.4")]
    public void A_bare_ppm_of_EC_is_refused_and_the_scale_asked_for(string text)
    {
        var reading = WaterReportText.Parse(text, "water");
        reading.IsUsable.ShouldBeFalse();
        reading.Problems.ShouldContain(problem => problem.Severity == Severity.Error && problem.Message.Contains("0.64"));
    }

    [Theory]
    [InlineData("EC 260 ppm 0.5", 520)]
    [InlineData("EC 260 ppm (0.7)", 371.43)]
    [InlineData("EC 260 ppm 640", 406.25)]
    public void A_named_ppm_scale_is_read(string text, double microsiemensPerCm)
    {
        var reading = WaterReportText.Parse(text, "water").Report.ShouldNotBeNull().Readings.ShouldHaveSingleItem();
        WaterUnits.MicrosiemensPerCm(reading.Value, reading.Unit).ShouldBe(microsiemensPerCm, 0.01);
    }

    [Fact]
    public void A_text_without_readings_says_so() => WaterReportText.Parse("clear and cold", "water").Problems.ShouldHaveSingleItem().Field.ShouldBe("text");

    [Fact]
    public void No_text_however_odd_makes_the_reader_fall()
    {
        var letters = CsCheck.Gen.Char["caMg NO3pHKEC0123,.<%°dµS/lm()-:\n"];
        CsCheck.Check.Sample(CsCheck.Gen.String[letters, 0, 60], text =>
        {
            var reading = WaterReportText.Parse(text, "water");
            (reading.Report is not null || reading.Problems.Count > 0).ShouldBeTrue();
        }, iter: 3000);
    }
}
