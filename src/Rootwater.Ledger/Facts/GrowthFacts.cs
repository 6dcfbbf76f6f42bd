using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Facts;

/// <summary>A growth is there: begun, or there on arrival.</summary>
[FactKind("growth.seen", 1)]
public sealed record GrowthSeen(Guid PlantId, Guid GrowthId, int Number, GrowthForm Form, bool ThereOnArrival) : FactPayload;

/// <summary>A growth died or was taken off.</summary>
[FactKind("growth.ended", 1)]
public sealed record GrowthEnded(Guid PlantId, Guid GrowthId, string Cause) : FactPayload;

/// <summary>A leaf is there: new, or there on arrival (its age is then not known).</summary>
[FactKind("leaf.seen", 1)]
public sealed record LeafSeen(Guid PlantId, Guid GrowthId, Guid LeafId, int Position, bool ThereOnArrival) : FactPayload;

/// <summary>A leaf was measured, millimetres.</summary>
[FactKind("leaf.measured", 1)]
public sealed record LeafMeasured(Guid PlantId, Guid LeafId, double? LengthMillimetres, double? WidthMillimetres) : FactPayload;

/// <summary>Something is to be seen on a leaf.</summary>
[FactKind("leaf.marked", 1)]
public sealed record LeafMarked(Guid PlantId, Guid LeafId, LeafSign Sign, LeafPart Part, string? Note) : FactPayload;

/// <summary>A leaf is gone.</summary>
[FactKind("leaf.lost", 1)]
public sealed record LeafLost(Guid PlantId, Guid LeafId, LeafLoss Cause, string? Note) : FactPayload;

/// <summary>New roots show.</summary>
[FactKind("roots.seen", 1)]
public sealed record NewRootsSeen(Guid PlantId, Guid? GrowthId, int? Count) : FactPayload;

/// <summary>A spike (or a sheath that will hold one) shows.</summary>
[FactKind("spike.seen", 1)]
public sealed record SpikeSeen(Guid PlantId, Guid GrowthId, Guid SpikeId, double? LengthMillimetres) : FactPayload;

/// <summary>A spike was measured: millimetres, buds.</summary>
[FactKind("spike.measured", 1)]
public sealed record SpikeMeasured(Guid PlantId, Guid SpikeId, double? LengthMillimetres, int? Buds) : FactPayload;

/// <summary>The first flower of a spike opened.</summary>
[FactKind("bloom.opened", 1)]
public sealed record BloomOpened(Guid PlantId, Guid SpikeId) : FactPayload;

/// <summary>Flowers counted and measured (mm); scent in the grower's words. What is null was not looked at.</summary>
[FactKind("bloom.described", 1)]
public sealed record BloomDescribed(Guid PlantId, Guid SpikeId, int? Flowers, double? WidthMillimetres, double? HeightMillimetres, string? Scent) : FactPayload;

/// <summary>The last flower of a spike is over.</summary>
[FactKind("bloom.over", 1)]
public sealed record BloomOver(Guid PlantId, Guid SpikeId) : FactPayload;

/// <summary>A spike is gone.</summary>
[FactKind("spike.ended", 1)]
public sealed record SpikeEnded(Guid PlantId, Guid SpikeId, SpikeEnd Cause, string? Note) : FactPayload;
