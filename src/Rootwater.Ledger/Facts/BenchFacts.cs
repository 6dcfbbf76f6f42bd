using Rootwater.Growing.Bench;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Facts;

/// <summary>The bench begins; its clock is that of <paramref name="Zone"/>.</summary>
[FactKind("bench.opened", 1)]
public sealed record BenchOpened(string Name, string Zone) : FactPayload;

/// <summary>Scale, syringe and pens at hand from now on.</summary>
[FactKind("tools.set", 1)]
public sealed record ToolsSet(Tools Tools) : FactPayload;

/// <summary>A vessel to mix in.</summary>
[FactKind("vessel.set", 1)]
public sealed record VesselSet(Guid VesselId, Vessel Vessel) : FactPayload;

/// <summary>A place on the walk.</summary>
[FactKind("place.set", 1)]
public sealed record PlaceSet(Place Place) : FactPayload;

/// <summary>What plants of some kind want of their feed.</summary>
[FactKind("want.set", 1)]
public sealed record WantSet(Guid WantId, Want Want) : FactPayload;
