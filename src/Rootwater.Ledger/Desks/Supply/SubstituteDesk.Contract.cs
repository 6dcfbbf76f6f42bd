using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>When a product is out: what changes without it, and what single product bought would serve best. Long searches report and can be cancelled.</summary>
public interface ISubstituteDesk
{
    /// <summary>Plans with the product and with what is left, and says what changes for whom.</summary>
    /// <param name="productId">What is out, or is thought away.</param>
    /// <param name="choices">For when, and how hard to search.</param>
    /// <param name="progress">Told how far it is.</param>
    /// <param name="cancel">Stops it promptly, by exception.</param>
    /// <exception cref="EntryException">No such product, or nobody to plan for.</exception>
    Task<WithoutSheet> WithoutAsync(Guid productId, SubstituteChoices? choices = null, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Which single product, bought, would leave the least unmet.</summary>
    /// <param name="without">Think this product away first; null for the cupboard as it is.</param>
    /// <param name="choices">For when, and how hard to search.</param>
    /// <param name="progress">Told how far it is.</param>
    /// <param name="cancel">Stops it promptly, by exception.</param>
    Task<PurchaseSheet> BuyAsync(Guid? without = null, SubstituteChoices? choices = null, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Two products side by side at the same amount of a nutrient or at the same EC.</summary>
    /// <exception cref="EntryException">Names the field.</exception>
    Task<BrandsSheet> CompareAsync(CompareBrands asked, CancellationToken cancel = default);
}

/// <summary>For whom and how hard.</summary>
public sealed record SubstituteChoices
{
    /// <summary>Plan for those due on this day; null: today, or the next day within a month on which anybody is.</summary>
    public DateOnly? AsOf { get; init; }

    /// <summary>1 to 6.</summary>
    public int MostCans { get; init; } = 2;

    /// <summary>Of each search, 0.2 to 60 s.</summary>
    public TimeSpan TimeLimit { get; init; } = TimeSpan.FromSeconds(2);
}

/// <summary>A plan without a product beside the plan with it.</summary>
public sealed record WithoutSheet
{
    public required Guid ProductId { get; init; }
    public required string Name { get; init; }
    public required DateOnly AsOf { get; init; }

    /// <summary>The plan with it uses it at all.</summary>
    public required bool IsUsed { get; init; }

    /// <summary>Something can be mixed without it.</summary>
    public required bool CanBeMixed { get; init; }
    public required IReadOnlyList<GroupWithout> Groups { get; init; }

    /// <summary>Of all cans; null where there is no plan.</summary>
    public required decimal? CostWith { get; init; }
    public required decimal? CostWithout { get; init; }

    /// <summary>Gram for gram, nearest first, for whoever mixes by hand.</summary>
    public required IReadOnlyList<NearestPart> Nearest { get; init; }
    public required IReadOnlyList<string> Words { get; init; }
}

/// <summary>What one group gets with and without.</summary>
public sealed record GroupWithout
{
    public required string Group { get; init; }

    /// <summary>"7 Cattleya walkeriana", in walking order.</summary>
    public required IReadOnlyList<string> Plants { get; init; }

    /// <summary>Every element and form that is in either can, mg/L; null where the group gets none.</summary>
    public required IReadOnlyList<ElementWithout> Elements { get; init; }

    /// <summary>µS/cm at 25 °C.</summary>
    public required double? EcWith { get; init; }
    public required double? EcWithout { get; init; }
    public required double? PHWith { get; init; }
    public required double? PHWithout { get; init; }

    /// <summary>Wants met with the product and not without: these plants should not get it.</summary>
    public required IReadOnlyList<UnmetWant> Broken { get; init; }
}

/// <summary>An element or a form of one, mg/L.</summary>
/// <param name="Name">"nitrate nitrogen".</param>
/// <param name="With">Null without a can.</param>
/// <param name="Without">Null without a can.</param>
/// <param name="Moves">By a tenth or more.</param>
public sealed record ElementWithout(string Name, double? With, double? Without, bool Moves);

/// <summary>What takes the place of a gram.</summary>
/// <param name="Words">"0.62 g potassium sulfate with 0.4 g …".</param>
/// <param name="Covers">Share of what the missing one does that is kept, 0 to 1.</param>
/// <param name="ChangesPH">The pH has to be trimmed anew.</param>
public sealed record NearestPart(string Words, double Covers, bool ChangesPH);

/// <summary>What to buy.</summary>
/// <param name="AsOf">For those due on this day.</param>
/// <param name="Unmet">As the cupboard is now.</param>
/// <param name="Offers">How many products were tried.</param>
/// <param name="Options">Those that help, best first.</param>
/// <param name="Words">In a sentence.</param>
public sealed record PurchaseSheet(DateOnly AsOf, IReadOnlyList<UnmetWant> Unmet, int Offers, IReadOnlyList<PurchaseLine> Options, string Words);

/// <param name="ProductId">Of a product of the cupboard that is out; null for a salt that is not in it.</param>
/// <param name="Name">What to ask for.</param>
/// <param name="Unmet">Wants left unmet with it.</param>
/// <param name="Cost">Of the cans with it; null where no plan or its price is unknown.</param>
/// <param name="Words">In a sentence.</param>
public sealed record PurchaseLine(Guid? ProductId, string Name, IReadOnlyList<UnmetWant> Unmet, decimal? Cost, string Words);

/// <summary>What to compare. Exactly one of nutrient and EC.</summary>
public sealed record CompareBrands
{
    /// <summary>A product of the cupboard, or one on its way in.</summary>
    public required Guid One { get; init; }
    public required Guid Other { get; init; }

    /// <summary>At the same amount of this.</summary>
    public Nutrient? Nutrient { get; init; }
    public double? MgPerLitre { get; init; }

    /// <summary>At the same EC, µS/cm at 25 °C.</summary>
    public double? EcMicrosiemensPerCm { get; init; }

    /// <summary>Which water; null for the softest with a report.</summary>
    public Guid? WaterId { get; init; }
}

/// <summary>Two products side by side.</summary>
public sealed record BrandsSheet(string Water, BrandLine One, BrandLine Other, IReadOnlyList<BrandNutrient> Nutrients, IReadOnlyList<string> Words);

/// <param name="Name">Which.</param>
/// <param name="GramsPerLitre">Dosed so.</param>
/// <param name="EcMicrosiemensPerCm">At 25 °C.</param>
/// <param name="PH">Of the solution.</param>
/// <param name="CostPerLitre">Null without a price.</param>
public sealed record BrandLine(string Name, double GramsPerLitre, double EcMicrosiemensPerCm, double PH, decimal? CostPerLitre);

/// <summary>mg/L of one nutrient from each.</summary>
public sealed record BrandNutrient(string Name, double One, double Other, bool Differs);
