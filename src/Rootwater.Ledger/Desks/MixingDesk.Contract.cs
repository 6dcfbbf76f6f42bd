using Rootwater.Chemistry.Quantities;
using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;

namespace Rootwater.Ledger.Desks;

/// <summary>Everything done at the mixing table: who is due, what to mix, the card followed step by step, what the pens read, the repair.</summary>
/// <remarks>Bad entries come back as <see cref="EntryException"/>, a database that cannot be used as <see cref="LedgerProblem"/>; neither leaves anything half-saved.</remarks>
public interface IMixingDesk
{
    /// <summary>Who is due on a day of the bench's own calendar (today when null), and all there is to mix from.</summary>
    Task<BenchToday> GetBenchTodayAsync(DateOnly? asOf = null, CancellationToken cancel = default);

    /// <summary>Plans the cans for the groups that are due. Runs off the calling thread; cancelling returns promptly by exception.</summary>
    Task<PlanOutcome> PlanAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>For one can, two, up to the most that is chosen: how many wants are left, so that the grower can see what a can more is worth. Runs off the calling thread.</summary>
    Task<IReadOnlyList<TradeOffPoint>> TradeOffAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Keeps a planned can so that its card can be followed. Its id is the idempotency key: saved twice, it is kept once.</summary>
    Task<SavedCan> SaveCanAsync(CanPlan can, CancellationToken cancel = default);

    /// <summary>A can with its steps and readings; null when there is none of that id.</summary>
    Task<SavedCan?> GetCanAsync(Guid canId, CancellationToken cancel = default);

    /// <summary>Cans, newest first.</summary>
    Task<IReadOnlyList<CanSummary>> ListCansAsync(int most = 50, CancellationToken cancel = default);

