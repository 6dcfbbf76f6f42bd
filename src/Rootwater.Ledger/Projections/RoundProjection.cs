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
                db.TakenReadings.Add(new TakenReadingRow
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
                db.AirDays.Add(new AirDayRow { FactId = fact.Id, PlaceId = air.PlaceId, Day = air.Day, From = air.From, Samples = air.Samples });
                break;
            case PhotoAdded photo:
                await db.Stories.RequiredAsync(photo.PlantId, cancel);
                db.Photos.Add(new PhotoRow
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
                await NewestPhotoAsync(db, photo.PlantId, cancel);
                break;
        }
    }

    public static async Task NewestPhotoAsync(LedgerContext db, Guid plantId, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        if (await db.Stories.FindAsync(plantId, cancel) is { } story)
        {
            story.PhotoId = (await db.Photos.Where(photo => photo.PlantId == plantId).OrderByDescending(photo => photo.TakenAt).ThenByDescending(photo => photo.Id)
                .Select(photo => new { photo.Id }).FirstOrDefaultAsync(cancel))?.Id;
            db.Stories.CardChanged(plantId);
        }
    }
}
