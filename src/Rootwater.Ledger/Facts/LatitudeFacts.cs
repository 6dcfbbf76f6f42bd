namespace Rootwater.Ledger.Facts;

/// <summary>How far north (or, below 0, south) the bench stands, −90 to 90 degrees; null where it is no longer said. Subject: the bench. South of the equator the usual months of rests lie half a year apart.</summary>
[FactKind("bench.latitude", 1)]
public sealed record LatitudeSet(double? Degrees) : FactPayload;
