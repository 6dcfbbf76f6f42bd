using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>What plants were given, one by one, and that they were passed by.</summary>
internal static class FeedingProjection
{
    public static async Task GiveAsync(LedgerContext db, Fact fact, PlantGiven given, CancellationToken cancel)
    {
        var story = await db.Stories.RequiredAsync(given.PlantId, cancel);
        var day = fact.When.EarliestDay;
        var pot = story.PotOn(day)?.Id;
        db.AddOnce(new FeedingRow
        {
            FactId = fact.Id,
            PlantId = given.PlantId,
            PotId = pot,
            What = given.What,
            CanId = given.CanId,
            WaterId = given.WaterId,
            RoundId = given.RoundId,
            Day = day,
            Millilitres = given.Millilitres,
        });
        story.Gave(day, given.What == Pouring.Feed, pot);
        db.Stories.CardChanged(given.PlantId);
        if (given.CanId is { } canId)
        {
            var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, canId);
            CanDraws.Draw(can, Microlitres(given), fact.Position);
            CanDraws.FirstPoured(can, day);
        }
    }

    public static async Task TakeBackAsync(LedgerContext db, Fact fact, PlantGiven given, CancellationToken cancel)
    {
        db.Feedings.Remove(await Projector.RequiredAsync<FeedingRow>(db, "feeding", cancel, fact.Id, given.PlantId));
        await db.SendRowsAsync(cancel);
        if (await db.Stories.FindAsync(given.PlantId, cancel) is { } story)
        {
            await RecountAsync(db, story, cancel);
        }

        if (given.CanId is { } canId)
        {
            var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, canId);
            CanDraws.Draw(can, -Microlitres(given), fact.Position);
            await CanDraws.RecountFirstPouredAsync(db, can, cancel);
        }
    }

    public static async Task SkipAsync(LedgerContext db, Fact fact, PlantSkipped skipped, CancellationToken cancel)
    {
        await db.Stories.RequiredAsync(skipped.PlantId, cancel);
        db.AddOnce(new SkipRow
        {
            FactId = fact.Id,
            PlantId = skipped.PlantId,
            RoundId = skipped.RoundId,
            Day = fact.When.EarliestDay,
            Reason = skipped.Reason,
            Note = skipped.Note,
        });
    }

    /// <summary>A plant's pots are others than was thought: what was poured went into the pot it stood in on the day.</summary>
    public static async Task PotsChangedAsync(LedgerContext db, PlantStory story, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        foreach (var feeding in await db.Feedings.Where(feeding => feeding.PlantId == story.PlantId).ToListAsync(cancel))
        {
            feeding.PotId = story.PotOn(feeding.Day)?.Id;
        }

        await db.SendRowsAsync(cancel);
        await RecountAsync(db, story, cancel);
    }

    /// <summary>Reads again from what was poured (and sent) when a plant last drank.</summary>
    public static async Task RecountAsync(LedgerContext db, PlantStory story, CancellationToken cancel)
    {
        var poured = await db.Feedings.Where(feeding => feeding.PlantId == story.PlantId)
            .GroupBy(feeding => new { feeding.PotId, Feed = feeding.What == Pouring.Feed })
            .Select(group => new { group.Key.PotId, group.Key.Feed, Day = group.Max(feeding => feeding.Day) }).ToListAsync(cancel);
        (story.LastFedOn, story.LastGivenOn) = (null, null);
        story.Drinks.Clear();
        foreach (var last in poured)
        {
            story.Gave(last.Day, last.Feed, last.PotId);
        }

        db.Stories.CardChanged(story.PlantId);
    }

    private static long Microlitres(PlantGiven given) => CanDraws.Microlitres(given.Millilitres / 1000);
}
