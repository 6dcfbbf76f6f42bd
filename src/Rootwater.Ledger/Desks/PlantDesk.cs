using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Bench.Names;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Plants over the ledger.</summary>
public sealed partial class PlantDesk(BenchDatabase database, FactLog log, TimeProvider clock) : IPlantDesk
{
    private readonly AnswersInHand<IReadOnlyList<PlantCard>> _lists = new();

    public Task<IReadOnlyList<PlantCard>> ListAsync(BenchQuery? query = null, CancellationToken cancel = default) => database.ReadAsync(async db =>
    {
        var today = await TodayAsync(db, cancel);
        var asked = query ?? new BenchQuery();
        return await _lists.OfAsync(db, (asked, today), async () => await PlantCards.ReadAsync(db, asked, today, cancel), cancel);
    }, cancel);

    public Task<PlantLife?> GetAsync(Guid plantId, CancellationToken cancel = default) => database.ReadAsync(async db =>
        await db.PlantLives.FirstOrDefaultAsync(life => life.PlantId == plantId, cancel) is { } life ? await LifeAsync(db, life, cancel) : null, cancel);

    public async Task<PlantLife?> GetByNumberAsync(int number, CancellationToken cancel = default) =>
        await database.ReadAsync(db => db.Plants.Where(plant => plant.Number == number).Select(plant => (Guid?)plant.Id).FirstOrDefaultAsync(cancel), cancel) is { } id
            ? await GetAsync(id, cancel)
            : null;

    public Task<int> NextNumberAsync(CancellationToken cancel = default) => database.ReadAsync(async db =>
        1 + Math.Max(await db.Plants.MaxAsync(plant => (int?)plant.Number, cancel) ?? 0, await db.ForgottenPlants.MaxAsync(plant => (int?)plant.Number, cancel) ?? 0), cancel);

