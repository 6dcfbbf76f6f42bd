using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>Walks along the bench, readings of pots and places, and photos.</summary>
internal static class RoundProjection
{
    public static async Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel)
    {
        switch (payload)
        {
            case RoundBegun begun:
                db.Rounds.Add(new RoundRow { Id = begun.RoundId, AsOf = begun.AsOf, Position = fact.Position });
                break;
            case RoundEnded ended:
                var round = await Projector.RequiredAsync<RoundRow>(db, "round", cancel, ended.RoundId);
                (round.EndedFactId, round.Note) = (fact.Id, ended.Note);
                break;
            case ReadingTaken taken:
                db.AddOnce(new TakenReadingRow
                {
                    Id = taken.ReadingId,
                    FactId = fact.Id,
                    Of = taken.Of,
                    From = taken.From,
                    At = fact.Earliest,
                    PlantId = taken.PlantId,
                    PotId = taken.PotId,
                    PlaceId = taken.PlaceId,
                    EcMicrosiemensPerCm = taken.EcMicrosiemensPerCm,
                    PH = taken.PH,
                    TemperatureCelsius = taken.TemperatureCelsius,
                    LevelShare = taken.LevelShare,
                    RelativeHumidity = taken.RelativeHumidity,
                    PpfdMicromolesPerSquareMetrePerSecond = taken.PpfdMicromolesPerSquareMetrePerSecond,
                    Lux = taken.Lux,
                    Note = taken.Note,
                });
                break;
            case AirDay air:
                db.AddOnce(new AirDayRow { FactId = fact.Id, PlaceId = air.PlaceId, Day = air.Day, From = air.From, Samples = air.Samples });
                break;
            case PhotoAdded photo:
                var story = await db.Stories.RequiredAsync(photo.PlantId, cancel);
                db.AddOnce(new PhotoRow
                {
                    Id = photo.PhotoId,
                    FactId = fact.Id,
                    PlantId = photo.PlantId,
                    TakenAt = fact.Earliest,
                    Sha256 = photo.Sha256,
                    Width = photo.Width,
                    Height = photo.Height,
                    Bytes = photo.Bytes,
                    Caption = photo.Caption,
                });
                if (story.PhotoId is not null && story.PhotoTakenAt is null)
                {
                    await NewestPhotoAsync(db, photo.PlantId, cancel);
                }
                else if (story.PhotoId is null || Compare((fact.Earliest, photo.PhotoId), (story.PhotoTakenAt!, story.PhotoId.Value)) > 0)
                {
                    (story.PhotoId, story.PhotoTakenAt) = (photo.PhotoId, fact.Earliest);
                    db.Stories.CardChanged(photo.PlantId);
                }

                break;
        }
    }

    /// <summary>Looks up which photo of a plant is the newest.</summary>
    public static async Task NewestPhotoAsync(LedgerContext db, Guid plantId, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        if (await db.Stories.FindAsync(plantId, cancel) is { } story)
        {
            // Few per plant; compared here, because the databases sort ids each in their own way.
            var newest = (await db.Photos.AsNoTracking().Where(photo => photo.PlantId == plantId).Select(photo => new { photo.TakenAt, photo.Id }).ToListAsync(cancel))
                .MaxBy(photo => (photo.TakenAt, photo.Id), Comparer<(string, Guid)>.Create(Compare));
            (story.PhotoId, story.PhotoTakenAt) = (newest?.Id, newest?.TakenAt);
            db.Stories.CardChanged(plantId);
        }
    }

    private static int Compare((string TakenAt, Guid Id) a, (string TakenAt, Guid Id) b) =>
        string.CompareOrdinal(a.TakenAt, b.TakenAt) is var first and not 0 ? first : a.Id.CompareTo(b.Id);
}
