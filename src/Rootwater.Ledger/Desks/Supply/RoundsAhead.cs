using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Rounds;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What the past says of the coming rounds: who stands here, how often each was fed, what the cans were made of.</summary>
/// <param name="Rounds">To draw from.</param>
/// <param name="Past">Cans of the last two years.</param>
/// <param name="Open">Cans being mixed now: what they still take.</param>
/// <param name="Plants">That stand here and have a want.</param>
internal sealed record RoundsAhead(ComingRounds Rounds, IReadOnlyList<CanUse> Past, IReadOnlyList<CanUse> Open, int Plants)
{
    private const int FeedingDays = 1100, StepDays = 760, CardDays = 400, MonthsToTheOtherHalf = 6, MonthsOfYear = 12;

    // Left unfinished longer than that, nobody will finish it.
    private const int OpenDays = 1;

    public static async Task<RoundsAhead> ReadAsync(LedgerContext db, DateOnly today, CancellationToken cancel)
    {
        var standing = (await BenchReader.StandingAsync(db, cancel)).Where(plant => plant.Plant.WantId is not null).ToList();
        var wants = (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Want.Name);
        var recipes = standing.ToDictionary(plant => plant.Plant.Id, plant => wants.GetValueOrDefault(plant.Plant.WantId!.Value, ""));
        var cultures = await db.Pots.Select(pot => new { pot.Id, pot.Culture }).ToDictionaryAsync(pot => pot.Id, pot => pot.Culture, cancel);
        var southern = await BenchLatitude.OfAsync(db, cancel) < 0;
        var (feedFrom, stepFrom, cardFrom) = (today.AddDays(-FeedingDays), today.AddDays(-StepDays), today.AddDays(-CardDays));
        var feeds = await db.Feedings.Where(feeding => feeding.What == Pouring.Feed && feeding.Day >= feedFrom && feeding.Day <= today)
            .Select(feeding => new Feed(feeding.PlantId, feeding.PotId, feeding.Day, feeding.CanId!.Value, feeding.Millilitres)).ToListAsync(cancel);
        var cans = await db.Cans.Where(can => can.MixedOn >= feedFrom && can.MixedOn <= today).Select(can => new Can(can.Id, can.MixedOn, can.Litres, can.StepsDone < can.Steps)).ToListAsync(cancel);
        var steps = (await db.CanSteps.Where(step => db.Cans.Any(can => can.Id == step.CanId && can.MixedOn >= stepFrom)).ToListAsync(cancel)).ToLookup(step => step.CanId);
        var products = await db.Lots.ToDictionaryAsync(lot => lot.Id, lot => lot.ProductId, cancel);
        var cards = await db.Cans.Where(can => can.MixedOn >= cardFrom && can.MixedOn <= today).Select(can => new { can.Id, can.Card }).ToDictionaryAsync(can => can.Id, can => can.Card, cancel);
        var fed = feeds.ToLookup(feed => feed.CanId);

        IReadOnlyDictionary<Guid, double> Grams(IEnumerable<StepUse> uses) => uses.Where(use => products.ContainsKey(use.LotId)).GroupBy(use => products[use.LotId]).ToDictionary(group => group.Key, group => group.Sum(use => use.Grams));
        var past = cans.Where(can => can.MixedOn >= stepFrom).Select(can =>
        {
            var plants = fed[can.Id].Select(feed => feed.PlantId).Distinct().ToList();
            return (can.Id, Use: new CanUse(can.MixedOn, Grams(steps[can.Id].Where(step => step.DoneFactId is not null).SelectMany(step => step.Taken)), can.Litres, plants.Count, plants));
        }).Where(can => can.Use.Grams.Count > 0).ToList();
        var open = cans.Where(can => can.Open && can.MixedOn.AddDays(OpenDays) >= today && cards.ContainsKey(can.Id)).ToList();
        var served = open.SelectMany(can => cards[can.Id].Serves).SelectMany(group => group.Portions).Select(portion => portion.PlantId).ToHashSet();
        var byPlant = feeds.ToLookup(feed => feed.PlantId);
        var plants = standing.Select(plant =>
        {
            var days = byPlant[plant.Plant.Id].GroupBy(feed => feed.Day).OrderBy(day => day.Key).ToList();
            DateOnly? last = served.Contains(plant.Plant.Id) ? today : plant.Pot.LastFedOn ?? (days.Count > 0 ? days[^1].Key : null);
            PastGap Gap(IGrouping<DateOnly, Feed> from, IGrouping<DateOnly, Feed> to) =>
                new(from.Key, to.Key.DayNumber - from.Key.DayNumber, from.First().PotId is { } pot ? cultures.GetValueOrDefault(pot, plant.Pot.Culture) : plant.Pot.Culture, from.Sum(feed => feed.Millilitres));
            var kind = Kinds.Find(plant.Plant.Kind);
            return new FedPlant(plant.Plant.Id, recipes[plant.Plant.Id], last, plant.Pot.FeedEveryDays, plant.Pot.FeedMillilitres, [.. days.Zip(days.Skip(1), Gap)])
            {
                Culture = plant.Pot.Culture,
                Kind = kind?.Name ?? plant.Plant.Kind,
                MayRest = kind is not { Rest: null },
                KindRests = kind?.Rest is { Feed: RestRation.None } rest ? Here(rest, southern) : null,
                IsResting = RoundRules.RestOf(plant.Plant.Kind, plant.Plant.States) is { Feed: RestRation.None },
            };
        }).ToList();
        var unfinished = open.Select(can => can.Id).ToHashSet();
        var grams = past.ToDictionary(can => can.Id, can => can.Use.Grams);
        return new RoundsAhead(
            new ComingRounds(plants, [.. cans.Where(can => !unfinished.Contains(can.Id) && (can.MixedOn < stepFrom || grams.ContainsKey(can.Id))).Select(can => Pattern(can, grams.GetValueOrDefault(can.Id), cards.GetValueOrDefault(can.Id), fed[can.Id], recipes)).OfType<CanPattern>()], feeds.Select(feed => feed.Day).ToHashSet(), today),
            [.. past.Select(can => can.Use)],
            [.. open.Select(can => new CanUse(today, Grams(steps[can.Id].Where(step => step.DoneFactId is null && step.Number <= cards[can.Id].Steps.Count).SelectMany(step => step.Uses)), can.Litres, 0))],
            plants.Count);
    }

