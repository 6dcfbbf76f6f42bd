using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>What one plant got of one pouring.</summary>
public sealed class FeedingRow
{
    /// <summary>The fact of the pouring.</summary>
    public Guid FactId { get; set; }
    public Guid PlantId { get; set; }

    /// <summary>The pot it stood in on the day.</summary>
    public Guid? PotId { get; set; }
    public Pouring What { get; set; }

    /// <summary>The can of a feed; null for water and a leach.</summary>
    public Guid? CanId { get; set; }
    public Guid? WaterId { get; set; }
    public Guid? RoundId { get; set; }
    public DateOnly Day { get; set; }
    public double Millilitres { get; set; }
}
