using Rootwater.Growing.Evidence.Verdicts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// What the ledger can tell of plants, and what it cannot: every answer comes as a sentence with its strength, the table behind it, and its method, assumptions and n.
/// Answers are kept until the ledger grows.
/// </summary>
public interface IEvidenceDesk
{
    /// <summary>Have leaves (growths, plants, blooms) been kept better since a day? Without a day the answer proposes one from the ledger.</summary>
    /// <exception cref="EntryException">No plant fits, or the day is not one on which they were watched.</exception>
    Task<LivesAnswer> LivesAsync(EvidenceQuestion question, CancellationToken cancel = default);

    /// <summary>Rare events (rots, pests, blasted spikes, plants lost) per time before and since a day, by exact Poisson ratios.</summary>
    Task<RatesAnswer> RatesAsync(EvidenceQuestion question, CancellationToken cancel = default);

    /// <summary>Which leaf of a plant is next, and when; borrows from its kind and says how much.</summary>
    Task<NextLeafAnswer> NextLeafAsync(int number, CancellationToken cancel = default);

    /// <summary>What goes with the loss of leaves: supply of the last weeks, salt, repotting, light, warmth, season, state, in one regression, corrected for being several questions.</summary>
    Task<DriversAnswer> DriversAsync(EvidenceQuestion question, CancellationToken cancel = default);

    /// <summary>What goes with growth and flowers: length of new leaves and feed, new roots and the time of repotting, flowers and what was poured, spikes and warmth; besides, places and the moon, which growers ask about.</summary>
    Task<GrowthAnswer> GrowthAsync(EvidenceQuestion question, CancellationToken cancel = default);

    /// <summary>A series (EC, pH, leaves, leaf length, supply) before and after a day, with its autocorrelation; each plant against itself; slow drifts.</summary>
    Task<SeriesAnswer> SeriesAsync(SeriesQuestion question, CancellationToken cancel = default);

    /// <summary>Plants that changed against plants of their kind that did not: matched sisters as controls.</summary>
    Task<SistersAnswer> SistersAsync(EvidenceQuestion question, CancellationToken cancel = default);

    /// <summary>The same question for every kind on the bench at once, corrected for being several (Benjamini–Hochberg).</summary>
    Task<KindsAnswer> KindsAsync(DateOnly since, CancellationToken cancel = default);

    /// <summary>Days on which the feed of these plants changed, read from what was poured, newest first.</summary>
    Task<IReadOnlyList<FeedChange>> FeedChangesAsync(PlantGroup plants, CancellationToken cancel = default);
}

/// <summary>Which plants are meant. What is null does not narrow; all null is the whole bench.</summary>
public sealed record PlantGroup
{
    /// <summary>The number on one plant's tag.</summary>
    public int? Number { get; init; }

    /// <summary>The kind as entered on the plants ("unifoliate Cattleya"), or a part of it.</summary>
    public string? Kind { get; init; }
    public Guid? PlaceId { get; init; }

    /// <summary>Words of a name or note, as on the bench page.</summary>
    public string? Words { get; init; }

    public static PlantGroup Of(int number) => new() { Number = number };
}

/// <summary>What has a life that can be counted in days.</summary>
public enum LivesOf
{
    Leaves,
    Growths,
    Plants,

    /// <summary>From the first flower of a spike to the last.</summary>
    Blooms,
}

/// <summary>A question to the ledger.</summary>
/// <param name="Plants">Of which plants.</param>
/// <param name="Since">The day of the change; null to have it proposed.</param>
/// <param name="Of">Lives of what.</param>
public sealed record EvidenceQuestion(PlantGroup Plants, DateOnly? Since = null, LivesOf Of = LivesOf.Leaves);

/// <summary>What an answer stands on: one tap away on every page.</summary>
/// <param name="Method">The method by name.</param>
/// <param name="Assumptions">What has to be so for the answer to hold.</param>
/// <param name="Plants">Plants.</param>
/// <param name="Lives">Lives, values or intervals, as the method counts.</param>
/// <param name="Events">Losses or other events.</param>
public sealed record EvidenceBasis(string Method, IReadOnlyList<string> Assumptions, int Plants, int Lives, int Events);

