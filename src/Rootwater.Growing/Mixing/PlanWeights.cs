namespace Rootwater.Growing.Mixing;

/// <summary>How bands are traded against one another when not all can be met. Hard limits are never traded.</summary>
/// <remarks>
/// A want costs its weight for each half-width of its band away from the ideal, and <see cref="OutsideFactor"/> times that for
/// what lies outside. The ratios are ours (common practice, no source): leaving any band by 0.1 % of its half-width costs as much as
/// standing a whole half-width off an ideal, so bands are met first and ideals are approached with what freedom is left.
/// </remarks>
internal static class PlanWeights
{
    /// <summary>Outside a band, per half-width.</summary>
    public const double OutsideFactor = 1000;

    /// <summary>Strength and pH decide whether a can is safe to pour; a single element can wait a week.</summary>
    public const double Ec = 3, PH = 3, TotalNitrogen = 3;

    /// <summary>Of an oversaturation of one unit in the finished can: worse than any band.</summary>
    public const double Saturation = 5000;

    /// <summary>For each product weighed: a tie-break, worth a tenth of a half-width of one element.</summary>
    public const double ProductUsed = 0.1;

    /// <summary>For each concentrate that must be made first: worth it to get back into a band, not to get nearer to an ideal.</summary>
    public const double Concentrate = 3;

    /// <summary>For an acid and a base in one can, which work against each other: worth a concentrate or two to avoid, not a band.</summary>
    public const double AcidAndBase = 10;

    /// <summary>For an acid that microbes eat within days (citric, acetic): the can must be poured at once and its pH returns at the root. Worth it to get back into a band only.</summary>
    public const double AgeingAcid = 3;

    /// <summary>For the whole cost of a can at <see cref="TypicalCostPerLitre"/>: a tie-break below the number of products.</summary>
    public const double Cost = 0.02;
    public const double TypicalCostPerLitre = 0.02;

    /// <summary>For opening the newest lot in place of the oldest: the last tie-break.</summary>
    public const double NewestLot = 0.002;

    /// <summary>For pouring an older can's rest away in place of using it, per can.</summary>
    public const double LeftoverUnused = 0.02;

    /// <summary>The weight of one nutrient.</summary>
    public static double Of(Nutrient nutrient) => nutrient switch
    {
        Nutrient.Potassium or Nutrient.Calcium or Nutrient.Magnesium or Nutrient.Phosphorus => 1,
        Nutrient.NitrateNitrogen or Nutrient.AmmoniumNitrogen or Nutrient.UreaNitrogen => 1,
        Nutrient.Sodium or Nutrient.Chloride => 1,
        Nutrient.Sulfur or Nutrient.Iron or Nutrient.Silicon => 0.5,
        _ => 0.3,
    };
}
