using Rootwater.Chemistry.Quantities;

namespace Rootwater.Growing.Waters;

/// <summary>The units of water reports. There is no bare "ppm" among them: for a dissolved substance it is mg/L, for an EC it must say which scale.</summary>
public enum WaterUnit
{
    /// <summary>mg/L of the ion (SiO2 for silica, the element for boron and metals).</summary>
    MgPerLitre,
    MicrogramsPerLitre,

    /// <summary>mg/L of the element: nitrate as N, phosphate as P, sulfate as S, silica as Si.</summary>
    MgPerLitreAsElement,
    MgPerLitreAsCaCO3,
    MmolPerLitre,
    MeqPerLitre,

    /// <summary>°dH, dGH, dKH.</summary>
    GermanDegrees,
    FrenchDegrees,
    EnglishDegrees,
    GrainsPerUsGallon,
    MicrosiemensPerCm,
    MillisiemensPerCm,
    MeterPpm500,
    MeterPpm640,
    MeterPpm700,
    Celsius,
    Fahrenheit,

    /// <summary>pH has no unit.</summary>
    None,
}

/// <summary>One line of a report: what, how much, in which unit.</summary>
public sealed record WaterReading(WaterQuantity Quantity, double Value, WaterUnit Unit)
{
    /// <summary>One standard deviation, relative; null for what is usual for the kind of reading.</summary>
    public double? RelativeError { get; init; }
}

/// <summary>Conversions from report units.</summary>
public static class WaterUnits
{
    /// <summary>Whether a quantity can be stated in a unit.</summary>
    public static bool Fits(WaterQuantity quantity, WaterUnit unit) => quantity switch
    {
        WaterQuantity.PH => unit == WaterUnit.None,
        WaterQuantity.Temperature => unit is WaterUnit.Celsius or WaterUnit.Fahrenheit,
        WaterQuantity.Conductivity => ConductivityScaleOf(unit) is not null,
        WaterQuantity.Hardness => CarbonateScaleOf(unit) is not null || unit == WaterUnit.MmolPerLitre,
        WaterQuantity.Alkalinity => CarbonateScaleOf(unit) is not null || unit == WaterUnit.MmolPerLitre,
        WaterQuantity.Bicarbonate => unit is WaterUnit.MgPerLitre or WaterUnit.MmolPerLitre or WaterUnit.MeqPerLitre or WaterUnit.MgPerLitreAsCaCO3,
        WaterQuantity.Calcium or WaterQuantity.Magnesium => IsConcentration(unit) || CarbonateScaleOf(unit) is not null,
        _ => IsConcentration(unit) && (unit != WaterUnit.MeqPerLitre || WaterIon.Find(quantity)!.Charge != 0),
    };

    /// <summary>The units a quantity may be stated in, for messages.</summary>
    public static string Accepted(WaterQuantity quantity) => quantity switch
    {
        WaterQuantity.PH => "no unit",
        WaterQuantity.Temperature => "°C or °F",
        WaterQuantity.Conductivity => "µS/cm, mS/cm, or meter ppm with its scale: 0.5, 0.64 or 0.7",
        WaterQuantity.Hardness or WaterQuantity.Alkalinity => "mg/L CaCO3, meq/L, mmol/L, °dH (dGH, dKH), °fH, °e or grains per US gallon",
        WaterQuantity.Bicarbonate => "mg/L, mmol/L, meq/L or mg/L CaCO3",
        _ => "mg/L, µg/L, mmol/L, meq/L, or mg/L as the element (as N, as P …)",
    };

    /// <summary>A dissolved substance in mmol/L.</summary>
    /// <exception cref="ArgumentException">The unit does not fit it.</exception>
    public static double MmolPerLitre(WaterIon ion, double value, WaterUnit unit) => unit switch
    {
        WaterUnit.MgPerLitre => value / ion.IonGramsPerMole,
        WaterUnit.MicrogramsPerLitre => value / 1000 / ion.IonGramsPerMole,
        WaterUnit.MgPerLitreAsElement => value / ion.ElementGramsPerMole,
        WaterUnit.MmolPerLitre => value,
        WaterUnit.MeqPerLitre => value / Math.Abs(ion.Charge),
        _ when CarbonateScaleOf(unit) is { } scale && ion.Charge != 0 => value * scale.MeqPerLitreInOne() / Math.Abs(ion.Charge),
        _ => throw new ArgumentException($"{ion.Quantity} cannot be stated in {unit}.", nameof(unit)),
    };

    /// <summary>Alkalinity in meq/L; "mmol/L" of acid capacity is meq/L, as laboratories mean it.</summary>
    public static double AlkalinityMeqPerLitre(WaterQuantity quantity, double value, WaterUnit unit) => (quantity, unit) switch
    {
        (WaterQuantity.Bicarbonate, WaterUnit.MgPerLitre) => Alkalinity.FromMgBicarbonatePerLitre(value).MeqPerLitre,
        (_, WaterUnit.MmolPerLitre) => value,
        _ => Alkalinity.From(value, CarbonateScaleOf(unit)!.Value).MeqPerLitre,
    };

    /// <summary>Hardness in mmol/L of calcium and magnesium.</summary>
    public static double HardnessMmolPerLitre(double value, WaterUnit unit) =>
        unit == WaterUnit.MmolPerLitre ? value : Hardness.From(value, CarbonateScaleOf(unit)!.Value).MmolPerLitre;

    /// <summary>EC in µS/cm.</summary>
    public static double MicrosiemensPerCm(double value, WaterUnit unit) => ElectricalConductivity.From(value, ConductivityScaleOf(unit)!.Value).MicrosiemensPerCm;

    internal static CarbonateScale? CarbonateScaleOf(WaterUnit unit) => unit switch
    {
        WaterUnit.MgPerLitreAsCaCO3 => CarbonateScale.MgPerLitreAsCaCO3,
        WaterUnit.MeqPerLitre => CarbonateScale.MeqPerLitre,
        WaterUnit.GermanDegrees => CarbonateScale.GermanDegrees,
        WaterUnit.FrenchDegrees => CarbonateScale.FrenchDegrees,
        WaterUnit.EnglishDegrees => CarbonateScale.EnglishDegrees,
        WaterUnit.GrainsPerUsGallon => CarbonateScale.GrainsPerUsGallon,
        _ => null,
    };

    private static ConductivityScale? ConductivityScaleOf(WaterUnit unit) => unit switch
    {
        WaterUnit.MicrosiemensPerCm => ConductivityScale.MicrosiemensPerCm,
        WaterUnit.MillisiemensPerCm => ConductivityScale.MillisiemensPerCm,
        WaterUnit.MeterPpm500 => ConductivityScale.Ppm500,
        WaterUnit.MeterPpm640 => ConductivityScale.Ppm640,
        WaterUnit.MeterPpm700 => ConductivityScale.Ppm700,
        _ => null,
    };

    private static bool IsConcentration(WaterUnit unit) => unit is WaterUnit.MgPerLitre or WaterUnit.MicrogramsPerLitre or WaterUnit.MgPerLitreAsElement or WaterUnit.MmolPerLitre or WaterUnit.MeqPerLitre;
}
