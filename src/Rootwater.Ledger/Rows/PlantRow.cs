using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A plant as it is now: the few lines that lists show. Its whole life is in <see cref="PlantLifeRow"/>.</summary>
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
    public Propagation RaisedAs { get; set; }

    /// <summary>The plant it was taken from.</summary>
    public Guid? ParentPlantId { get; set; }
    public Guid? WantId { get; set; }
    public Guid? PlaceId { get; set; }
    public DateOnly? LostOn { get; set; }
    public string? LostCause { get; set; }
    public int LivingLeaves { get; set; }

    /// <summary>The longest living spike.</summary>
    public double? SpikeMillimetres { get; set; }

    /// <summary>Marks on leaves that still live, most pressing first.</summary>
    public required IReadOnlyList<string> LeafTrouble { get; set; }

    /// <summary>The latest; it may have ended.</summary>
    public Quarantine? Quarantine { get; set; }

    /// <summary>Its own tests; its parent's count too.</summary>
    public required IReadOnlyList<VirusTest> VirusTests { get; set; }

    /// <summary>Last day it got feed, in whatever pot.</summary>
    public DateOnly? LastFedOn { get; set; }

    /// <summary>Last day it got anything to drink.</summary>
    public DateOnly? LastGivenOn { get; set; }
    public Guid? PhotoId { get; set; }
    public string CurrentName => DeterminedName ?? NameAsReceived;
}
