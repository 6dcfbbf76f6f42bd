namespace Rootwater.Ledger.Rows;

/// <summary>A step of a card: done or not, and what it took.</summary>
public sealed class CanStepRow
{
    public Guid CanId { get; set; }
    public int Number { get; set; }
    public Guid? LotId { get; set; }

    /// <summary>What it takes from the lot, grams.</summary>
    public double Grams { get; set; }

    /// <summary>The fact that ticked it; null while it is not done.</summary>
    public Guid? DoneFactId { get; set; }
    public long? DoneAt { get; set; }

    /// <summary>What was really taken: no more than there was.</summary>
    public double TakenGrams { get; set; }
}
