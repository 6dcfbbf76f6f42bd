using Rootwater.Chemistry.Formulas;

namespace Rootwater.Chemistry.Quantities;

/// <summary>The units in which the trade states hardness and alkalinity. They share their units and are different quantities:
/// <see cref="Hardness"/> counts calcium and magnesium, <see cref="Alkalinity"/> the acid it takes to use up the buffer; neither is ever converted into the other.</summary>
public enum CarbonateScale
{
    /// <summary>Milligrams per litre, counted as CaCO3.</summary>
    MgPerLitreAsCaCO3,

    /// <summary>Milliequivalents per litre.</summary>
    MeqPerLitre,

    /// <summary>German degrees (°dH, dKH): 10 mg/L counted as CaO.</summary>
    GermanDegrees,

    /// <summary>French degrees (°fH): 10 mg/L counted as CaCO3.</summary>
    FrenchDegrees,

    /// <summary>English degrees (°e, Clark): one grain of CaCO3 per imperial gallon.</summary>
    EnglishDegrees,

    /// <summary>Grains of CaCO3 per US gallon.</summary>
    GrainsPerUsGallon,
}

/// <summary>What one unit of each <see cref="CarbonateScale"/> is.</summary>
public static class CarbonateScales
{
    private static readonly double s_gramsPerMoleCaCO3 = Formula.Parse("CaCO3").GramsPerMole;
    private static readonly double s_gramsPerMoleCaO = Formula.Parse("CaO").GramsPerMole;

    /// <summary>Milliequivalents per litre in one unit of the scale (one mole of CaCO3 is two equivalents).</summary>
    public static double MeqPerLitreInOne(this CarbonateScale scale) => 2 / s_gramsPerMoleCaCO3 * scale switch
    {
        CarbonateScale.MgPerLitreAsCaCO3 => 1,
        CarbonateScale.MeqPerLitre => s_gramsPerMoleCaCO3 / 2,
        CarbonateScale.GermanDegrees => 10 * s_gramsPerMoleCaCO3 / s_gramsPerMoleCaO,
        CarbonateScale.FrenchDegrees => 10,
        CarbonateScale.EnglishDegrees => UsCustomary.MilligramsPerGrain / UsCustomary.LitresPerImperialGallon,
        CarbonateScale.GrainsPerUsGallon => UsCustomary.MilligramsPerGrain / UsCustomary.LitresPerGallon,
        _ => throw new ArgumentOutOfRangeException(nameof(scale), scale, "Not a known scale."),
    };
}

/// <summary>Calcium and magnesium together (GH, total hardness). For the buffer against acid use <see cref="Alkalinity"/>.</summary>
public readonly record struct Hardness : IComparable<Hardness>
{
    private Hardness(double meqPerLitre) => MeqPerLitre = meqPerLitre;

    /// <summary>Milliequivalents of calcium and magnesium per litre.</summary>
    public double MeqPerLitre { get; }

    /// <summary>Millimoles of calcium and magnesium per litre.</summary>
    public double MmolPerLitre => MeqPerLitre / 2;

    /// <summary>From a value on a scale.</summary>
    public static Hardness From(double value, CarbonateScale scale) => new(value * scale.MeqPerLitreInOne());

    /// <summary>From millimoles of calcium and magnesium per litre.</summary>
    public static Hardness FromMmolPerLitre(double mmolPerLitre) => new(mmolPerLitre * 2);

    /// <summary>The value on a scale.</summary>
    public double In(CarbonateScale scale) => MeqPerLitre / scale.MeqPerLitreInOne();

    /// <inheritdoc/>
    public int CompareTo(Hardness other) => MeqPerLitre.CompareTo(other.MeqPerLitre);
}

/// <summary>The acid a water takes before its buffer is used up (KH, carbonate hardness as sold in drops). For calcium and magnesium use <see cref="Hardness"/>.</summary>
public readonly record struct Alkalinity : IComparable<Alkalinity>
{
    private static readonly double s_gramsPerMoleBicarbonate =
        Formula.Parse("KHCO3").GramsPerMole * (1 - Formula.Parse("KHCO3").MassFraction("K"));

    private Alkalinity(double meqPerLitre) => MeqPerLitre = meqPerLitre;

    /// <summary>Milliequivalents per litre.</summary>
    public double MeqPerLitre { get; }

    /// <summary>Milligrams per litre if all of it were bicarbonate (HCO3-).</summary>
    public double MgBicarbonatePerLitre => MeqPerLitre * s_gramsPerMoleBicarbonate;

    /// <summary>From a value on a scale.</summary>
    public static Alkalinity From(double value, CarbonateScale scale) => new(value * scale.MeqPerLitreInOne());

    /// <summary>From milligrams of bicarbonate (HCO3-) per litre.</summary>
    public static Alkalinity FromMgBicarbonatePerLitre(double mgPerLitre) => new(mgPerLitre / s_gramsPerMoleBicarbonate);

    /// <summary>The value on a scale.</summary>
    public double In(CarbonateScale scale) => MeqPerLitre / scale.MeqPerLitreInOne();

    /// <inheritdoc/>
    public int CompareTo(Alkalinity other) => MeqPerLitre.CompareTo(other.MeqPerLitre);
}
