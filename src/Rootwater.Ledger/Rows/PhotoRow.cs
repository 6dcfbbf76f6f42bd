using System.Globalization;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Rows;

/// <summary>A photo; the picture lies beside the database under its hash.</summary>
public sealed class PhotoRow
{
    public Guid Id { get; set; }
    public Guid FactId { get; set; }
    public Guid PlantId { get; set; }

    /// <summary>Local minute as text that sorts.</summary>
    public required string TakenAt { get; set; }
    public required string Sha256 { get; set; }
    public int Width { get; set; }
    public int Height { get; set; }
    public long Bytes { get; set; }
    public string? Caption { get; set; }

    public PhotoView ToView() => new(Id, PlantId, DateTime.ParseExact(TakenAt, "yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture), Caption, Width, Height, Bytes, Sha256);
}
