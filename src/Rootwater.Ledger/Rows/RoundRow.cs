namespace Rootwater.Ledger.Rows;

/// <summary>A walk along the bench.</summary>
public sealed class RoundRow
{
    public Guid Id { get; set; }
    public DateOnly AsOf { get; set; }

    /// <summary>Its place in the ledger; the newest that is open is today's.</summary>
    public long Position { get; set; }

    /// <summary>The fact that ended it; null while it is open.</summary>
    public Guid? EndedFactId { get; set; }
    public string? Note { get; set; }
}
