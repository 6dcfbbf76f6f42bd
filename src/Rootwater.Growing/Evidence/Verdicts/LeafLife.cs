namespace Rootwater.Growing.Evidence.Verdicts;

/// <summary>A leaf (or growth, or bloom) of a plant, by days.</summary>
/// <param name="Plant">The plant it hangs on.</param>
/// <param name="BornDay">Day number its life began. For a leaf of unknown age: the day it was first seen, and the answer is then about time since then.</param>
/// <param name="WatchedFromDay">Day number watching began; the same as <paramref name="BornDay"/> where it was watched from the start.</param>
/// <param name="LastDay">Day number of loss, or when last seen.</param>
/// <param name="Lost">True where it was lost.</param>
public readonly record struct LeafLife(string Plant, double BornDay, double WatchedFromDay, double LastDay, bool Lost);

/// <summary>Something that changed for a plant on a day: a repot, a move, a new lamp, the heating. What the ledger knows besides the feed.</summary>
public sealed record OtherChange(string What, double Day, string? Plant = null);