/// <summary>A day on which the feed changed.</summary>
/// <param name="Day">The first day of the new feed.</param>
/// <param name="Words">"potassium 19 → 50 mg/L, nitrogen 62 → 80 mg/L".</param>
/// <param name="Largest">The largest ratio among nutrients, as its logarithm to base 2 (1: doubled or halved).</param>
public sealed record FeedChange(DateOnly Day, string Words, double Largest);

/// <summary>Something else that moved at the same time, read from the ledger.</summary>
/// <param name="What">"repotted", "root-zone EC", "warmth".</param>
/// <param name="Words">A sentence.</param>
/// <param name="Near">True where it lies within 60 days of the day asked about, or differs enough between the two sides to matter.</param>
public sealed record Confounder(string What, string Words, bool Near);

/// <summary>One step of a survival curve.</summary>
/// <param name="Days">Age in days.</param>
/// <param name="AtRisk">Lives under watch at that age.</param>
/// <param name="Lost">Losses at that age.</param>
/// <param name="Share">Still there, 0 to 1.</param>
/// <param name="Lower">Lower end of the 95 % log-log band; null where there is none.</param>
/// <param name="Upper">Upper end.</param>
public sealed record CurvePoint(double Days, int AtRisk, int Lost, double Share, double? Lower, double? Upper);

/// <summary>One survival curve.</summary>
/// <param name="Name">"before", "since", "came with the plant".</param>
/// <param name="Lives">Lives in it.</param>
/// <param name="Lost">Losses in it.</param>
/// <param name="Points">Its steps.</param>
/// <param name="MedianDays">Half are lost by this age; null where fewer are.</param>
/// <param name="MedianLower">Lower end of the median's 95 % band.</param>
/// <param name="MedianUpper">Upper end.</param>
/// <param name="MeanDays">Mean life within the first <paramref name="MeanWithinDays"/> days.</param>
/// <param name="MeanWithinDays">The same for all curves of an answer, so that they can be compared.</param>
/// <param name="Says">In sentences.</param>
public sealed record CurveView(string Name, int Lives, int Lost, IReadOnlyList<CurvePoint> Points, double? MedianDays, double? MedianLower, double? MedianUpper, double? MeanDays, double MeanWithinDays, IReadOnlyList<string> Says);

/// <summary>One life as it was counted.</summary>
/// <param name="Plant">Number of its plant.</param>
/// <param name="Name">"bulb 4, leaf 1".</param>
/// <param name="Began">As well as it is known.</param>
/// <param name="AgeKnown">False where it was there when the plant came.</param>
/// <param name="Until">Loss, or last seen.</param>
/// <param name="Lost">True for a loss that counts.</param>
/// <param name="Why">How it ended, in words.</param>
public sealed record LifeLine(int Plant, string Name, string Began, bool AgeKnown, string Until, bool Lost, string Why);

/// <summary>Kept better since a day?</summary>
public sealed record LivesAnswer
{
    public required string Who { get; init; }
    public required LivesOf Of { get; init; }
    public required DateOnly Today { get; init; }

    /// <summary>The day asked about, or the one proposed; null where the ledger shows no change.</summary>
    public required DateOnly? Since { get; init; }

    /// <summary>True where the desk proposed the day.</summary>
    public required bool SinceProposed { get; init; }

    /// <summary>Null without a day.</summary>
    public required Verdict? Verdict { get; init; }

    /// <summary>The verdict's sentence with what it would take to know, or what the curve alone says.</summary>
    public required string Words { get; init; }
    public required IReadOnlyList<CurveView> Curves { get; init; }
    public required IReadOnlyList<Confounder> AlsoMoved { get; init; }
    public required IReadOnlyList<LifeLine> Table { get; init; }

    /// <summary>What was left out or taken as the middle of a month or year.</summary>
    public required IReadOnlyList<string> Says { get; init; }
    public required IReadOnlyList<FeedChange> Changes { get; init; }
    public required EvidenceBasis Basis { get; init; }
}

