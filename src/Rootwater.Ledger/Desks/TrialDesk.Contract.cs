using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Trials: planned, registered before the first datum, looked at for a price, ended with the result written whether or not it pleases.</summary>
public interface ITrialDesk
{
    /// <summary>Trials, newest first, with the state of each and p-values of those that ended corrected for being several.</summary>
    Task<TrialList> ListAsync(CancellationToken cancel = default);

    /// <summary>One trial; null where there is none.</summary>
    Task<TrialView?> GetAsync(Guid trialId, CancellationToken cancel = default);

    /// <summary>How likely a plan would find the difference that is worth knowing, by simulation on this bench's own rates; cancel it at will.</summary>
    /// <exception cref="EntryException">Names the field that cannot be.</exception>
    Task<TrialForecast> PlanAsync(TrialPlan plan, IProgress<double>? progress = null, CancellationToken cancel = default);

    /// <summary>Draws the arms and writes the trial down. After that nothing of it can be changed.</summary>
    /// <exception cref="EntryException">Names the field that cannot be.</exception>
    Task<TrialView> RegisterAsync(TrialPlan plan, Guid? trialId = null, CancellationToken cancel = default);

    /// <summary>What a look now would cost, without looking.</summary>
    Task<LookPrice> PriceOfLookAsync(Guid trialId, CancellationToken cancel = default);

    /// <summary>Looks: the result so far is shown and the price paid and written down.</summary>
    Task<TrialView> LookAsync(Guid trialId, CancellationToken cancel = default);

    /// <summary>Writes the result. Before the last day only where a look has claimed a difference; otherwise it has to be stopped with a reason.</summary>
    Task<TrialView> EndAsync(Guid trialId, CancellationToken cancel = default);

    /// <summary>Stops a trial early, with the reason; what it showed so far is written all the same.</summary>
    Task<TrialView> StopAsync(Guid trialId, string why, CancellationToken cancel = default);

    /// <summary>Writes down that something went otherwise than registered (a plant died, got the other arm's feed). The registration stays as it was.</summary>
    Task<TrialView> NoteDepartureAsync(Guid trialId, string what, int? plant = null, CancellationToken cancel = default);

    /// <summary>The arm of every plant that is in a running trial, for whoever feeds.</summary>
    Task<IReadOnlyDictionary<Guid, PlantArm>> ArmsAsync(CancellationToken cancel = default);
}

/// <summary>A plan. What is null is taken from the bench's own records or a default, which the forecast names.</summary>
public sealed record TrialPlan
{
    /// <summary>"Does potassium nitrate keep leaves on longer?"</summary>
    public required string Question { get; init; }

    /// <summary>Two arms, the one compared with first: a name and what its plants get.</summary>
    public required IReadOnlyList<TrialArm> Arms { get; init; }

    /// <summary>Numbers of the plants.</summary>
    public required IReadOnlyList<int> Plants { get; init; }

    /// <summary>What is counted; the first is the one the trial is about.</summary>
    public required IReadOnlyList<TrialOutcome> Outcomes { get; init; }

    /// <summary>The first day; today or later.</summary>
    public DateOnly? Begins { get; init; }

    /// <summary>How long, in months: 1 to 120.</summary>
    public int Months { get; init; } = 24;

    /// <summary>Planned looks, the last at the end: 1 for none early.</summary>
    public int Looks { get; init; } = 1;
    public Spending Spending { get; init; } = Spending.OBrienFleming;

    /// <summary>The difference worth knowing, as second arm over first: 0.5 for half the losses, 1.2 for a fifth more flowers.</summary>
    public double Ratio { get; init; } = 0.5;

    /// <summary>Draw within kinds, so that each kind is shared out evenly.</summary>
    public bool WithinKinds { get; init; } = true;

    /// <summary>Null: chosen by the program. A seed of one's own is written down as such.</summary>
    public int? Seed { get; init; }

    /// <summary>Simulated trials, 100 to 10,000.</summary>
    public int Runs { get; init; } = 2000;
}

