using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Facts;

// Every fact about a plant, its growths, leaves, spikes, pots, photos and readings has the plant as its subject: a plant's whole life is
// one query, and can be told again without what was taken back.

/// <summary>A plant came to the bench, or became one of its own (division, keiki).</summary>
[FactKind("plant.arrived", 2)]
public sealed record PlantArrived(Guid PlantId, int Number, string NameAsReceived, string Kind, Habit Habit, Provenance? Provenance = null) : FactPayload;

/// <summary>What it proved to be.</summary>
[FactKind("plant.determined", 1)]
public sealed record PlantDetermined(Guid PlantId, string Name, string Evidence) : FactPayload;

/// <summary>Something else came than was ordered.</summary>
[FactKind("plant.arrived.wrong", 1)]
public sealed record WrongArrival(Guid PlantId, string Ordered, string Came, string? Agreed) : FactPayload;

/// <summary>Where its name comes from: seed parent first. A name is a plant's name or a grex; shares of ancestors follow from the crosses.</summary>
[FactKind("plant.parentage", 1)]
public sealed record PlantParentage(Guid PlantId, string SeedParent, string PollenParent) : FactPayload;

/// <summary>A registered or own cross, so that the shares of ancestors can be followed back.</summary>
[FactKind("cross.set", 1)]
public sealed record CrossSet(Guid CrossId, string Name, string SeedParent, string PollenParent) : FactPayload;

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

/// <summary>It is no longer on the bench: died, given away, sold.</summary>
[FactKind("plant.lost", 2)]
public sealed record PlantLost(Guid PlantId, string Cause, string? Seen = null) : FactPayload;

/// <summary>It is kept apart from now on.</summary>
[FactKind("quarantine.begun", 1)]
public sealed record QuarantineBegun(Guid PlantId, int Days, string Why) : FactPayload;

/// <summary>It may stand with the others again.</summary>
[FactKind("quarantine.ended", 1)]
public sealed record QuarantineEnded(Guid PlantId, string? Why) : FactPayload;

/// <summary>It was looked over for pests.</summary>
[FactKind("pest.checked", 1)]
public sealed record PestChecked(Guid PlantId, IReadOnlyList<string> Found, string? Note) : FactPayload;

/// <summary>It was tested for a virus.</summary>
[FactKind("virus.tested", 1)]
public sealed record VirusTested(Guid PlantId, string Virus, VirusTestMethod Method, VirusTestResult Result, string? Note) : FactPayload;

/// <summary>Anything else that was seen, in the grower's words.</summary>
[FactKind("plant.noted", 1)]
public sealed record PlantNoted(Guid PlantId, string Text) : FactPayload;
