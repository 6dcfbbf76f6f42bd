namespace Rootwater.Ledger.Facts;

/// <summary>A photo of a plant; the picture itself lies beside the database under its hash. When = the day it was taken. Subject: the plant.</summary>
/// <param name="PhotoId">The photo.</param>
/// <param name="PlantId">The plant.</param>
/// <param name="Sha256">Of the stored (re-encoded) picture, lower-case hex.</param>
/// <param name="Width">Pixels.</param>
/// <param name="Height">Pixels.</param>
/// <param name="Bytes">Stored size.</param>
/// <param name="Caption">In the grower's words.</param>
[FactKind("photo.added", 1)]
public sealed record PhotoAdded(Guid PhotoId, Guid PlantId, string Sha256, int Width, int Height, long Bytes, string? Caption) : FactPayload;
