using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Desks;

/// <summary>Feeds entered on 14 March that were poured on the 11th: what is recorded of them is what was known on the 11th.</summary>
public sealed class LateFeedTests(TaughtBench bench) : IClassFixture<TaughtBench>
{
    private static readonly DateTime s_fed = new(2026, 3, 11, 9, 0, 0);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_reading_later_than_the_feed_moves_nothing_of_its_forecast_and_one_before_it_does()
    {
        var (read, late) = await PotsAsync("open mix");
        var before = await FeedAsync(late[0], s_fed);

        await ReadAsync(read, s_fed.AddDays(1));
        var after = await FeedAsync(late[1], s_fed);
        after.Corrected.ShouldBe(before.Corrected);

        // Today's feed knows of it.
        var today = (await FeedAsync(late[2], null)).Corrected.ShouldNotBeNull();
        today.PH.Met.ShouldBe(before.Corrected!.PH.Met + 1);
        today.Ec.Factor.ShouldBeGreaterThan(before.Corrected.Ec.Factor);

        await ReadAsync(read, s_fed.AddDays(-1));
        (await FeedAsync(late[3], s_fed)).Corrected.ShouldNotBe(before.Corrected);
    }

    [Fact]
    public async Task A_fit_that_has_seen_readings_of_later_days_is_not_asked_for_it()
    {
        bench.Desks.Database.Learned.ShouldNotBeNull();
        var (_, late) = await PotsAsync("wicking");

        (await FeedAsync(late[0], s_fed)).Model.ShouldBe(BelievedForecasts.Model);
        (await FeedAsync(late[1], new DateTime(2026, 3, 13, 23, 0, 0))).Model.ShouldBe(BelievedForecasts.FittedModel, "the fit's last reading was that morning");
        (await FeedAsync(late[2], null)).Model.ShouldBe(BelievedForecasts.FittedModel);
    }

    [Fact]
    public async Task Its_forecast_counts_from_the_feed_and_not_from_its_entry()
    {
        var (_, late) = await PotsAsync("basket");
        var feed = await FeedAsync(late[0], s_fed);

        await ReadAsync(late[0], s_fed.AddDays(2));

        var met = (await RecordedForecasts.ReadAsync(bench.Desks.Database, new DateTime(2026, 3, 14, 10, 0, 0), Cancel)).Where(one => one.Forecast.FeedFactId == feed.FeedFactId).ToList();
        met.ShouldNotBeEmpty();
        met.ShouldAllBe(one => one.Days == 2);
    }

    // Of one medium and one way of growing: a pot that was fed in the week before the 10th and not since, and others.
    private async Task<(PotLine Read, IReadOnlyList<PotLine> Late)> PotsAsync(string culture)
    {
        var alike = (await bench.Desks.Learning.ListAsync(Cancel)).Pots.Where(pot => pot.Culture == culture).GroupBy(pot => pot.Medium).MaxBy(group => group.Count())!.ToList();
        foreach (var pot in alike)
        {
            if ((await bench.Desks.Pots.BelievedAsync(pot.PlantId, Cancel)).LastOrDefault()?.FedOn is { } day && day >= new DateOnly(2026, 3, 1) && day < new DateOnly(2026, 3, 10))
            {
                return (pot, [.. alike.Where(other => other != pot)]);
            }
        }

        throw new InvalidOperationException($"No {culture} pot was fed in the first nine days of March.");
    }

    private async Task<RootForecastBelieved> FeedAsync(PotLine pot, DateTime? at)
    {
        // What is in hand is read once a day.
        bench.Desks.Database.ForecastErrors = null;
        var can = (await bench.Desks.Mixing.ListCansAsync(1, Cancel)).Single();
        var feed = new NewFact
        {
            Id = Guid.CreateVersion7(),
            SubjectId = pot.PlantId,
            When = at is { } minute ? FactWhen.AtMinute(minute, "Etc/UTC") : null,
            Payload = new PlantGiven(pot.PlantId, null, Pouring.Feed, can.Id, null, 150),
        };
        await bench.Desks.Facts.WriteAsync([feed], cancel: Cancel);
        return (await bench.Desks.Pots.BelievedAsync(pot.PlantId, Cancel)).Single(each => each.Forecast.FeedFactId == feed.Id).Forecast;
    }

    private Task ReadAsync(PotLine pot, DateTime at) => bench.Desks.Facts.WriteAsync(
        [
            new NewFact
            {
                Id = Guid.CreateVersion7(), SubjectId = pot.PlantId, When = FactWhen.AtMinute(at, "Etc/UTC"),
                Payload = new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Runoff, PlantId = pot.PlantId, PotId = pot.PotId, EcMicrosiemensPerCm = 9000, PH = 8.5 },
            },
        ],
        cancel: Cancel);
}
