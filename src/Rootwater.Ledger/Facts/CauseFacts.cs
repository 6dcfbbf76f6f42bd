namespace Rootwater.Ledger.Facts;

/// <summary>What was looked at on an ailing plant. Subject: the plant. Answers of one sheet add up; a later answer to the same clue counts, and one without a value takes it off the sheet.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="SheetId">The cause sheet: one per trouble.</param>
/// <param name="LeafId">The leaf it is about; null for the whole plant.</param>
/// <param name="Answers">What was looked at this time.</param>
/// <param name="Ranked">The ranking believed with it, likeliest first: kept, so that the record of hits needs no re-run and is honest.</param>
[FactKind("cause.seen", 1)]
public sealed record CauseSeen(Guid PlantId, Guid SheetId, Guid? LeafId, IReadOnlyList<CauseAnswer> Answers, IReadOnlyList<CauseBelieved> Ranked) : FactPayload;

/// <summary>A clue as it was found. Clues and values as in data/growing/clues.csv.</summary>
/// <param name="Clue">"pattern".</param>
/// <param name="Value">"even-yellow"; null where it does not count any more.</param>
public sealed record CauseAnswer(string Clue, string? Value);

/// <summary>A cause as it was believed.</summary>
/// <param name="Cause">As in data/growing/causes.csv.</param>
/// <param name="Share">0 to 1.</param>
public sealed record CauseBelieved(string Cause, double Share);

/// <summary>What it proved to be, later. Subject: the plant.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="SheetId">The cause sheet.</param>
/// <param name="Cause">As in data/growing/causes.csv; null where it never came out, or was none of them.</param>
/// <param name="Evidence">How it was known: a test, a clinic, the next leaf.</param>
[FactKind("cause.settled", 1)]
public sealed record CauseSettled(Guid PlantId, Guid SheetId, string? Cause, string Evidence) : FactPayload;