    private static FeedlessMonths Here(Rest rest, bool southern)
    {
        int Shifted(int month) => southern ? (month + MonthsToTheOtherHalf - 1) % MonthsOfYear + 1 : month;
        return new FeedlessMonths(Shifted(rest.FromMonth), Shifted(rest.ToMonth));
    }

    // Of the oldest cans only litres are asked, for looking back: their grams and cards are not read.
    private static CanPattern? Pattern(Can can, IReadOnlyDictionary<Guid, double>? grams, CanPlan? card, IEnumerable<Feed> feeds, Dictionary<Guid, string> recipes)
    {
        var all = feeds.ToList();
        var poured = all.Sum(feed => feed.Millilitres) / 1000;
        if (poured <= 0)
        {
            return null;
        }

        // What was topped from another can has its own past; only water that came from a source counts.
        var waters = card?.Steps.Where(step => step is { Kind: MixStepKind.Water, WaterId: not null }).GroupBy(step => step.WaterId!.Value).ToDictionary(group => group.Key, group => group.Sum(step => step.Amount) / can.Litres);
        return new CanPattern(
            can.MixedOn,
            grams?.ToDictionary(pair => pair.Key, pair => pair.Value / can.Litres) ?? [],
            waters ?? [],
            can.Litres,
            poured,
            all.Where(feed => recipes.ContainsKey(feed.PlantId)).GroupBy(feed => recipes[feed.PlantId]).ToDictionary(group => group.Key, group => group.Sum(feed => feed.Millilitres)));
    }

    private sealed record Feed(Guid PlantId, Guid? PotId, DateOnly Day, Guid CanId, double Millilitres);

    private sealed record Can(Guid Id, DateOnly MixedOn, double Litres, bool Open);
}
