using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The daily walk: who gets what today and why; writing is done through <see cref="IFactDesk"/>.</summary>
public interface IRoundDesk
{
    /// <summary>Today's walk: the open round if one was begun, else what a new one would be.</summary>
    Task<RoundSheet> TodayAsync(DateOnly? asOf = null, CancellationToken cancel = default);

    /// <summary>The walks of the coming days, today's first, as if each were walked when it is due; days without any are left out.</summary>
    /// <param name="days">1 to 120.</param>
    /// <param name="cancel">Stops the reckoning.</param>
    Task<IReadOnlyList<ComingWalk>> ComingAsync(int days, CancellationToken cancel = default);

    /// <summary>How long each reservoir lasts and what whoever waters meanwhile should do.</summary>
    Task<AbsenceSheet> AbsenceAsync(DateOnly from, DateOnly to, CancellationToken cancel = default);
}

/// <summary>Who gets what, in walking order, quarantine last.</summary>
public sealed record RoundSheet
{
    public required Guid? RoundId { get; init; }
    public required DateOnly AsOf { get; init; }
    public required string BenchName { get; init; }

    /// <summary>IANA name of the zone whose clock the bench keeps: the phone dates what it queues by it.</summary>
    public required string Zone { get; init; }

    /// <summary>Last reading of the air, °C.</summary>
    public double? AirTemperatureCelsius { get; init; }
    public required IReadOnlyList<RoundStop> Stops { get; init; }

    /// <summary>Cans that can be poured from, newest first.</summary>
    public required IReadOnlyList<RoundCan> Cans { get; init; }

    /// <summary>States proposed from what was logged, to confirm or not.</summary>
    public required IReadOnlyList<StateProposal> Proposals { get; init; }

    /// <summary>What holds for the whole walk, in words: feeds that were missed.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
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

    /// <summary>The water for plain water and a leach: the softest that has a report; null where none has.</summary>
    public Guid? WaterId { get; init; }
    public string? WaterName { get; init; }

    /// <summary>Why it is due, or not, in words.</summary>
    public required string Why { get; init; }

    /// <summary>A few words for a tag: "EC creeping, read 1.6", "dry", "look first"; null where nothing stands out.</summary>
    public string? Sign { get; init; }

    /// <summary>How full the pot is reckoned to be, 0 to 1: a reckoning, not a reading.</summary>
    public Expected? Level { get; init; }

    /// <summary>Growths that live, with the leaves and spikes that live on them, to tap at.</summary>
    public required IReadOnlyList<Growth> Growths { get; init; }

    /// <summary>Given or skipped on this round already.</summary>
    public Guid? DoneFactId { get; init; }
    public Pouring? DoneWhat { get; init; }
    public SkipReason? Skipped { get; init; }
    public required bool Quarantine { get; init; }

    /// <summary>How it is handled in quarantine, in words.</summary>
    public string? QuarantineWords { get; init; }
}

/// <summary>A walk to come.</summary>
public sealed record ComingWalk(DateOnly On, IReadOnlyList<ComingStop> Stops);

/// <summary>What a plant is due for on a day to come, by the rules of the walk.</summary>
public sealed record ComingStop(PlantCard Plant, Pouring What);

/// <summary>A can to pour from.</summary>
public sealed record RoundCan(Guid Id, string Letter, string Vessel, double LitresLeft, double EcMicrosiemensPerCm, double PH, DateOnly MixedOn);

/// <summary>A state that follows from what was logged.</summary>
public sealed record StateProposal(Guid PlantId, int Number, string Name, PlantState State, bool Begins, string Why);

/// <summary>A sheet for whoever waters meanwhile.</summary>
public sealed record AbsenceSheet(DateOnly From, DateOnly To, IReadOnlyList<AbsenceLine> Lines, IReadOnlyList<DateOnly> WaterOn);

/// <summary>One pot while the grower is away.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="LastsDays">How many days the water lasts once filled, with its band; null at dry rest or where the pot is not reckoned.</param>
/// <param name="RunsDryOn">When it needs water at the latest, by the near edge of that band; null where it lasts beyond the absence.</param>
/// <param name="WaterOn">The visits on which it gets water.</param>
/// <param name="Todo">In words.</param>
public sealed record AbsenceLine(PlantCard Plant, Expected? LastsDays, DateOnly? RunsDryOn, IReadOnlyList<DateOnly> WaterOn, string Todo);