    /// <summary>Marks a step as done; what it used is taken from its lot. Ticked twice, it is done once.</summary>
    Task<SavedCan> TickStepAsync(Guid canId, int stepNumber, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Takes a tick back; what the step used returns to its lot.</summary>
    Task<SavedCan> UndoStepAsync(Guid canId, int stepNumber, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Keeps what the pens read in a can. A reading that names <see cref="NewCanReading.Corrects"/> replaces that one on the pages; both stay in the ledger.</summary>
    Task<SavedCan> SaveReadingAsync(NewCanReading reading, CancellationToken cancel = default);

    /// <summary>Does the latest reading agree with what was expected, and what to check first if not.</summary>
    Task<CanVerdict> JudgeAsync(Guid canId, CancellationToken cancel = default);

    /// <summary>What would put this very can right, from its latest reading, the cupboard and the tools at hand.</summary>
    Task<CanRepairResult> RepairAsync(Guid canId, CancellationToken cancel = default);

    /// <summary>Records what was really added to put the can right; amounts and products may differ from what was offered. The card, its supply and what is fed from it are those of the repaired can from then on.</summary>
    Task<SavedCan> SaveRepairAsync(NewCanRepair repair, CancellationToken cancel = default);

    /// <summary>Takes the latest repair back.</summary>
    Task<SavedCan> UndoRepairAsync(Guid canId, Guid repairId, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Records that the can was poured to the plants on its card, and the litres left in it (null: what the card leaves).</summary>
    Task<SavedCan> PourAsync(Guid canId, double? litresLeft = null, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Takes the pouring back: the plants are due again, the can is full again.</summary>
    Task<SavedCan> UndoPourAsync(Guid canId, Guid? idempotencyKey = null, CancellationToken cancel = default);
}

/// <summary>The bench on a day, as the mixing page sees it.</summary>
public sealed record BenchToday
{
    public required string BenchName { get; init; }
    public required DateOnly AsOf { get; init; }

    /// <summary>Those due, grouped by want and by how their pots treat the feed; portions in the order of the walk.</summary>
    public required IReadOnlyList<DueGroup> Due { get; init; }

    /// <summary>Plants on the bench that are not due.</summary>
    public required int NotDue { get; init; }
    public required IReadOnlyList<WaterSource> Waters { get; init; }
    public required IReadOnlyList<SupplyItem> Cupboard { get; init; }

    /// <summary>Products of the cupboard that are provisional or were rejected: used only where they are chosen by name.</summary>
    public IReadOnlyCollection<Guid> HeldBack { get; init; } = [];
    public required IReadOnlyList<Vessel> Vessels { get; init; }
    public required Tools Tools { get; init; }

    /// <summary>Cans poured from with something left in them, to be topped.</summary>
    public required IReadOnlyList<Leftover> Leftovers { get; init; }
}

/// <summary>A group that is due: what the planner needs, and why each plant is on the list.</summary>
/// <param name="Group">Want, pH to pour at, portions in walking order.</param>
/// <param name="PourPHFrom">Where the pH to pour at comes from, in words.</param>
/// <param name="Plants">Why each is due, in walking order.</param>
public sealed record DueGroup(WantGroup Group, string PourPHFrom, IReadOnlyList<DuePlant> Plants);

/// <summary>Why a plant is due.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="Number">The number on its tag.</param>
/// <param name="Name">Its name.</param>
/// <param name="Place">Where it stands.</param>
/// <param name="LastFed">When it was last fed; null for never.</param>
/// <param name="EveryDays">Days between feeds for its pot.</param>
/// <param name="DaysOver">Days since it fell due; zero on the day itself.</param>
public sealed record DuePlant(Guid PlantId, int Number, string Name, string Place, DateOnly? LastFed, int EveryDays, int DaysOver);

/// <summary>What the grower chooses before planning. Everything left null means: all there is.</summary>
public sealed record PlanChoices
{
    public DateOnly? AsOf { get; init; }

    /// <summary>Names of the groups to serve.</summary>
    public IReadOnlyCollection<string>? Groups { get; init; }

    /// <summary>Plants to leave out this time.</summary>
    public IReadOnlyCollection<Guid> LeaveOutPlants { get; init; } = [];
    public IReadOnlyCollection<Guid>? Waters { get; init; }
    public IReadOnlyCollection<Guid>? Products { get; init; }

    /// <summary>Names of the vessels to use.</summary>
    public IReadOnlyCollection<string>? Vessels { get; init; }

    /// <summary>Earlier cans to top up; none when empty.</summary>
    public IReadOnlyCollection<Guid> Leftovers { get; init; } = [];

    /// <summary>The most cans to mix, 1 to 6.</summary>
    public int MostCans { get; init; } = 2;
    public Temperature CanTemperature { get; init; } = Temperature.FromCelsius(20);
    public TimeSpan TimeLimit { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>The cards say what the pens should read by what earlier cans taught of lots, waters, tools and pens; doses and hard limits stay those of the labels.</summary>
    public bool ExpectAsLearned { get; init; }
}

/// <summary>Where a can stands.</summary>
public enum CanState
{
    Mixing,
    Mixed,
    Poured,
    Finished,
}

/// <summary>A kept can with what was done to it.</summary>
public sealed record SavedCan
{
    public required Guid Id { get; init; }
    public required CanPlan Card { get; init; }
    public required CanState State { get; init; }
    public required DateOnly MixedOn { get; init; }

    /// <summary>Numbers of the steps that are ticked.</summary>
    public required IReadOnlyList<int> DoneSteps { get; init; }

    /// <summary>The next step to do; null when all are ticked.</summary>
    public MixStep? NextStep => Card.Steps.FirstOrDefault(step => !DoneSteps.Contains(step.Number));

    /// <summary>Readings, oldest first, corrected ones left out.</summary>
    public required IReadOnlyList<CanReading> Readings { get; init; }

    /// <summary>How many of them were taken before the latest repair and say nothing of the can as it is now.</summary>
    public int ReadBeforeRepair { get; init; }

    /// <summary>Those taken of the can as it is now.</summary>
    public IReadOnlyList<CanReading> ReadingsOfNow => [.. Readings.Skip(ReadBeforeRepair)];

    /// <summary>What is left in it, litres.</summary>
    public required double LitresLeft { get; init; }
}

/// <summary>A line in the list of cans.</summary>
public sealed record CanSummary
{
    public required Guid Id { get; init; }
    public required string Letter { get; init; }
    public required string Vessel { get; init; }
    public required double Litres { get; init; }
    public required DateOnly MixedOn { get; init; }
    public required CanState State { get; init; }
    public required int Steps { get; init; }
    public required int StepsDone { get; init; }
    public required int Plants { get; init; }
    public required Expected EcMicrosiemensPerCm { get; init; }
    public required Expected PH { get; init; }

    /// <summary>The latest reading of EC, µS/cm at 25 °C.</summary>
    public double? ReadEcMicrosiemensPerCm { get; init; }
    public double? ReadPH { get; init; }
    public required decimal Cost { get; init; }
    public required double LitresLeft { get; init; }
}

/// <summary>What the pens read in a can.</summary>
public sealed record NewCanReading
{
    /// <summary>Made by whoever reads; the idempotency key.</summary>
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Guid CanId { get; init; }

    /// <summary>The step after which it was read; null for the finished can.</summary>
    public int? AfterStep { get; init; }

    /// <summary>As the pen shows it (compensated to 25 °C), µS/cm; null where not read. 0 to 20,000.</summary>
    public double? EcMicrosiemensPerCm { get; init; }

    /// <summary>0 to 14; null where not read.</summary>
    public double? PH { get; init; }

    /// <summary>Of the can, °C; null where not read. 0 to 50.</summary>
    public double? TemperatureCelsius { get; init; }

    /// <summary>The pens that read it; null where there is only one of its kind, or nobody knows.</summary>
    public Guid? EcPenId { get; init; }
    public Guid? PHPenId { get; init; }

    /// <summary>An earlier reading that this one puts right.</summary>
    public Guid? Corrects { get; init; }
    public string? Note { get; init; }
}

/// <summary>What was added to put a can right.</summary>
public sealed record NewCanRepair
{
    /// <summary>Made by whoever mends; the idempotency key.</summary>
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Guid CanId { get; init; }
    public required IReadOnlyList<Added> Added { get; init; }
}

/// <summary>A product or a water that went into a can, in g, mL or L as it is measured.</summary>
public sealed record Added(Guid Id, double Amount);

/// <summary>A kept reading.</summary>
public sealed record CanReading(Guid Id, int? AfterStep, double? EcMicrosiemensPerCm, double? PH, double? TemperatureCelsius, DateTimeOffset RecordedAt, string? Note);
