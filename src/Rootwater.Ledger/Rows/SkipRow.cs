using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A plant that was passed by on purpose.</summary>
public sealed class SkipRow
{
    public Guid FactId { get; set; }
    public Guid PlantId { get; set; }
    public Guid? RoundId { get; set; }
    public DateOnly Day { get; set; }
    public SkipReason Reason { get; set; }
    public string? Note { get; set; }
}
