using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Rows;

/// <summary>A can with its card.</summary>
public sealed class CanRow
{
    public Guid Id { get; set; }
    public required string Letter { get; set; }
    public required string Vessel { get; set; }
    public double Litres { get; set; }
    public DateOnly MixedOn { get; set; }

    /// <summary>Its place in the ledger; lists of cans are ordered by it.</summary>
    public long Position { get; set; }
    public int Steps { get; set; }
    public int StepsDone { get; set; }
    public int Plants { get; set; }
    public double EcLow { get; set; }
    public double Ec { get; set; }
    public double EcHigh { get; set; }
    public double PHLow { get; set; }
    public double PH { get; set; }
    public double PHHigh { get; set; }
    public decimal Cost { get; set; }

    /// <summary>What is left in it: what it held, or what was said to be left when the whole of it was poured, less what was drawn since.</summary>
    public double LitresLeft { get; set; }

    /// <summary>The day anything was first poured from it.</summary>
    public DateOnly? PouredOn { get; set; }

    /// <summary>The fact that poured the whole of it; null while it is poured plant by plant.</summary>
    public Guid? PouredFactId { get; set; }

    /// <summary>Place of that fact in the ledger.</summary>
    public long? PouredAt { get; set; }

    /// <summary>What was said then to be left.</summary>
    public double? PouredLitresLeft { get; set; }

    /// <summary>What plants one by one and topped cans took of it. Whole microlitres, so that taking back gives back exactly.</summary>
    public long DrawnMicrolitres { get; set; }

    /// <summary>Of that, before the whole of it was poured.</summary>
    public long DrawnBeforePouredMicrolitres { get; set; }
    public required CanPlan Card { get; set; }

    /// <summary>Poured, mixed or on the way there.</summary>
    public CanState State => StateOf(PouredOn, LitresLeft, StepsDone, Steps);

    internal static CanState StateOf(DateOnly? pouredOn, double litresLeft, int stepsDone, int steps) =>
        pouredOn is not null ? litresLeft > 0.001 ? CanState.Poured : CanState.Finished
        : stepsDone == steps ? CanState.Mixed : CanState.Mixing;
}
