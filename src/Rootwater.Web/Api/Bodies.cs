using Rootwater.Chemistry.Quantities;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>What may be said when a plan is asked for. Everything left out means: all there is.</summary>
public sealed record PlanBody
{
    public DateOnly? AsOf { get; init; }
    public IReadOnlyCollection<string>? Groups { get; init; }
    public IReadOnlyCollection<Guid>? LeaveOutPlants { get; init; }
    public IReadOnlyCollection<Guid>? Waters { get; init; }
    public IReadOnlyCollection<Guid>? Products { get; init; }
    public IReadOnlyCollection<string>? Vessels { get; init; }
    public IReadOnlyCollection<Guid>? Leftovers { get; init; }

    /// <summary>1 to 6.</summary>
    public int? MostCans { get; init; }

    /// <summary>°C, 5 to 40.</summary>
    public double? CanTemperatureC { get; init; }

    /// <summary>Seconds, above 0 to 60.</summary>
    public double? TimeLimitSeconds { get; init; }

    /// <summary>The cards say what the pens should read by what earlier cans taught; doses and hard limits stay those of the labels.</summary>
    public bool? ExpectAsLearned { get; init; }

    /// <exception cref="EntryException">Names every field that is out of range.</exception>
    public PlanChoices ToChoices()
    {
        var problems = new List<EntryProblem>();
        if (MostCans is < 1 or > 6)
            problems.Add(new EntryProblem("mostCans", MostCans.ToString(), "1 to 6."));
        if (CanTemperatureC is < 5 or > 40)
            problems.Add(new EntryProblem("canTemperatureC", CanTemperatureC.ToString(), "5 to 40 °C."));
        if (TimeLimitSeconds is <= 0 or > 60)
            problems.Add(new EntryProblem("timeLimitSeconds", TimeLimitSeconds.ToString(), "above 0 and up to 60."));
        if (problems.Count > 0)
            throw new EntryException(problems);
        return new PlanChoices
        {
            AsOf = AsOf,
            Groups = Groups,
            LeaveOutPlants = LeaveOutPlants ?? [],
            Waters = Waters,
            Products = Products,
            Vessels = Vessels,
            Leftovers = Leftovers ?? [],
            MostCans = MostCans ?? 2,
            CanTemperature = Temperature.FromCelsius(CanTemperatureC ?? 20),
            TimeLimit = TimeSpan.FromSeconds(TimeLimitSeconds ?? 5),
            ExpectAsLearned = ExpectAsLearned ?? false,
        };
    }
}

/// <summary>What the pens read in a can.</summary>
public sealed record ReadingBody
{
    /// <summary>Made by whoever reads; sent twice, it is kept once.</summary>
    public Guid? Id { get; init; }
    public int? AfterStep { get; init; }
    public double? EcMicrosiemensPerCm { get; init; }
    public double? PH { get; init; }
    public double? TemperatureC { get; init; }

    /// <summary>The pens that read it, where several of a kind are kept.</summary>
    public Guid? EcPenId { get; init; }
    public Guid? PHPenId { get; init; }
    public Guid? Corrects { get; init; }
    public string? Note { get; init; }

    public NewCanReading ToReading(Guid canId) => new()
    {
        Id = Id ?? Guid.CreateVersion7(),
        CanId = canId,
        AfterStep = AfterStep,
        EcMicrosiemensPerCm = EcMicrosiemensPerCm,
        PH = PH,
        TemperatureCelsius = TemperatureC,
        EcPenId = EcPenId,
        PHPenId = PHPenId,
        Corrects = Corrects,
        Note = Note,
    };
}

/// <summary>Taking a fact back.</summary>
/// <param name="Id">Made by whoever takes it back; sent twice, it counts once.</param>
/// <param name="Why">In the grower's words.</param>
public sealed record UndoBody(Guid? Id = null, string? Why = null);

/// <summary>What was added to put a can right.</summary>
public sealed record RepairBody
{
    /// <summary>Made by whoever mends; sent twice, it is kept once.</summary>
    public Guid? Id { get; init; }

    /// <summary>Products and waters by id, in g, mL or L as they are measured.</summary>
    public IReadOnlyList<Added>? Added { get; init; }

    public NewCanRepair ToRepair(Guid canId) => new() { Id = Id ?? Guid.CreateVersion7(), CanId = canId, Added = Added ?? [] };
}

/// <summary>What is left of a lot.</summary>
public sealed record LeftBody(double GramsLeft, string? Why = null);
