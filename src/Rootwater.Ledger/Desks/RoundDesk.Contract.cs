using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The daily walk: who gets what today and why; writing is done through <see cref="IFactDesk"/>.</summary>
public interface IRoundDesk
{
    /// <summary>Today's walk: the open round if one was begun, else what a new one would be.</summary>
    Task<RoundSheet> TodayAsync(DateOnly? asOf = null, CancellationToken cancel = default);

    /// <summary>How long each reservoir lasts and what whoever waters meanwhile should do.</summary>
    Task<AbsenceSheet> AbsenceAsync(DateOnly from, DateOnly to, CancellationToken cancel = default);
}

/// <summary>Who gets what, in walking order, quarantine last.</summary>
public sealed record RoundSheet
{
    public required Guid? RoundId { get; init; }
    public required DateOnly AsOf { get; init; }

    /// <summary>Last reading of the air, °C.</summary>
    public double? AirTemperatureCelsius { get; init; }
    public required IReadOnlyList<RoundStop> Stops { get; init; }

    /// <summary>Cans that can be poured from, newest first.</summary>
    public required IReadOnlyList<RoundCan> Cans { get; init; }

    /// <summary>States proposed from what was logged, to confirm or not.</summary>
    public required IReadOnlyList<StateProposal> Proposals { get; init; }
}

/// <summary>One plant on the walk.</summary>
public sealed record RoundStop
{
    public required PlantCard Plant { get; init; }
    public required bool Due { get; init; }
    public required Pouring What { get; init; }

    /// <summary>The can it is for; null for water, a leach, or where none is mixed yet.</summary>
    public Guid? CanId { get; init; }
    public string? CanLetter { get; init; }
    public required double Millilitres { get; init; }

    /// <summary>Why it is due, or not, in words.</summary>
    public required string Why { get; init; }

    /// <summary>Given or skipped on this round already.</summary>
    public Guid? DoneFactId { get; init; }
    public Pouring? DoneWhat { get; init; }
    public SkipReason? Skipped { get; init; }
    public required bool Quarantine { get; init; }
}

/// <summary>A can to pour from.</summary>
public sealed record RoundCan(Guid Id, string Letter, string Vessel, double LitresLeft, double EcMicrosiemensPerCm, double PH, DateOnly MixedOn);

/// <summary>A state that follows from what was logged.</summary>
public sealed record StateProposal(Guid PlantId, int Number, string Name, PlantState State, bool Begins, string Why);

/// <summary>A sheet for whoever waters meanwhile.</summary>
public sealed record AbsenceSheet(DateOnly From, DateOnly To, IReadOnlyList<AbsenceLine> Lines, IReadOnlyList<DateOnly> WaterOn);

/// <summary>One pot while the grower is away.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="LastsDays">How many days the water lasts once filled, with its band.</param>
/// <param name="RunsDryOn">Null where it lasts beyond the absence.</param>
/// <param name="Todo">In words.</param>
public sealed record AbsenceLine(PlantCard Plant, Growing.Expected LastsDays, DateOnly? RunsDryOn, string Todo);
