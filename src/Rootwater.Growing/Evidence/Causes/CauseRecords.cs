namespace Rootwater.Growing.Evidence.Causes;

/// <summary>What the ledger knows of an ailing plant. Everything may be unknown (null), and then says nothing.</summary>
public sealed record CauseRecords
{
    /// <summary>Age of the leaf, days.</summary>
    public double? LeafAgeDays { get; init; }

    /// <summary>True where it was there on arrival, so that it is at least as old as <see cref="LeafAgeDays"/>.</summary>
    public bool LeafAgeIsLeast { get; init; }

    /// <summary>Ages at which sister leaves of the plant or its kind were lost, days.</summary>
    public IReadOnlyList<double> SisterLosses { get; init; } = [];

    /// <summary>Leaves lost over the last year, this one included.</summary>
    public int? LostLastYear { get; init; }

    /// <summary>New leaves over the last year.</summary>
    public int? NewLastYear { get; init; }

    /// <summary>Given over the last weeks as a share of the want, by element ("K": 0.3). Needs the weeks in <see cref="SupplyWeeks"/>.</summary>
    public IReadOnlyDictionary<string, double> Supply { get; init; } = new Dictionary<string, double>();

    /// <summary>Mean of what was poured over the same weeks as a share of the most it may hold, by element ("Na": 0.4).</summary>
    public IReadOnlyDictionary<string, double> OfCeiling { get; init; } = new Dictionary<string, double>();

    /// <summary>Over how many weeks <see cref="Supply"/> was summed.</summary>
    public double SupplyWeeks { get; init; } = 12;

    /// <summary>Ammonium and urea as a share of all nitrogen given.</summary>
    public double? AmmoniumShare { get; init; }

    /// <summary>EC of the reservoir or run-off over that of the feed.</summary>
    public double? ReservoirOverFeed { get; init; }

    /// <summary>pH at the root, measured or (said so in words) forecast.</summary>
    public double? RootPH { get; init; }

    /// <summary>True where <see cref="RootPH"/> was forecast: it then counts with the causes, but is no answer to what the pen shows.</summary>
    public bool RootPHIsForecast { get; init; }

    /// <summary>Its window at the root.</summary>
    public (double Low, double High)? RootPHWindow { get; init; }

    /// <summary>Lowest temperature in the root zone or air over the last month, °C.</summary>
    public double? LowestCelsius { get; init; }

    /// <summary>Days above its shade limit over the last two weeks.</summary>
    public int? DaysAboveShadeLimit { get; init; }

    /// <summary>Days the pot stood dry over the last month.</summary>
    public double? DaysDry { get; init; }

    /// <summary>Days since it was repotted.</summary>
    public double? DaysSinceRepot { get; init; }

    /// <summary>Days since new roots were seen.</summary>
    public double? DaysSinceNewRoots { get; init; }

    /// <summary>True where its kind sheds leaves for its rest, false where it does not.</summary>
    public bool? ShedsForRest { get; init; }

    /// <summary>growing, spiking or resting, where the ledger knows.</summary>
    public string? Phase { get; init; }

    /// <summary>Days since a virus test was negative; null for never tested.</summary>
    public double? DaysSinceVirusNegative { get; init; }

    /// <summary>True where its own last virus test, or that of its kin, was positive.</summary>
    public bool VirusPositive { get; init; }

    /// <summary>Other clues that stand in the ledger (a mark on the leaf says where and what it looks like): value by clue.</summary>
    public IReadOnlyDictionary<string, string> Looked { get; init; } = new Dictionary<string, string>();

    /// <summary>Causes found on neighbours within two months, by id.</summary>
    public IReadOnlyCollection<string> OnNeighbours { get; init; } = [];

    /// <summary>Clues the records themselves answer.</summary>
    internal IEnumerable<(string Clue, string Value)> Answers()
    {
        if (ReservoirOverFeed is { } ec)
        {
            yield return ("reservoir-ec", ec >= 2 ? "far-above" : ec >= 1.5 ? "above" : "as-feed");
        }

        if (!RootPHIsForecast && RootPH is { } ph && RootPHWindow is { } window)
        {
            yield return ("root-ph", ph < window.Low ? "low" : ph > window.High ? "high" : "inside");
        }

        if (Phase is { } phase)
        {
            yield return ("phase", phase);
        }

        if (LostLastYear is not null && NewLastYear is { } born)
        {
            yield return ("new-leaves", born > 0 ? "going-on" : "stopped");
        }

        if (VirusPositive)
        {
            yield return ("strip-test", "positive");
        }

        foreach (var (clue, value) in Looked)
        {
            yield return (clue, value);
        }
    }
}
