using Rootwater.Growing;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Ledger.Desks;

/// <summary>How long the cupboard lasts, what to buy by when, and what feeding costs.</summary>
public interface ISupplyDesk
{
    /// <summary>The cupboard looked ahead from today. Worked out once for each state of the ledger; the first look of a day takes a second or so.</summary>
    Task<SupplySheet> AheadAsync(CancellationToken cancel = default);

    /// <summary>The same for a page: what is in hand, at once, and whether it is behind the ledger and being worked out again.</summary>
    Task<InHand<SupplySheet>> LookAsync(CancellationToken cancel = default);

    /// <summary>Says how many days an order of a product takes (0 to 365).</summary>
    /// <exception cref="EntryException">Names the field.</exception>
    Task SetLeadAsync(Guid productId, int days, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Says how the cupboard is kept.</summary>
    Task SetWaysAsync(SupplyWays ways, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Some of a lot went without feeding anything.</summary>
    /// <param name="lotId">The lot.</param>
    /// <param name="grams">Above 0, no more than is left.</param>
    /// <param name="why">In the grower's words.</param>
    /// <param name="idempotencyKey">Made by whoever enters it.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    Task SpillAsync(Guid lotId, double grams, string? why = null, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>A package was opened on a day.</summary>
    Task OpenLotAsync(Guid lotId, DateOnly on, Guid? idempotencyKey = null, CancellationToken cancel = default);
}

/// <summary>How the cupboard is kept.</summary>
/// <param name="UsualLeadDays">Days from order to cupboard where nothing is said of a product, 0 to 365.</param>
/// <param name="BuyForDays">Days a bought package should last, 7 to 1100.</param>
/// <param name="RoomHumidityPercent">Relative humidity where it stands, 0 to 100 %.</param>
public sealed record SupplyWays(int UsualLeadDays = 10, int BuyForDays = 180, double RoomHumidityPercent = 65);

/// <summary>The cupboard looked ahead.</summary>
public sealed record SupplySheet
{
    public required DateOnly AsOf { get; init; }

    /// <summary>The last day looked at.</summary>
    public required DateOnly Until { get; init; }
    public required SupplyWays Ways { get; init; }

    /// <summary>First to be ordered first.</summary>
    public required IReadOnlyList<ProductSupply> Products { get; init; }

    /// <summary>What to buy, most urgent first.</summary>
    public required IReadOnlyList<ToBuy> Shopping { get; init; }
    public required CostOfFeeding Cost { get; init; }

    /// <summary>What was drawn, and what was not foreseen, in sentences.</summary>
    public required IReadOnlyList<string> Basis { get; init; }
}

/// <summary>How long one product lasts.</summary>
public sealed record ProductSupply
{
    public required Guid ProductId { get; init; }
    public required string Name { get; init; }

    /// <summary>Kilograms per litre; null for a solid.</summary>
    public required double? DensityKgPerLitre { get; init; }

    /// <summary>In lots that may still be used.</summary>
    public required double GramsLeft { get; init; }

    /// <summary>In lots past their date.</summary>
    public required double GramsPastDate { get; init; }

    /// <summary>Middle and 10 to 90 % of the draws.</summary>
    public required Expected GramsPerMonth { get; init; }

    /// <summary>One chance in ten that it is out before this day; null beyond what was looked at.</summary>
    public required DateOnly? OutFrom { get; init; }
    public required DateOnly? OutInTheMiddle { get; init; }

    /// <summary>One chance in ten that it lasts beyond this day.</summary>
    public required DateOnly? OutBy { get; init; }

    /// <summary>0 to 1: that it is out by <see cref="SupplySheet.Until"/>.</summary>
    public required double ChanceOfBeingOut { get; init; }

    /// <summary>So that nine times in ten it comes in time; null where it is not out in sight.</summary>
    public required DateOnly? OrderBy { get; init; }
    public required int LeadDays { get; init; }

    /// <summary>The lead time was said of this very product.</summary>
    public required bool LeadIsItsOwn { get; init; }
    public required double GramsLikelyWasted { get; init; }

    /// <summary>Relative humidity above which it draws water, %; null where it draws none that is known of.</summary>
    public required double? DrawsWaterAbovePercent { get; init; }
    public required decimal? PricePerKg { get; init; }
    public required IReadOnlyList<LotSupply> Lots { get; init; }

    /// <summary>Spilt over the last year, grams.</summary>
    public required double GramsSpilt { get; init; }
    public required string Words { get; init; }
}

/// <summary>A lot as it stands.</summary>
/// <param name="Lot">The package.</param>
/// <param name="IsPastDate">It may not be used any more.</param>
/// <param name="Thinned">How much less of everything a gram holds than when it was opened, a share with its band.</param>
public sealed record LotSupply(Lot Lot, bool IsPastDate, Expected Thinned);

/// <summary>One line of the shopping list.</summary>
/// <param name="ProductId">What.</param>
/// <param name="Name">Its name.</param>
/// <param name="OrderBy">By when.</param>
/// <param name="Grams">So much lasts as long as asked, nine times in ten.</param>
/// <param name="Price">At the price last paid; null where none is known.</param>
/// <param name="Overdue">The day has passed: expect to be without.</param>
public sealed record ToBuy(Guid ProductId, string Name, DateOnly OrderBy, double Grams, decimal? Price, bool Overdue);

/// <summary>What feeding costs, over the cans of the last two years.</summary>
/// <param name="PerCan">Mean of a can.</param>
/// <param name="PerLitre">Of a litre of feed.</param>
/// <param name="PerPlantAndFeed">Of one feed of one plant.</param>
/// <param name="Months">Months with cans in them, newest first.</param>
/// <param name="Unpriced">Products used without a price: their share is missing.</param>
public sealed record CostOfFeeding(decimal PerCan, decimal PerLitre, decimal PerPlantAndFeed, IReadOnlyList<CostOfMonth> Months, IReadOnlyList<string> Unpriced);

/// <param name="Month">Its first day.</param>
/// <param name="Cost">Of all its cans.</param>
/// <param name="PerPlant">For each plant that was fed in it.</param>
public sealed record CostOfMonth(DateOnly Month, decimal Cost, decimal PerPlant);
