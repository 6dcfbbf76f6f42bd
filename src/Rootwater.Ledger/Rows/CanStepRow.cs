using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A step of a card: done or not, and what it took.</summary>
public sealed class CanStepRow
{
    public Guid CanId { get; set; }
    public int Number { get; set; }

    /// <summary>What it takes from lots; a dose of concentrate takes of everything that was weighed into it.</summary>
    public required IReadOnlyList<StepUse> Uses { get; set; }

    /// <summary>The fact that ticked it; null while it is not done.</summary>
    public Guid? DoneFactId { get; set; }
    public long? DoneAt { get; set; }

    /// <summary>What was really taken: no more than there was.</summary>
    public required IReadOnlyList<StepUse> Taken { get; set; }
}