/// <summary>What a plan promises.</summary>
/// <param name="Power">Chance that the trial claims the difference, if it is there.</param>
/// <param name="PowerError">Standard error of the simulation.</param>
/// <param name="MonthsNeeded">The shortest length with a power of 80 in 100 up to ten years; null where none has.</param>
/// <param name="MeanEvents">Events by the end, both arms.</param>
/// <param name="Looks">When each planned look falls, and the p it has to reach.</param>
/// <param name="Words">In sentences.</param>
/// <param name="Warnings">What speaks against the plan.</param>
/// <param name="Rates">What the simulation took from the records and what it assumed.</param>
/// <param name="Runs">Simulated trials.</param>
public sealed record TrialForecast(double Power, double PowerError, int? MonthsNeeded, double MeanEvents, IReadOnlyList<PlannedLook> Looks, IReadOnlyList<string> Words, IReadOnlyList<string> Warnings, IReadOnlyList<string> Rates, int Runs);

/// <summary>A planned look.</summary>
/// <param name="Number">1 and up; the last is the end.</param>
/// <param name="Day">When.</param>
/// <param name="Level">The p it has to reach.</param>
public sealed record PlannedLook(int Number, DateOnly Day, double Level);

/// <summary>The price of looking now.</summary>
/// <param name="Share">Of the trial's length that is over, 0 to 1.</param>
/// <param name="Level">The p a look now has to reach to claim anything.</param>
/// <param name="LastLevelWithout">The p the end has to reach if nobody looks now.</param>
/// <param name="LastLevelWith">The same if somebody does.</param>
/// <param name="Planned">True where a look was planned by now and not yet taken.</param>
/// <param name="Words">In sentences.</param>
public sealed record LookPrice(double Share, double Level, double LastLevelWithout, double LastLevelWith, bool Planned, string Words);

/// <summary>How a trial stands.</summary>
public enum TrialState
{
    /// <summary>Registered, not begun.</summary>
    ToCome,
    Running,

    /// <summary>Its last day is past and its result not yet written.</summary>
    ToEnd,
    Ended,
    Stopped,
}

/// <summary>A trial as it stands in the ledger.</summary>
public sealed record TrialView
{
    public required Guid Id { get; init; }
    public required TrialRegistered Registered { get; init; }
    public required DateTimeOffset RegisteredAt { get; init; }
    public required TrialState State { get; init; }
    public required IReadOnlyList<PlannedLook> Looks { get; init; }
    public required IReadOnlyList<TrialLooked> Looked { get; init; }

    /// <summary>Null while it runs.</summary>
    public required TrialResult? Result { get; init; }
    public DateOnly? EndedOn { get; init; }

    /// <summary>Why it was stopped; null where it was not.</summary>
    public string? StoppedWhy { get; init; }
    public required IReadOnlyList<TrialDeparted> Departures { get; init; }

    /// <summary>Plants with their arms and names.</summary>
    public required IReadOnlyList<TrialSeatView> Seats { get; init; }

    /// <summary>In a sentence: how far it is, or what it found.</summary>
    public required string Words { get; init; }

    /// <summary>Method, assumptions and n of its result; null while it has none.</summary>
    public required EvidenceBasis? Basis { get; init; }
}

/// <summary>A plant in a trial. Number and name are null where the plant was forgotten.</summary>
public sealed record TrialSeatView(Guid PlantId, int? Number, string? Name, string Arm, string Gets);

/// <summary>All trials.</summary>
/// <param name="Trials">Newest first.</param>
/// <param name="Ended">Those with a result, corrected for being several.</param>
/// <param name="Words">What the correction was.</param>
public sealed record TrialList(IReadOnlyList<TrialView> Trials, IReadOnlyList<TrialAdjusted> Ended, string Words);

/// <summary>An ended trial among the others.</summary>
public sealed record TrialAdjusted(Guid TrialId, string Question, double? P, double? PAdjusted, bool Claimed, bool StandsCorrected);

/// <summary>"trial: arm B".</summary>
public sealed record PlantArm(Guid TrialId, string Question, string Arm, string Gets);
