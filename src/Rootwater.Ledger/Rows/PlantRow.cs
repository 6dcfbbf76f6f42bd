using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A plant as it is now.</summary>
public sealed class PlantRow
{
    public Guid Id { get; set; }
    public int Number { get; set; }
    public required string NameAsReceived { get; set; }
    public string? DeterminedName { get; set; }
    public DateOnly? DeterminedOn { get; set; }
    public string? DeterminedEvidence { get; set; }
    public required string Kind { get; set; }
    public Habit Habit { get; set; }
    public required IReadOnlyList<PlantState> States { get; set; }

    /// <summary>The earliest day it can have come; how exactly that is known stands beside it.</summary>
    public DateOnly ArrivedOn { get; set; }
    public WhenPrecision ArrivedPrecision { get; set; }
    public Guid? WantId { get; set; }
    public Guid? PlaceId { get; set; }
    public DateOnly? LostOn { get; set; }
    public string? LostCause { get; set; }
    public string CurrentName => DeterminedName ?? NameAsReceived;
}
