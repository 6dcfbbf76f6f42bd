namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>A can that was mixed, as the cupboard sees it.</summary>
/// <param name="On">When.</param>
/// <param name="Grams">Grams of each product that went in.</param>
/// <param name="Litres">How much was mixed.</param>
/// <param name="Plants">How many plants it fed.</param>
/// <param name="Fed">Which; null where that is not known.</param>
public sealed record CanUse(DateOnly On, IReadOnlyDictionary<Guid, double> Grams, double Litres, int Plants, IReadOnlyCollection<Guid>? Fed = null);

/// <summary>Grams that left the cupboard without feeding anything: spilt, caked, given away.</summary>
public sealed record Loss(DateOnly On, Guid ProductId, double Grams);

/// <summary>What the outlook of the cupboard needs.</summary>
public sealed record SupplyRequest
{
    public required IReadOnlyList<SupplyItem> Cupboard { get; init; }

    /// <summary>Cans of the past, for how often and how much.</summary>
    public required IReadOnlyList<CanUse> Past { get; init; }

    /// <summary>Losses of the past: they go on as they went.</summary>
    public IReadOnlyList<Loss> Losses { get; init; } = [];

    /// <summary>Cans already planned; after the last of them the past is drawn from.</summary>
    public IReadOnlyList<CanUse> Planned { get; init; } = [];

    /// <summary>The coming rounds from who is due; null draws whole cans of the past instead.</summary>
    public ComingRounds? Rounds { get; init; }

    /// <summary>How strong the coming cans are against the past (1.2 is a fifth more plants); from the growth of the bench.</summary>
    public double Growth { get; init; } = 1;
    public required DateOnly Today { get; init; }

    /// <summary>How far to look, days (30 to 1100).</summary>
    public int HorizonDays { get; init; } = 400;

    /// <summary>Days from order to cupboard, by product; <see cref="UsualLeadDays"/> for the others.</summary>
    public IReadOnlyDictionary<Guid, int> LeadDays { get; init; } = new Dictionary<Guid, int>();
    public int UsualLeadDays { get; init; } = 10;

    /// <summary>A bought package should last so many days.</summary>
    public int BuyForDays { get; init; } = 180;

    /// <summary>Of the air where the cupboard stands, 0 to 100 %.</summary>
    public double RoomHumidityPercent { get; init; } = 65;

    /// <summary>How often the coming months are drawn.</summary>
    public int Draws { get; init; } = 400;
    public int Seed { get; init; } = 1;

    internal void Check()
    {
        void Within(string field, double value, double low, double high)
        {
            if (!(value >= low && value <= high))
            {
                throw new ArgumentException(FormattableString.Invariant($"{field}: {value} cannot be used; expected {low} to {high}."));
            }
        }

        Within("horizonDays", HorizonDays, 30, 1100);
        Within("growth", Growth, 0, 20);
        Within("draws", Draws, 20, 20000);
        Within("buyForDays", BuyForDays, 1, 2000);
        Within("roomHumidityPercent", RoomHumidityPercent, 0, 100);
        Within("usualLeadDays", UsualLeadDays, 0, 365);
        foreach (var use in Past.Concat(Planned))
        {
            Within("litres", use.Litres, 0.01, 10000);
            Within("plants", use.Plants, 0, 100000);
            foreach (var grams in use.Grams.Values)
            {
                Within("grams", grams, 0, 1e6);
            }
        }
    }
}

/// <summary>How long one product lasts.</summary>
public sealed record ProductOutlook
{
    public required Product Product { get; init; }

    /// <summary>Grams in lots that may still be used.</summary>
    public required double GramsLeft { get; init; }

    /// <summary>Grams in lots past their date.</summary>
    public required double GramsPastDate { get; init; }

    /// <summary>Grams a month: middle and 10 to 90 % of the draws.</summary>
    public required Expected GramsPerMonth { get; init; }

    /// <summary>The day it runs out: early (one chance in ten before), middle, late (one in ten after). Null ends lie beyond the horizon.</summary>
    public required (DateOnly? Early, DateOnly? Middle, DateOnly? Late) RunsOut { get; init; }

    /// <summary>Chance that it runs out within the horizon.</summary>
    public required double ChanceWithinHorizon { get; init; }

    /// <summary>By when to order, so that nine times in ten it comes in time; null where it does not run out in sight.</summary>
    public required DateOnly? OrderBy { get; init; }

    /// <summary>Grams that will probably pass their date unused.</summary>
    public required double GramsLikelyWasted { get; init; }

    /// <summary>How much thinner a gram is by now, for lots that draw water; the thickest band of its lots.</summary>
    public required Expected Thinned { get; init; }
    public required string Words { get; init; }
}

/// <summary>One line of the shopping list.</summary>
/// <param name="Product">What.</param>
/// <param name="OrderBy">By when.</param>
/// <param name="Grams">So much lasts for the asked time nine times in ten.</param>
/// <param name="Price">At the price last paid; null where none is known.</param>
/// <param name="Overdue">The day has passed: expect to be without.</param>
public sealed record ShoppingLine(Product Product, DateOnly OrderBy, double Grams, decimal? Price, bool Overdue);

/// <summary>What feeding costs.</summary>
/// <param name="PerCan">Mean cost of a can.</param>
/// <param name="PerLitre">Of a litre of feed.</param>
/// <param name="PerPlantAndFeed">Of one feed of one plant.</param>
/// <param name="PerMonth">By months with cans in them, in order.</param>
/// <param name="Unpriced">Products used without a price: their share is missing.</param>
public sealed record FeedingCost(decimal PerCan, decimal PerLitre, decimal PerPlantAndFeed, IReadOnlyList<(DateOnly Month, decimal Cost, decimal PerPlant)> PerMonth, IReadOnlyList<string> Unpriced);

/// <summary>The cupboard looked ahead.</summary>
public sealed record SupplyOutlook(IReadOnlyList<ProductOutlook> Products, IReadOnlyList<ShoppingLine> Shopping, FeedingCost Cost);
