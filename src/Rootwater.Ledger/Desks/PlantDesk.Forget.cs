using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

// Forgetting: the one way anything leaves the ledger.
public sealed partial class PlantDesk
{
    /// <summary>Takes away stored pictures by their hash; called once nothing in the ledger names them.</summary>
    public Func<IReadOnlyList<string>, CancellationToken, Task> RemovePictures { get; set; } = (_, _) => Task.CompletedTask;

    public Task<ForgetPreview> ForgetPreviewAsync(Guid plantId, CancellationToken cancel = default) => database.ReadAsync(db => PreviewAsync(db, plantId, cancel), cancel);

    public async Task<ForgetPreview> ForgetAsync(Guid plantId, CancellationToken cancel = default)
    {
        var (preview, pictures) = await database.WriteAsync(async db =>
        {
            await database.OverwriteWhatGoesAsync(db, cancel);
            var going = await PreviewAsync(db, plantId, cancel);
            var hashes = await db.Photos.Where(photo => photo.PlantId == plantId).Select(photo => photo.Sha256).Distinct().ToListAsync(cancel);
            await EmptyAsync(db, plantId, cancel);
            await log.AppendWithinAsync(
                db, new NewFact { Id = Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = Guid.Empty, Payload = new PlantForgotten(plantId, going.Facts, going.Photos, going.Number) }, cancel);
            hashes.RemoveAll((await db.Photos.Where(photo => hashes.Contains(photo.Sha256)).Select(photo => photo.Sha256).ToListAsync(cancel)).Contains);
            return (going, hashes);
        }, cancel);
        await database.SettleFileAsync(cancel);
        await RemovePictures(pictures, cancel);
        return preview;
    }

    private static async Task<ForgetPreview> PreviewAsync(LedgerContext db, Guid plantId, CancellationToken cancel)
    {
        var plant = await db.Plants.AsNoTracking().FirstOrDefaultAsync(row => row.Id == plantId, cancel)
            ?? throw new EntryException("plant", plantId.ToString(), "a plant on this bench");
        var facts = await db.Facts.CountAsync(fact => fact.SubjectId == plantId, cancel);
        var photos = await db.Photos.CountAsync(photo => photo.PlantId == plantId, cancel);
        var feedings = await db.Feedings.CountAsync(feeding => feeding.PlantId == plantId, cancel);
        var readings = await db.TakenReadings.CountAsync(reading => reading.PlantId == plantId, cancel);
        var divisions = await db.Plants.Where(row => row.ParentPlantId == plantId).OrderBy(row => row.Number).Select(row => row.Number).ToListAsync(cancel);
        var cards = await db.Feedings.Where(feeding => feeding.PlantId == plantId && feeding.CanId != null).Select(feeding => feeding.CanId).Distinct().CountAsync(cancel);
        List<string> words =
        [
            FactWords.Say($"No. {plant.Number}, {plant.CurrentName}: its names, growths, leaves, spikes, notes and all else told of it, {facts} facts in all."),
            FactWords.Say($"{feedings} times it was given something, and {readings} readings of its pots. What was drawn from cans for it counts as not drawn."),
            FactWords.Say($"{photos} photos, with their pictures."),
            FactWords.Say($"Number {plant.Number} is not given again. The ledger keeps {facts} empty places, so that it shows how much went."),
            "Backups made before keep all of it until they age out.",
        ];
        if (cards > 0)
        {
            words.Add(FactWords.Say($"The cards of {cards} cans keep its number, name and portion: a card is kept as it was mixed by."));
        }

        if (divisions.Count > 0)
        {
            words.Add($"What was taken from it stays (no. {string.Join(", ", divisions)}), but no longer shows where it came from, nor what tests of this plant said.");
        }

        return new ForgetPreview(plant.Number, plant.CurrentName, facts, photos, words);
    }

    private static async Task EmptyAsync(LedgerContext db, Guid plantId, CancellationToken cancel)
    {
        var given = FactKinds.NameOf<PlantGiven>();
        var positions = await db.Facts.Where(fact => fact.SubjectId == plantId && fact.Kind == given).ToDictionaryAsync(fact => fact.Id, fact => fact.Position, cancel);
        var feedings = await db.Feedings.Where(feeding => feeding.PlantId == plantId).ToListAsync(cancel);
        db.Feedings.RemoveRange(feedings);
        await db.SendRowsAsync(cancel);
        foreach (var poured in feedings.Where(feeding => feeding.CanId is not null))
        {
            var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, poured.CanId!.Value);
            if (positions.TryGetValue(poured.FactId, out var position))
            {
                CanDraws.Draw(can, -CanDraws.Microlitres(poured.Millilitres / 1000), position);
                await CanDraws.RecountFirstPouredAsync(db, can, cancel);
            }
        }

        await db.SendRowsAsync(cancel);
        await db.Skips.Where(row => row.PlantId == plantId).ExecuteDeleteAsync(cancel);
        await db.TakenReadings.Where(row => row.PlantId == plantId).ExecuteDeleteAsync(cancel);
        await db.Photos.Where(row => row.PlantId == plantId).ExecuteDeleteAsync(cancel);
        await db.Pots.Where(row => row.PlantId == plantId).ExecuteDeleteAsync(cancel);
        await db.PlantLives.Where(row => row.PlantId == plantId).ExecuteDeleteAsync(cancel);
        await db.Plants.Where(row => row.Id == plantId).ExecuteDeleteAsync(cancel);
        var (kind, version, json) = FactKinds.Write(new FactEmptied());
        var never = FactWhen.ToStored(DateTime.MinValue);
        await db.Facts.Where(fact => fact.SubjectId == plantId).ExecuteUpdateAsync(set => set
            .SetProperty(fact => fact.Kind, kind).SetProperty(fact => fact.Version, version).SetProperty(fact => fact.Payload, json)
            .SetProperty(fact => fact.SubjectId, Guid.Empty).SetProperty(fact => fact.Corrects, (Guid?)null)
            .SetProperty(fact => fact.Precision, WhenPrecision.Minute).SetProperty(fact => fact.Earliest, never).SetProperty(fact => fact.Latest, never)
            .SetProperty(fact => fact.Who, "").SetProperty(fact => fact.Device, "").SetProperty(fact => fact.Sequence, 0L), cancel);
    }
}
