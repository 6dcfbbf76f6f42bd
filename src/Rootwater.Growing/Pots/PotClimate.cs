namespace Rootwater.Growing.Pots;

/// <summary>The air a pot stands in, as a mean over the days of the forecast.</summary>
public sealed record PotClimate
{
    /// <summary>Air temperature, °C (5 to 40).</summary>
    public double AirTemperatureCelsius { get; init; } = 21;

    /// <summary>Relative humidity, % (5 to 100).</summary>
    public double RelativeHumidityPercent { get; init; } = 65;

    /// <summary>Hours of light in a day (0 to 24).</summary>
    public double LightHoursPerDay { get; init; } = 12;

    /// <summary>Light in a day, mol m-2 d-1 (0 to 60); null where it was not read.</summary>
    public double? LightMolesPerM2Day { get; init; }

    /// <summary>
    /// log10 of the carbon dioxide pressure in the pot, atm (-4 to -1). Roots and microbes breathe, so it stands above the -3.4 of outdoor air;
    /// -3.0 (0.1 %) is assumed for airy media, from memory, no measurement found.
    /// </summary>
    public double Log10PotPCO2Atmospheres { get; init; } = -3.0;

    /// <summary>
    /// The usual carbon dioxide of a pot in such air: what roots and microbes add to outdoor air is as above at 21 °C, and doubles with each 10 °C as breathing does (from memory).
    /// </summary>
    public static double UsualLog10PotPCO2(double celsius)
    {
        var usual = new PotClimate();
        var outdoors = Math.Pow(10, OutdoorLog10PCO2);
        return Math.Log10(outdoors + (Math.Pow(10, usual.Log10PotPCO2Atmospheres) - outdoors) * PotParameters.Default.PaceByWarmth(usual with { AirTemperatureCelsius = celsius }));
    }

    private const double OutdoorLog10PCO2 = -3.4;

    /// <summary>Actual vapour pressure of the air, kPa.</summary>
    public double ActualVapourKilopascals => VapourPressure.SaturationKilopascals(AirTemperatureCelsius) * RelativeHumidityPercent / 100;

    internal void Check()
    {
        PotInputException.RequireWithin("climate.airTemperatureC", AirTemperatureCelsius, 5, 40, "°C");
        PotInputException.RequireWithin("climate.relativeHumidityPercent", RelativeHumidityPercent, 5, 100, "%");
        PotInputException.RequireWithin("climate.lightHoursPerDay", LightHoursPerDay, 0, 24, "hours");
        PotInputException.RequireWithin("climate.lightMolesPerM2Day", LightMolesPerM2Day ?? 0, 0, 60, "mol m-2 d-1");
        PotInputException.RequireWithin("climate.log10PotPCO2", Log10PotPCO2Atmospheres, -4, -1, "(log10 of atm)");
    }
}