/// <summary>One kind of event before and since.</summary>
/// <param name="What">"leaf lost to rot", "pests found".</param>
/// <param name="Per">"leaf-years", "plant-years".</param>
/// <param name="Before">Events before.</param>
/// <param name="TimeBefore">Over so many of <paramref name="Per"/>.</param>
/// <param name="Since">Events since.</param>
/// <param name="TimeSince">Over so many.</param>
/// <param name="Ratio">Rate since over rate before; null where there is none to give (then <paramref name="Words"/> says why).</param>
/// <param name="Lower">95 % exact interval.</param>
/// <param name="Upper">Null where it has no end.</param>
/// <param name="PCentral">Exact, central (twice the smaller tail); null where it would mean nothing.</param>
/// <param name="PMid">Mid-p.</param>
/// <param name="PMinimumLikelihood">Exact, by minimum likelihood.</param>
/// <param name="PAdjusted">Central p after Benjamini–Hochberg over the rows.</param>
/// <param name="Words">In a sentence.</param>
public sealed record RateLine(string What, string Per, int Before, double TimeBefore, int Since, double TimeSince, double? Ratio, double? Lower, double? Upper, double? PCentral, double? PMid, double? PMinimumLikelihood, double? PAdjusted, string Words);

/// <summary>Rates before and since.</summary>
public sealed record RatesAnswer(string Who, DateOnly? Since, string Words, IReadOnlyList<RateLine> Rates, EvidenceBasis Basis);

/// <summary>A leaf with its chance of being next.</summary>
/// <param name="Name">"bulb 4, leaf 1".</param>
/// <param name="AgeDays">Its age; at least so much where it was there on arrival.</param>
/// <param name="AgeKnown">False: at least so old.</param>
/// <param name="Chance">0 to 1.</param>
public sealed record LeafChance(string Name, double AgeDays, bool AgeKnown, double Chance);

/// <summary>Which leaf is next. Days are null where nothing can be forecast.</summary>
public sealed record NextLeafAnswer(int Number, string Who, string Words, IReadOnlyList<LeafChance> Leaves, double? EarlyDays, double? MiddleDays, double? LateDays, double? Borrowed, IReadOnlyList<string> Says, EvidenceBasis Basis);

/// <summary>One thing that may go with the loss of leaves.</summary>
/// <param name="Name">"potassium to nitrogen poured, last 60 days".</param>
/// <param name="Unit">What one step of it is: "each doubling", "°C", "yes against no".</param>
/// <param name="HazardRatio">For one step; null where it cannot be told.</param>
/// <param name="Lower">95 %, robust by plant.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="P">Null where it means nothing.</param>
/// <param name="PAdjusted">After Benjamini–Hochberg over all rows.</param>
/// <param name="ProportionalP">Of the check that its effect is the same at every age; null where not checked.</param>
/// <param name="Strength">After correction.</param>
/// <param name="Words">In a sentence.</param>
public sealed record DriverLine(string Name, string Unit, double? HazardRatio, double? Lower, double? Upper, double? P, double? PAdjusted, double? ProportionalP, Strength Strength, string Words);

/// <summary>What goes with the loss of leaves.</summary>
public sealed record DriversAnswer(string Who, string Words, IReadOnlyList<DriverLine> Drivers, IReadOnlyList<string> Says, EvidenceBasis Basis);

/// <summary>One question about growth or flowers.</summary>
/// <param name="Outcome">"length of new leaves".</param>
/// <param name="Name">What may go with it.</param>
/// <param name="Unit">What one step of it is.</param>
/// <param name="Effect">A ratio, or days: <paramref name="EffectUnit"/> says which; null where it cannot be told.</param>
/// <param name="EffectUnit">"times" or "days".</param>
/// <param name="Lower">95 %.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="P">Null where it means nothing.</param>
/// <param name="PAdjusted">After Benjamini–Hochberg over all rows.</param>
/// <param name="Plants">Plants that say something of it.</param>
/// <param name="Values">Values, or events.</param>
/// <param name="Strength">After correction.</param>
/// <param name="Words">In a sentence, or why nothing can be said.</param>
/// <param name="Method">How this row was asked.</param>
public sealed record GrowthLine(string Outcome, string Name, string Unit, double? Effect, string EffectUnit, double? Lower, double? Upper, double? P, double? PAdjusted, int Plants, int Values, Strength Strength, string Words, string Method);

