namespace Rootwater.Growing.Pots;

/// <summary>Water vapour in the air around a pot.</summary>
/// <remarks>
/// Source: Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56, chapter 3: equation 11 (saturation vapour pressure),
/// 12 (mean of a day from its extremes), 17 (actual vapour pressure from relative humidity). Pressures in kPa, temperatures in °C.
/// </remarks>
public static class VapourPressure
{
    /// <summary>Standard air pressure at sea level, kPa.</summary>
    public const double SeaLevelKilopascals = 101.3;

    /// <summary>Saturation vapour pressure over water: e°(T) = 0.6108 exp(17.27 T / (T + 237.3)), kPa (FAO-56 eq. 11).</summary>
    /// <param name="celsius">Air temperature, °C; made for 0 to 50.</param>
    public static double SaturationKilopascals(double celsius) => 0.6108 * Math.Exp(17.27 * celsius / (celsius + 237.3));

    /// <summary>Mean saturation vapour pressure of a day from its lowest and highest temperature, kPa (FAO-56 eq. 12).</summary>
    public static double DayMeanSaturationKilopascals(double lowestCelsius, double highestCelsius) =>
        (SaturationKilopascals(lowestCelsius) + SaturationKilopascals(highestCelsius)) / 2;

    /// <summary>Actual vapour pressure of a day from the extremes of temperature and relative humidity, kPa (FAO-56 eq. 17).</summary>
    public static double DayMeanActualKilopascals(double lowestCelsius, double highestCelsius, double highestHumidityPercent, double lowestHumidityPercent) =>
        (SaturationKilopascals(lowestCelsius) * highestHumidityPercent / 100 + SaturationKilopascals(highestCelsius) * lowestHumidityPercent / 100) / 2;

    /// <summary>
    /// How much drier the air is than the inside of a leaf: e°(leaf) - e(air), kPa. A leaf cooler than the air sees less of a deficit;
    /// never below zero (no dew is modelled).
    /// </summary>
    public static double DeficitKilopascals(double airCelsius, double relativeHumidityPercent, double leafCelsius) =>
        Math.Max(0, SaturationKilopascals(leafCelsius) - SaturationKilopascals(airCelsius) * relativeHumidityPercent / 100);
}
