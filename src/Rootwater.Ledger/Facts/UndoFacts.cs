namespace Rootwater.Ledger.Facts;

/// <summary>A fact is taken back; <see cref="Fact.Corrects"/> names it. Subject: that of the fact taken back.</summary>
[FactKind("fact.undone", 1)]
public sealed record FactUndone(Guid FactId, string? Why) : FactPayload;

/// <summary>A plant was forgotten on purpose: its facts stand emptied at their positions, so that the ledger shows how many went. Subject: the bench.</summary>
[FactKind("plant.forgotten", 1)]
public sealed record PlantForgotten(Guid PlantId, int FactsRemoved, int PhotosRemoved, int Number = 0) : FactPayload;

/// <summary>What stands where a forgotten fact stood.</summary>
[FactKind("fact.emptied", 1)]
public sealed record FactEmptied : FactPayload;

/// <summary>How the reader wants units; storage stays SI. Also the base address inside QR codes.</summary>
[FactKind("settings.set", 1)]
public sealed record SettingsSet(Growing.ReadersUnits Units, string? BaseAddress) : FactPayload;
