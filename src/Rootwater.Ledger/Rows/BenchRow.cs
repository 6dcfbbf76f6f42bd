using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Rows;

/// <summary>The bench itself: one row.</summary>
public sealed class BenchRow
{
    public const int OnlyId = 1;

    public int Id { get; set; } = OnlyId;
    public required string Name { get; set; }

    /// <summary>IANA name of the zone whose clock the bench keeps.</summary>
    public required string Zone { get; set; }
    public required Tools Tools { get; set; }
    public required ReadersUnits Units { get; set; }

    /// <summary>What QR codes begin with; null while nobody set it.</summary>
    public string? BaseAddress { get; set; }
}
