using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots.References;

/// <summary>Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56. Tolerance: half the last printed digit.</summary>
public sealed class VapourPressureReferences
{
    [Theory]
    // Example 3 (read in the documentation of an independent implementation).
    [InlineData(15, 1.705, 0.0005)]
    [InlineData(24.5, 3.075, 0.0005)]
    // Table 2.3 (from memory).
    [InlineData(20, 2.338, 0.0005)]
    [InlineData(25, 3.168, 0.0005)]
    [InlineData(30, 4.243, 0.0005)]
    public void Saturation_pressure_is_as_printed(double celsius, double kilopascals, double tolerance) =>
        VapourPressure.SaturationKilopascals(celsius).ShouldBe(kilopascals, tolerance);

    [Fact]
    public void Example_3_the_mean_of_the_day() => VapourPressure.DayMeanSaturationKilopascals(15, 24.5).ShouldBe(2.39, 0.005);

    [Fact]
    public void Example_5_actual_pressure_and_deficit_from_the_humidity_of_the_day()
    {
        // From memory: 18 and 25 °C, 82 and 54 %: ea 1.70 kPa, deficit 0.91 kPa.
        var actual = VapourPressure.DayMeanActualKilopascals(18, 25, 82, 54);
        actual.ShouldBe(1.70, 0.005);
        (VapourPressure.DayMeanSaturationKilopascals(18, 25) - actual).ShouldBe(0.91, 0.005);
    }

    [Theory]
    // Computed independently from equation 11: air of 25 °C and 60 %.
    [InlineData(25, 1.267)]
    [InlineData(23, 0.909)]
    public void A_cooler_leaf_sees_a_smaller_deficit(double leafCelsius, double kilopascals) =>
        VapourPressure.DeficitKilopascals(25, 60, leafCelsius).ShouldBe(kilopascals, 0.0005);

    [Fact]
    public void Example_4_the_wet_bulb_of_an_aspirated_psychrometer()
    {
        // From memory: 1200 m (87.9 kPa), dry 25.6 °C, wet 19.5 °C give ea = 1.91 kPa. Turned round here: 0.005 kPa is 0.025 °C of wet bulb.
        WetSurface.TemperatureCelsius(25.6, 1.91, WetSurface.VentilatedPerCelsius, 87.9).ShouldBe(19.5, 0.05);
    }

    [Fact]
    public void In_saturated_air_a_wet_surface_is_as_warm_as_the_air() =>
        WetSurface.TemperatureCelsius(22, VapourPressure.SaturationKilopascals(22)).ShouldBe(22, 1e-9);
}
