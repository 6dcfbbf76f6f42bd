using Rootwater.Growing.Evidence.Trials;

namespace Rootwater.Ledger.Facts;

// Subject of all: the trial. Written by the trial desk alone, which draws and computes: nobody hands in a result.

/// <summary>What is counted in a trial.</summary>
public enum TrialOutcome
{
    /// <summary>Leaves lost, by their age: log-rank scores of plants.</summary>
    LeafLoss,

    /// <summary>New leaves of a plant.</summary>
    NewLeaves,

    /// <summary>Longest length of leaves made during the trial, mm, mean of a plant.</summary>
    LeafLength,

    /// <summary>Flowers of a plant.</summary>
    Flowers,

    /// <summary>Spikes of a plant.</summary>
    Spikes,
}

/// <summary>An arm and what its plants get.</summary>
public sealed record TrialArm(string Name, string Gets);

/// <summary>A plant in its arm.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="Block">What it was drawn within.</param>
/// <param name="Arm">As the draw gave it.</param>
public sealed record TrialSeat(Guid PlantId, string Block, string Arm);

/// <summary>A trial is registered, before its first datum. It cannot be corrected or taken back; what goes otherwise is written as a departure.</summary>
[FactKind("trial.registered", 1)]
public sealed record TrialRegistered : FactPayload
{
    public required Guid TrialId { get; init; }
    public required string Question { get; init; }

    /// <summary>The one compared with first.</summary>
    public required IReadOnlyList<TrialArm> Arms { get; init; }
    public required IReadOnlyList<TrialSeat> Seats { get; init; }
    public required int Seed { get; init; }

    /// <summary>True where the grower named the seed: then it could have been tried out.</summary>
    public bool SeedByHand { get; init; }

    /// <summary>The first is what the trial is about; several are corrected by Benjamini–Hochberg.</summary>
    public required IReadOnlyList<TrialOutcome> Outcomes { get; init; }

    /// <summary>The pre-stated test, in words.</summary>
    public required string Test { get; init; }
    public required DateOnly Begins { get; init; }
    public required DateOnly Ends { get; init; }
    public required int Looks { get; init; }
    public required Spending Spending { get; init; }
    public required double Alpha { get; init; }

    /// <summary>The difference worth knowing, second arm over first.</summary>
    public required double Ratio { get; init; }

    /// <summary>What the plan promised; null where it was not simulated.</summary>
    public double? Power { get; init; }
}

/// <summary>Somebody looked before the end; the look has its price.</summary>
/// <param name="TrialId">The trial.</param>
/// <param name="AsOf">The day.</param>
/// <param name="Share">Of the trial's length that was over.</param>
/// <param name="Level">The p this look had to reach.</param>
/// <param name="Planned">Whether a look was planned by then.</param>
/// <param name="Result">What was seen.</param>
[FactKind("trial.looked", 1)]
public sealed record TrialLooked(Guid TrialId, DateOnly AsOf, double Share, double Level, bool Planned, TrialResult Result) : FactPayload;

/// <summary>The trial is over; what it found, whether or not it pleases.</summary>
[FactKind("trial.ended", 1)]
public sealed record TrialEnded(Guid TrialId, DateOnly AsOf, TrialResult Result) : FactPayload;

/// <summary>The trial was stopped before its end; what it showed so far.</summary>
[FactKind("trial.stopped", 1)]
public sealed record TrialStopped(Guid TrialId, DateOnly AsOf, string Why, TrialResult Result) : FactPayload;

/// <summary>Something went otherwise than registered.</summary>
[FactKind("trial.departed", 1)]
public sealed record TrialDeparted(Guid TrialId, DateOnly AsOf, Guid? PlantId, string What) : FactPayload;

/// <summary>What a trial shows at a day.</summary>
/// <param name="Level">The p that claims.</param>
/// <param name="Claims">Whether a difference in the first outcome is claimed.</param>
/// <param name="Words">In sentences.</param>
/// <param name="Outcomes">One line per outcome.</param>
public sealed record TrialResult(double Level, bool Claims, string Words, IReadOnlyList<OutcomeResult> Outcomes);

/// <summary>One outcome.</summary>
/// <param name="Outcome">What.</param>
/// <param name="First">Of the first arm: losses per leaf-year, or the mean of its plants.</param>
/// <param name="Second">Of the second.</param>
/// <param name="FirstPlants">Plants counted in the first arm.</param>
/// <param name="SecondPlants">In the second.</param>
/// <param name="FirstEvents">Losses, or things counted, in the first arm.</param>
/// <param name="SecondEvents">In the second.</param>
/// <param name="Ratio">Hazard ratio, or ratio of means; null where there is none.</param>
/// <param name="Lower">95 % interval of it, where there is one.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="P">Permutation of the draw; null where it would mean nothing.</param>
/// <param name="PAdjusted">After Benjamini–Hochberg over the outcomes.</param>
/// <param name="Words">In a sentence.</param>
public sealed record OutcomeResult(
    TrialOutcome Outcome, double? First, double? Second, int FirstPlants, int SecondPlants, int FirstEvents, int SecondEvents, double? Ratio, double? Lower, double? Upper, double? P, double? PAdjusted, string Words);
