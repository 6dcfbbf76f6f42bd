namespace Rootwater.Growing;

/// <summary>From what is kept (litres, °C, µS/cm at 25 °C, meq/L) to what the reader sees, and back. Each factor stands here once.</summary>
/// <remarks>
/// US gallon: 3.785411784 L by definition (231 cubic inches). °F by definition. Meter ppm are conventions of the meters, not concentrations:
/// 0.5, 0.64 and 0.7 ppm per µS/cm. One milliequivalent of alkalinity per litre is 50.043 mg/L as CaCO3 (half its molar mass, IUPAC 2021
/// weights); one German degree is 10 mg/L CaO, 17.848 mg/L as CaCO3.
/// </remarks>
public static class ReaderScales
{
    public const double LitresPerUsGallon = 3.785411784;
    public const double CaCO3PerMilliequivalent = 50.043;
    public const double CaCO3PerGermanDegree = 17.848;

    public static double FromLitres(this VolumeUnit unit, double litres) => unit == VolumeUnit.UsGallon ? litres / LitresPerUsGallon : litres;

    public static double ToLitres(this VolumeUnit unit, double shown) => unit == VolumeUnit.UsGallon ? shown * LitresPerUsGallon : shown;

    public static double FromCelsius(this TemperatureUnit unit, double celsius) => unit == TemperatureUnit.Fahrenheit ? celsius * 1.8 + 32 : celsius;

    public static double ToCelsius(this TemperatureUnit unit, double shown) => unit == TemperatureUnit.Fahrenheit ? (shown - 32) / 1.8 : shown;

    /// <summary>A difference of temperature: no zero point.</summary>
    public static double FromCelsiusDegrees(this TemperatureUnit unit, double degrees) => unit == TemperatureUnit.Fahrenheit ? degrees * 1.8 : degrees;

    public static double FromMicrosiemens(this EcScale scale, double microsiemensPerCm) => microsiemensPerCm * Factor(scale);

    public static double ToMicrosiemens(this EcScale scale, double shown) => shown / Factor(scale);

    public static double FromMilliequivalents(this HardnessUnit unit, double meqPerLitre) => meqPerLitre * Factor(unit);

    public static double ToMilliequivalents(this HardnessUnit unit, double shown) => shown / Factor(unit);

    private static double Factor(EcScale scale) => scale switch
    {
        EcScale.MillisiemensPerCm => 1e-3,
        EcScale.Ppm500 => 0.5,
        EcScale.Ppm640 => 0.64,
        EcScale.Ppm700 => 0.7,
        _ => throw new ArgumentOutOfRangeException(nameof(scale), scale, null),
    };

    private static double Factor(HardnessUnit unit) => unit switch
    {
        HardnessUnit.GermanDegree => CaCO3PerMilliequivalent / CaCO3PerGermanDegree,
        HardnessUnit.MilligramsPerLitreCaCO3 => CaCO3PerMilliequivalent,
        _ => throw new ArgumentOutOfRangeException(nameof(unit), unit, null),
    };
}
