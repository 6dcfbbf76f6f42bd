using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Desks;

/// <summary>Photos over the ledger and the folder beside it. A photo's id is also that of its fact: it is taken back by that id.</summary>
public sealed class PhotoDesk(BenchDatabase database, IFactDesk facts, TimeProvider clock) : IPhotoDesk
{
    // Cameras whose clock was never set say 1970, 1980 or 2000.
    private static readonly DateTime s_earliest = new(2000, 1, 2);

    private readonly PhotoStore _store = new(database.PhotosFolder);

    public async Task<PhotoView> AddAsync(NewPhoto photo, Stream content, CancellationToken cancel = default)
    {
        if (await KnownAsync(photo, cancel) is { } sent)
        {
            return sent;
        }

        var zone = await database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Zone, cancel);
        var now = BenchClock.MinuteAt(clock.GetUtcNow(), zone).Earliest;
        var picture = await PictureCleaner.CleanAsync(content, cancel: cancel);
        var camera = picture.TakenAt is { } told && told > s_earliest && told <= now.AddDays(1) ? told : (DateTime?)null;
        // The picture first: a fact must never name one that is not there. One that no fact came to name takes room and does no harm.
        await _store.KeepAsync(picture, cancel);
        await facts.WriteAsync(
        [
            new NewFact
            {
                Id = photo.Id,
                SubjectId = photo.PlantId,
                Payload = new PhotoAdded(photo.Id, photo.PlantId, picture.Sha256, picture.Width, picture.Height, picture.Jpeg.Length, photo.Caption),
                When = FactWhen.AtMinute(photo.TakenAt ?? camera ?? now, zone),
            },
        ], cancel: cancel);
        return await ViewAsync(photo.Id, cancel) ?? throw new LedgerProblem(LedgerFault.Conflict, "The photo was taken back while it was being added.");
    }

    public Task<IReadOnlyList<PhotoView>> ListAsync(Guid plantId, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<PhotoView>>(async db =>
        [.. (await db.Photos.Where(row => row.PlantId == plantId).OrderBy(row => row.TakenAt).ThenBy(row => row.Id).ToListAsync(cancel)).Select(row => row.ToView())], cancel);

    public async Task<Stream?> OpenAsync(Guid photoId, PhotoSize size, CancellationToken cancel = default) =>
        await ViewAsync(photoId, cancel) is { } view ? await _store.OpenAsync(view.Sha256, size == PhotoSize.Thumbnail, cancel) : null;

    /// <summary>One photo; null where there is none.</summary>
    public Task<PhotoView?> ViewAsync(Guid photoId, CancellationToken cancel = default) =>
        database.ReadAsync(async db => (await db.Photos.FirstOrDefaultAsync(row => row.Id == photoId, cancel))?.ToView(), cancel);

    /// <summary>Takes stored pictures away for good: for a plant that is forgotten.</summary>
    internal Task RemoveAsync(IReadOnlyList<string> hashes)
    {
        foreach (var hash in hashes)
        {
            _store.Remove(hash);
        }

        return Task.CompletedTask;
    }

    // A telephone that never heard the answer sends again; it must not wait for the picture to be drawn a second time.
    private async Task<PhotoView?> KnownAsync(NewPhoto photo, CancellationToken cancel)
    {
        var view = await ViewAsync(photo.Id, cancel);
        return view is null || view.PlantId == photo.PlantId ? view : throw new EntryException("id", photo.Id.ToString(), "a new id: this one stands for a photo of another plant");
    }
}
