using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Rows;

/// <summary>What some plants want.</summary>
public sealed class WantRow
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    public required Want Want { get; set; }
}
