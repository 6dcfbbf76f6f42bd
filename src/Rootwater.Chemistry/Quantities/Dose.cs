namespace Rootwater.Chemistry.Quantities;

/// <summary>Mass of a product in a volume of feed. For a liquid measured by volume use <see cref="VolumeDose"/>.</summary>
public readonly record struct MassDose
{
    private const double GramsPerLitreInOuncePer100Gallons = UsCustomary.GramsPerOunce / (100 * UsCustomary.LitresPerGallon);

    private MassDose(double gramsPerLitre) => GramsPerLitre = gramsPerLitre;

    /// <summary>Grams of product per litre of feed.</summary>
    public double GramsPerLitre { get; }

    /// <summary>Avoirdupois ounces of product per 100 US gallons of feed.</summary>
    public double OuncesPer100Gallons => GramsPerLitre / GramsPerLitreInOuncePer100Gallons;

    /// <summary>From grams per litre.</summary>
    public static MassDose FromGramsPerLitre(double gramsPerLitre) => new(gramsPerLitre);

    /// <summary>From avoirdupois ounces per 100 US gallons.</summary>
    public static MassDose FromOuncesPer100Gallons(double ounces) => new(ounces * GramsPerLitreInOuncePer100Gallons);

    /// <summary>The dose that brings this much of an element of which the product holds <paramref name="massFraction"/> (0 to 1).</summary>
    public static MassDose ForElement(double mgPerLitre, double massFraction) => new(mgPerLitre / 1000 / massFraction);

    /// <summary>mg/L of an element of which the product holds <paramref name="massFraction"/> (0 to 1).</summary>
    public double ElementMgPerLitre(double massFraction) => GramsPerLitre * 1000 * massFraction;
}

/// <summary>Volume of a liquid product in a volume of feed. For anything weighed use <see cref="MassDose"/>.</summary>
public readonly record struct VolumeDose
{
    private const double LitresIn100Gallons = 100 * UsCustomary.LitresPerGallon;

    private VolumeDose(double millilitresPerLitre) => MillilitresPerLitre = millilitresPerLitre;

    /// <summary>Millilitres of product per litre of feed.</summary>
    public double MillilitresPerLitre { get; }

    /// <summary>Millilitres of product per 100 US gallons of feed.</summary>
    public double MillilitresPer100Gallons => MillilitresPerLitre * LitresIn100Gallons;

    /// <summary>US fluid ounces of product per 100 US gallons of feed.</summary>
    public double FluidOuncesPer100Gallons => MillilitresPer100Gallons / UsCustomary.MillilitresPerFluidOunce;

    /// <summary>From millilitres per litre.</summary>
    public static VolumeDose FromMillilitresPerLitre(double millilitresPerLitre) => new(millilitresPerLitre);

    /// <summary>From millilitres per 100 US gallons.</summary>
    public static VolumeDose FromMillilitresPer100Gallons(double millilitres) => new(millilitres / LitresIn100Gallons);

    /// <summary>From US fluid ounces per 100 US gallons.</summary>
    public static VolumeDose FromFluidOuncesPer100Gallons(double fluidOunces) =>
        FromMillilitresPer100Gallons(fluidOunces * UsCustomary.MillilitresPerFluidOunce);

    /// <summary>The same dose by mass, for a liquid of this density.</summary>
    public MassDose ToMass(double densityKgPerLitre) => MassDose.FromGramsPerLitre(MillilitresPerLitre * densityKgPerLitre);
}
