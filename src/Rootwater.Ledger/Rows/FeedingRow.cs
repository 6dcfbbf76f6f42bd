namespace Rootwater.Ledger.Rows;

/// <summary>What one plant got of one pouring.</summary>
public sealed class FeedingRow
{
    /// <summary>The fact of the pouring.</summary>
    public Guid FactId { get; set; }
    public Guid PlantId { get; set; }
    public Guid? PotId { get; set; }
    public Guid CanId { get; set; }
    public DateOnly Day { get; set; }
    public double Millilitres { get; set; }
}