    public Task<IReadOnlyList<Place>> PlacesAsync(CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<Place>>(async db =>
        [.. (await db.Places.OrderBy(place => place.WalkOrder).ToListAsync(cancel)).Select(PlantCards.ToPlace)], cancel);

    /// <remarks>The same name counts as the same kind of plant; a living division, keiki or cutting counts as the same clone.</remarks>
    public async Task<IReadOnlyList<PlantCard>> SoleSpecimensAsync(CancellationToken cancel = default)
    {
        var standing = await ListAsync(cancel: cancel);
        var sole = await database.ReadAsync(async db =>
        {
            var plants = await db.Plants.ToListAsync(cancel);
            var virus = new VirusWords(plants, await TodayAsync(db, cancel));
            return SoleSpecimens.Find([.. plants.Where(plant => plant.LostOn is null).Select(plant => new Specimen(plant.Id, plant.CurrentName, plant.ParentPlantId, virus.Standing(plant.Id)))]);
        }, cancel);
        return [.. standing.Where(card => sole.Contains(card.Id))];
    }

    /// <summary>Whom a plant descends from: by its parentage where that was told, else by the crosses under its name.</summary>
    private static async Task<IReadOnlyList<AncestorShare>> AncestryAsync(LedgerContext db, PlantStory story, CancellationToken cancel)
    {
        var book = new CrossBook((await db.Crosses.ToListAsync(cancel)).Select(cross => new Cross(cross.Name, cross.SeedParent, cross.PollenParent)));
        var ancestry = story.Parentage is { } parents ? book.Of(story.CurrentName, parents.SeedParent, parents.PollenParent) : book.Of(story.CurrentName);
        return ancestry.Root.End == AncestorEnd.HasParents ? [.. ancestry.Founders.Select(founder => new AncestorShare(founder.Name, founder.Share))] : [];
    }

    private async Task<DateOnly> TodayAsync(LedgerContext db, CancellationToken cancel) =>
        BenchClock.DayAt(clock.GetUtcNow(), (await db.Benches.FirstOrDefaultAsync(cancel))?.Zone ?? "UTC");

    private async Task<PlantLife> LifeAsync(LedgerContext db, PlantLifeRow life, CancellationToken cancel)
    {
        var story = FactJson.Read<PlantStory>(life.Life);
        var id = story.PlantId;
        var today = await TodayAsync(db, cancel);
        var card = (await PlantCards.ReadOneAsync(db, id, today, cancel))!;
        var apart = card.Quarantine;
        var places = await db.Places.ToDictionaryAsync(place => place.Id, place => place.Name, cancel);
        var parentId = story.Arrived!.Provenance?.ParentPlantId;
        var refs = (await db.Plants.Where(plant => plant.ParentPlantId == id || plant.Id == parentId)
            .Select(plant => new { plant.Id, plant.Number, plant.DeterminedName, plant.NameAsReceived }).ToListAsync(cancel))
            .ConvertAll(plant => new PlantRef(plant.Id, plant.Number, plant.DeterminedName ?? plant.NameAsReceived));
        var gone = story.Lost?.When.EarliestDay;
        return new PlantLife
        {
            Card = card,
            Arrived = story.Arrived.When,
            Provenance = story.Arrived.Provenance ?? new Provenance(),
            Names = story.Names,
            WrongArrival = story.Wrong,
            SeedParent = story.Parentage?.SeedParent,
            PollenParent = story.Parentage?.PollenParent,
            Ancestry = await AncestryAsync(db, story, cancel),
            TakenFrom = refs.Find(plant => plant.Id == parentId),
            TakenFromIt = [.. refs.Where(plant => plant.Id != parentId).OrderBy(plant => plant.Number)],
            Growths = story.Growths,
            NewRoots = story.NewRoots,
            Pots = [.. (await db.Pots.Where(pot => pot.PlantId == id).OrderBy(pot => pot.FilledOn).ThenBy(pot => pot.Id).ToListAsync(cancel)).Select(pot => new PotTime(pot.ToPot(), pot.FilledOn, pot.LeftOn ?? gone))],
            Places = [.. story.Moves.Select((move, i) => new PlaceTime(
                move.PlaceId, places.GetValueOrDefault(move.PlaceId, "?"), move.When.EarliestDay, i + 1 < story.Moves.Count ? story.Moves[i + 1].When.EarliestDay : gone))],
            StatesOverTime = [.. story.States.Select(told => new StatesTime(told.When.EarliestDay, told.States))],
            Quarantines = story.Quarantines,
            Clock = apart is null ? null : QuarantineRules.Clock(apart, today),
            QuarantineWaits = apart is null ? [] : QuarantineRules.Waits(apart, story.PestChecks, new VirusWords(await db.Plants.ToListAsync(cancel), today).Standing(id), today),
            VirusTests = story.VirusTests,
            PestChecks = story.PestChecks,
            Given = await GivenAsync(db, id, cancel),
            Readings = [.. (await db.TakenReadings.Where(reading => reading.PlantId == id).OrderBy(reading => reading.At).ThenBy(reading => reading.FactId).ToListAsync(cancel)).Select(reading => reading.ToView(card.Number))],
            Photos = [.. (await db.Photos.Where(photo => photo.PlantId == id).OrderBy(photo => photo.TakenAt).ThenBy(photo => photo.Id).ToListAsync(cancel)).Select(photo => photo.ToView())],
            Notes = story.Notes,
            LeafCounts = [.. LeafCounts.OverTime(story.Growths).Select(count => new LeafCount(count.From, count.Leaves))],
            LostCause = story.Lost?.Cause,
            LostSeen = story.Lost?.Seen,
        };
    }

    private static async Task<IReadOnlyList<Given>> GivenAsync(LedgerContext db, Guid plantId, CancellationToken cancel)
    {
        var poured = await (
            from feeding in db.Feedings
            where feeding.PlantId == plantId
            join can in db.CanContents on feeding.CanId equals (Guid?)can.CanId into cans
            from can in cans.DefaultIfEmpty()
            orderby feeding.Day, feeding.FactId
            select new
            {
                feeding.Day,
                feeding.What,
                feeding.CanId,
                Letter = (string?)can.Letter,
                feeding.Millilitres,
                Ec = (double?)can.EcMicrosiemensPerCm,
                PH = (double?)can.PH,
            }).ToListAsync(cancel);
        return [.. poured.Select(pour => new Given(pour.Day, pour.What, pour.CanId, pour.Letter, pour.Millilitres, pour.Ec, pour.PH))];
    }
}
