using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Plants: the bench at a glance, one plant's life, and forgetting one.</summary>
public interface IPlantDesk
{
    /// <summary>Cards in walking order.</summary>
    Task<IReadOnlyList<PlantCard>> ListAsync(BenchQuery? query = null, CancellationToken cancel = default);

    /// <summary>Everything about a plant; null where there is none.</summary>
    Task<PlantLife?> GetAsync(Guid plantId, CancellationToken cancel = default);

    /// <summary>By the number on its tag.</summary>
    Task<PlantLife?> GetByNumberAsync(int number, CancellationToken cancel = default);

    /// <summary>The next free number for a tag.</summary>
    Task<int> NextNumberAsync(CancellationToken cancel = default);

    /// <summary>Places in walking order.</summary>
    Task<IReadOnlyList<Place>> PlacesAsync(CancellationToken cancel = default);

    /// <summary>What forgetting would remove, in words and numbers.</summary>
    Task<ForgetPreview> ForgetPreviewAsync(Guid plantId, CancellationToken cancel = default);

    /// <summary>Removes a plant's facts and photos for good. Backups keep them until they age out, and the preview says so.</summary>
    Task<ForgetPreview> ForgetAsync(Guid plantId, CancellationToken cancel = default);

    /// <summary>Species and clones of which only one plant stands here, with no division kept aside.</summary>
    Task<IReadOnlyList<PlantCard>> SoleSpecimensAsync(CancellationToken cancel = default);
}

/// <summary>Which plants to list. What is null does not narrow.</summary>
public sealed record BenchQuery
{
    /// <summary>Every word must occur somewhere in number, names, kind, place, notes.</summary>
    public string? Words { get; init; }
    public Guid? PlaceId { get; init; }
    public string? Kind { get; init; }
    public PlantState? State { get; init; }
    public bool? Due { get; init; }

    /// <summary>Open trouble: a leaf marked and not lost, soft parts, EC creeping.</summary>
    public bool? Trouble { get; init; }
    public bool? InQuarantine { get; init; }

    /// <summary>Also plants that are no longer here.</summary>
    public bool WithLost { get; init; }
    public DateOnly? AsOf { get; init; }
}

/// <summary>A plant in a few lines.</summary>
public sealed record PlantCard
{
    public required Guid Id { get; init; }
    public required int Number { get; init; }
    public required string Name { get; init; }
    public required string NameAsReceived { get; init; }
    public required string Kind { get; init; }
    public required Habit Habit { get; init; }
    public required Place? Place { get; init; }
    public required Pot? Pot { get; init; }
    public required IReadOnlyList<PlantState> States { get; init; }
    public required int LivingLeaves { get; init; }

    /// <summary>The longest living spike, mm; null without one.</summary>
    public double? SpikeMillimetres { get; init; }

    /// <summary>Days since it fell due; null while it is not.</summary>
    public int? DaysOverdue { get; init; }
    public DateOnly? LastFed { get; init; }

    /// <summary>Open trouble in words, most pressing first.</summary>
    public required IReadOnlyList<string> Trouble { get; init; }
    public Quarantine? Quarantine { get; init; }

    /// <summary>Positive, unclear, negative or untested, with what it rests on, in words; inherited by divisions.</summary>
    public string? VirusStatus { get; init; }
    public DateOnly? LostOn { get; init; }
    public Guid? WantId { get; init; }

    /// <summary>The newest photo, if any.</summary>
    public Guid? PhotoId { get; init; }
}

/// <summary>A plant's whole life.</summary>
public sealed record PlantLife
{
    public required PlantCard Card { get; init; }
    public required FactWhen Arrived { get; init; }
    public required Provenance Provenance { get; init; }

    /// <summary>Oldest first.</summary>
    public required IReadOnlyList<DeterminedName> Names { get; init; }
    public WrongArrivalView? WrongArrival { get; init; }
    public string? SeedParent { get; init; }
    public string? PollenParent { get; init; }

    /// <summary>Each ancestor's expected share, 0 to 1, largest first; empty where nothing is known.</summary>
    public required IReadOnlyList<AncestorShare> Ancestry { get; init; }

    /// <summary>The plant it was taken from, and those taken from it.</summary>
    public PlantRef? TakenFrom { get; init; }
    public required IReadOnlyList<PlantRef> TakenFromIt { get; init; }

    /// <summary>Oldest first; growths of a division include what it brought.</summary>
    public required IReadOnlyList<Growth> Growths { get; init; }
    public required IReadOnlyList<RootsSeen> NewRoots { get; init; }
    public required IReadOnlyList<PotTime> Pots { get; init; }
    public required IReadOnlyList<PlaceTime> Places { get; init; }
    public required IReadOnlyList<StatesTime> StatesOverTime { get; init; }
    public required IReadOnlyList<Quarantine> Quarantines { get; init; }

    /// <summary>Of the quarantine that lasts; null outside one.</summary>
    public QuarantineClock? Clock { get; init; }

    /// <summary>Why it should not end yet; empty where it may, or outside one.</summary>
    public IReadOnlyList<QuarantineWait> QuarantineWaits { get; init; } = [];
    public required IReadOnlyList<VirusTest> VirusTests { get; init; }
    public required IReadOnlyList<PestCheck> PestChecks { get; init; }
    public required IReadOnlyList<Given> Given { get; init; }
    public required IReadOnlyList<ReadingView> Readings { get; init; }
    public required IReadOnlyList<PhotoView> Photos { get; init; }
    public required IReadOnlyList<NoteLine> Notes { get; init; }

    /// <summary>Living leaves after each change, oldest first.</summary>
    public required IReadOnlyList<LeafCount> LeafCounts { get; init; }
    public string? LostCause { get; init; }
    public string? LostSeen { get; init; }
}

public sealed record DeterminedName(string Name, FactWhen When, string Evidence);
public sealed record WrongArrivalView(string Ordered, string Came, string? Agreed, FactWhen When);
public sealed record AncestorShare(string Name, double Share);
public sealed record PlantRef(Guid Id, int Number, string Name);
public sealed record RootsSeen(DaySpan When, Guid? GrowthId, int? Count);
public sealed record PotTime(Pot Pot, DateOnly From, DateOnly? To);
public sealed record PlaceTime(Guid PlaceId, string Name, DateOnly From, DateOnly? To);
public sealed record StatesTime(DateOnly From, IReadOnlyList<PlantState> States);
public sealed record NoteLine(DaySpan When, string Text);
public sealed record LeafCount(DateOnly From, int Leaves);

/// <summary>One pouring.</summary>
/// <param name="On">Day.</param>
/// <param name="What">Feed, water, leach.</param>
/// <param name="CanId">The can of a feed.</param>
/// <param name="CanLetter">Its letter.</param>
/// <param name="Millilitres">Amount.</param>
/// <param name="EcMicrosiemensPerCm">Of the feed as it counts: measured where measured, else expected.</param>
/// <param name="PH">Likewise.</param>
public sealed record Given(DateOnly On, Pouring What, Guid? CanId, string? CanLetter, double Millilitres, double? EcMicrosiemensPerCm, double? PH);

/// <summary>What forgetting removes.</summary>
public sealed record ForgetPreview(int Number, string Name, int Facts, int Photos, IReadOnlyList<string> Words);