/// <summary>What goes with growth and flowers.</summary>
public sealed record GrowthAnswer(string Who, string Words, IReadOnlyList<GrowthLine> Lines, EvidenceBasis Basis);

/// <summary>What can be followed as a series of months.</summary>
public enum SeriesOf
{
    /// <summary>EC of the reservoir, µS/cm.</summary>
    ReservoirEc,
    ReservoirPH,

    /// <summary>Living leaves per plant.</summary>
    Leaves,

    /// <summary>Length of full-grown leaves made in the month, mm.</summary>
    LeafLength,

    /// <summary>Potassium poured, mg/L of feed.</summary>
    PotassiumPoured,

    /// <summary>Nitrogen poured, mg/L of feed.</summary>
    NitrogenPoured,
}

/// <summary>A series before and after a day.</summary>
/// <param name="Plants">Of which plants.</param>
/// <param name="Of">What.</param>
/// <param name="Since">The day; null to look for one (change points).</param>
/// <param name="BackOn">Crossover: days on which it was changed back and forth after <paramref name="Since"/>; empty for a single change.</param>
public sealed record SeriesQuestion(PlantGroup Plants, SeriesOf Of, DateOnly? Since = null, IReadOnlyList<DateOnly>? BackOn = null);

/// <summary>A month of a series.</summary>
/// <param name="Month">Its first day.</param>
/// <param name="Value">Mean of the plants; null where nothing was read.</param>
/// <param name="Fitted">What the fitted lines say; null without a fit.</param>
/// <param name="Values">How many values went in.</param>
public sealed record SeriesMonth(DateOnly Month, double? Value, double? Fitted, int Values);

/// <summary>A figure of a series with its 95 % interval.</summary>
public sealed record SeriesFigure(string Name, string Unit, double? Value, double? Lower, double? Upper, double? P, string Words);

/// <summary>A plant against itself.</summary>
public sealed record PlantPair(int Plant, double First, double Second);

/// <summary>Before and after in a series.</summary>
public sealed record SeriesAnswer(string Who, SeriesOf Of, string Unit, DateOnly? Since, string Words, IReadOnlyList<SeriesMonth> Months, IReadOnlyList<SeriesFigure> Figures, IReadOnlyList<PlantPair> Pairs, IReadOnlyList<DateOnly> ChangePoints, IReadOnlyList<Confounder> AlsoMoved, IReadOnlyList<string> Says, EvidenceBasis Basis);

/// <summary>A plant in a comparison of sisters.</summary>
/// <param name="Plant">Number.</param>
/// <param name="Name">Its name.</param>
/// <param name="Changed">True where its feed changed.</param>
/// <param name="LostBefore">Leaves lost before.</param>
/// <param name="YearsBefore">Leaf-years before.</param>
/// <param name="LostSince">Leaves lost since.</param>
/// <param name="YearsSince">Leaf-years since.</param>
public sealed record SisterLine(int Plant, string Name, bool Changed, int LostBefore, double YearsBefore, int LostSince, double YearsSince);

/// <summary>Plants that changed against sisters that did not.</summary>
/// <param name="Who">Which plants.</param>
/// <param name="Since">The day.</param>
/// <param name="Words">In a sentence.</param>
/// <param name="Ratio">Hazard since over before in those that changed, over the same in their sisters; null where it cannot be told.</param>
/// <param name="Lower">95 %.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="P">Null where it means nothing.</param>
/// <param name="Plants">Both groups.</param>
/// <param name="Basis">What it stands on.</param>
public sealed record SistersAnswer(string Who, DateOnly? Since, string Words, double? Ratio, double? Lower, double? Upper, double? P, IReadOnlyList<SisterLine> Plants, EvidenceBasis Basis);

/// <summary>One kind's verdict among several.</summary>
public sealed record KindLine(string Kind, Verdict Verdict, double? PAdjusted, bool StandsCorrected);

/// <summary>All kinds at once.</summary>
public sealed record KindsAnswer(DateOnly Since, string Words, IReadOnlyList<KindLine> Kinds, EvidenceBasis Basis);
