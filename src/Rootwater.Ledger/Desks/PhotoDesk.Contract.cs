namespace Rootwater.Ledger.Desks;

/// <summary>Photos: taken in by content, cleaned of where they were taken, kept under their hash beside the database.</summary>
public interface IPhotoDesk
{
    /// <summary>Takes a picture in: checked by content, turned upright, re-encoded without metadata, taken-date kept.</summary>
    /// <exception cref="EntryException">Not a picture this program reads, too large, or broken.</exception>
    Task<PhotoView> AddAsync(NewPhoto photo, Stream content, CancellationToken cancel = default);

    /// <summary>Oldest first.</summary>
    Task<IReadOnlyList<PhotoView>> ListAsync(Guid plantId, CancellationToken cancel = default);

    /// <summary>The stored JPEG, whole or as a thumbnail; null where there is none.</summary>
    Task<Stream?> OpenAsync(Guid photoId, PhotoSize size, CancellationToken cancel = default);
}

/// <summary>A picture on its way in.</summary>
public sealed record NewPhoto
{
    /// <summary>Made by whoever takes it; the idempotency key.</summary>
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Guid PlantId { get; init; }
    public string? Caption { get; init; }

    /// <summary>When it was taken; from the picture's own data when null, else now.</summary>
    public DateTime? TakenAt { get; init; }
}

/// <summary>How large.</summary>
public enum PhotoSize
{
    Whole,
    Thumbnail,
}

/// <summary>A kept photo.</summary>
public sealed record PhotoView(Guid Id, Guid PlantId, DateTime TakenAt, string? Caption, int Width, int Height, long Bytes, string Sha256);
