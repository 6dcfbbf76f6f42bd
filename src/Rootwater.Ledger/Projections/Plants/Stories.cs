using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>The plants that are being written about: told from memory, set down as rows when all is told.</summary>
internal sealed class Stories(LedgerContext db)
{
    private readonly Dictionary<Guid, Told> _told = [];

    /// <summary>The plant's story so far; null where there is no such plant.</summary>
    public async Task<PlantStory?> FindAsync(Guid plantId, CancellationToken cancel)
    {
        if (_told.TryGetValue(plantId, out var told))
        {
            return told.Story.Arrived is null ? null : told.Story;
        }

        if (await db.PlantLives.FindAsync([plantId], cancel) is not { } life)
        {
            return null;
        }

        var story = FactJson.Read<PlantStory>(life.Life);
        var row = (await db.Plants.FindAsync([plantId], cancel))!;
        (story.LastFedOn, story.LastGivenOn, story.PhotoId) = (row.LastFedOn, row.LastGivenOn, row.PhotoId);
        foreach (var pot in await db.Pots.Where(pot => pot.PlantId == plantId).ToListAsync(cancel))
        {
            story.Drinks[pot.Id] = (pot.LastFedOn, pot.LastGivenOn);
        }

        _told[plantId] = new Told(story, kept: true);
        return story;
    }

    /// <exception cref="EntryException">There is no such plant.</exception>
    public async Task<PlantStory> RequiredAsync(Guid plantId, CancellationToken cancel) =>
        await FindAsync(plantId, cancel) ?? throw new EntryException("plant", plantId.ToString(), "must be on this bench already");

    /// <summary>A plant that is new, or told again from its beginning.</summary>
    public void Set(PlantStory story) => (_told[story.PlantId] = new Told(story, kept: _told.GetValueOrDefault(story.PlantId)?.Kept ?? false)).LifeChanged = true;

    public void LifeChanged(Guid plantId) => _told[plantId].LifeChanged = true;

    /// <summary>Only what it drank or its newest photo: the life stays as it is.</summary>
    public void CardChanged(Guid plantId) => _told[plantId].CardChanged = true;

    public IEnumerable<PlantStory> InHand => _told.Values.Select(told => told.Story);

    /// <summary>Sets down the rows of all plants that changed.</summary>
    public async Task WriteRowsAsync(CancellationToken cancel)
    {
        foreach (var told in _told.Values.Where(told => told.LifeChanged || told.CardChanged))
        {
            if (told.Story.Arrived is null)
            {
                await RemoveAsync(told, cancel);
            }
            else
            {
                await WriteAsync(told, cancel);
            }

            (told.LifeChanged, told.CardChanged) = (false, false);
        }
    }

    private async Task WriteAsync(Told told, CancellationToken cancel)
    {
        var story = told.Story;
        var plant = told.Kept ? await db.Plants.FindAsync([story.PlantId], cancel) : null;
        if (plant is null)
        {
            db.Plants.Add(plant = new PlantRow { Id = story.PlantId, NameAsReceived = "", Kind = "", States = [], LeafTrouble = [], VirusTests = [] });
        }

        PlantRows.Fill(plant, story);
        if (told.LifeChanged)
        {
            var life = told.Kept ? await db.PlantLives.FindAsync([story.PlantId], cancel) : null;
            if (life is null)
            {
                db.PlantLives.Add(life = new PlantLifeRow { PlantId = story.PlantId, Life = "", Words = "" });
            }

            (life.Life, life.Words) = (FactJson.Write(story), PlantRows.Words(story));
        }

        await WritePotsAsync(told, cancel);
        told.Kept = true;
    }

    private async Task WritePotsAsync(Told told, CancellationToken cancel)
    {
        var story = told.Story;
        var rows = told.Kept ? await db.Pots.Where(pot => pot.PlantId == story.PlantId).ToListAsync(cancel) : [];
        foreach (var id in story.Pots.Select(told => told.Pot.Id).Distinct())
        {
            var row = rows.Find(pot => pot.Id == id);
            if (row is null)
            {
                db.Pots.Add(row = new PotRow { Id = id, PlantId = story.PlantId, Medium = "" });
            }

            PlantRows.Fill(row, story);
        }

        db.Pots.RemoveRange(rows.Where(row => story.Pots.TrueForAll(told => told.Pot.Id != row.Id)));
    }

    private async Task RemoveAsync(Told told, CancellationToken cancel)
    {
        var id = told.Story.PlantId;
        if (!told.Kept)
        {
            return;
        }

        db.Plants.Remove((await db.Plants.FindAsync([id], cancel))!);
        db.PlantLives.Remove((await db.PlantLives.FindAsync([id], cancel))!);
        db.Pots.RemoveRange(await db.Pots.Where(pot => pot.PlantId == id).ToListAsync(cancel));
        told.Kept = false;
    }

    private sealed class Told(PlantStory story, bool kept)
    {
        public PlantStory Story { get; } = story;

        /// <summary>Has rows.</summary>
        public bool Kept { get; set; } = kept;
        public bool LifeChanged { get; set; }
        public bool CardChanged { get; set; }
    }
}
