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

/// <summary>A plant came to the bench.</summary>
[FactKind("plant.arrived", 1)]
public sealed record PlantArrived(Guid PlantId, int Number, string NameAsReceived, string Kind, Habit Habit) : FactPayload;

/// <summary>What it proved to be.</summary>
[FactKind("plant.determined", 1)]
public sealed record PlantDetermined(Guid PlantId, string Name, string Evidence) : FactPayload;

/// <summary>What its growths were seen doing; replaces what was seen before.</summary>
[FactKind("plant.states", 1)]
public sealed record PlantStatesSeen(Guid PlantId, IReadOnlyList<PlantState> States) : FactPayload;

/// <summary>Which want it is fed by from now on.</summary>
[FactKind("plant.want", 1)]
public sealed record PlantWantChosen(Guid PlantId, Guid WantId) : FactPayload;

/// <summary>It stands somewhere else.</summary>
[FactKind("plant.moved", 1)]
public sealed record PlantMoved(Guid PlantId, Guid PlaceId) : FactPayload;

/// <summary>It was put into a pot.</summary>
[FactKind("plant.potted", 1)]
public sealed record PlantPotted(Guid PlantId, Pot Pot) : FactPayload;

/// <summary>It is no longer on the bench.</summary>
[FactKind("plant.lost", 1)]
public sealed record PlantLost(Guid PlantId, string Cause) : FactPayload;
