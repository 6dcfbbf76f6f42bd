using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Entry;

namespace Rootwater.Ledger.Facts;

/// <summary>A new product begins its way into the cupboard: as its label was read on the day. Subject: the bench, so that all that were begun are found.</summary>
/// <param name="EntryId">Also the product's id.</param>
/// <param name="Product">As read.</param>
/// <param name="Formula">Where it was entered by one.</param>
/// <param name="MadeOf">Which salts it must be made of, in words.</param>
/// <param name="KnownAs">A product of the cupboard of the same name, where there is one.</param>
/// <param name="Change">What its label says otherwise, in words.</param>
[FactKind("product.entry.begun", 1)]
public sealed record ProductEntryBegun(Guid EntryId, Product Product, string? Formula, IReadOnlyList<string> MadeOf, Guid? KnownAs, string? Change) : FactPayload;

/// <summary>A test can is planned, in the water as it was understood. Subject of this and all further steps: the entry.</summary>
[FactKind("product.entry.test.planned", 1)]
public sealed record ProductTestPlanned(Guid EntryId, double GramsPerLitre, double Litres, Guid WaterId, ComponentAmounts WaterMolPerKg, double TemperatureCelsius) : FactPayload;

/// <summary>What the pens read in the test can: µS/cm at 25 °C, pH; a null was not read.</summary>
[FactKind("product.entry.test.read", 1)]
public sealed record ProductTestRead(Guid EntryId, double? EcMicrosiemensPerCm, double? PH) : FactPayload;

/// <summary>The look against the light after a day.</summary>
[FactKind("product.entry.test.looked", 1)]
public sealed record ProductTestLooked(Guid EntryId, bool Clear, string? Note) : FactPayload;

/// <summary>A few plants of little value get it beside matched ones that do not; what will be compared is fixed here.</summary>
[FactKind("product.entry.trial.begun", 1)]
public sealed record ProductTrialBegun(Guid EntryId, IReadOnlyList<TrialPair> Pairs, string Outcome) : FactPayload;

/// <summary>How the trial went, in pairs.</summary>
[FactKind("product.entry.trial.judged", 1)]
public sealed record ProductTrialJudged(Guid EntryId, int Worse, int Better, string? Note) : FactPayload;

/// <summary>Taken into the cupboard, or not, and why.</summary>
[FactKind("product.entry.decided", 1)]
public sealed record ProductDecided(Guid EntryId, bool Accepted, string Why) : FactPayload;
