using Rootwater.Ledger.Demo.SixYears;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Photos;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>Six years up to 14 March 2026, told once for all statements about them.</summary>
public sealed class SixYearsTold
{
    public static DateOnly Today { get; } = new(2026, 3, 14);

    public SixYearsTold()
        : this(seed: 36)
    {
    }

    internal SixYearsTold(int seed)
    {
        var scenario = new SixYearScenario(Today, seed);
        foreach (var fact in scenario.Facts())
        {
            Facts.Add(fact);
            Recorded.Add(scenario.Clock.GetUtcNow());
        }

        (Pictures, TollOf) = (scenario.Pictures, scenario.TollOf);
    }

    public Func<string, (int Lost, double With, double Without)> TollOf { get; }
    public List<NewFact> Facts { get; } = [];
    public List<DateTimeOffset> Recorded { get; } = [];
    public IReadOnlyDictionary<string, byte[]> Pictures { get; }

    public IEnumerable<(NewFact Fact, T Payload)> Of<T>() where T : FactPayload => Facts.Where(fact => fact.Payload is T).Select(fact => (fact, (T)fact.Payload));
}

/// <summary>The six years on a bench.</summary>
public sealed class SixYearsKeptTests
{
    [Fact]
    public async Task Everything_on_its_pages_follows_from_its_facts_and_every_picture_lies_beside_it()
    {
        var cancel = TestContext.Current.CancellationToken;
        var folder = Directory.CreateTempSubdirectory("rootwater-six-years-").FullName;
        try
        {
            var clock = new Microsoft.Extensions.Time.Testing.FakeTimeProvider(new DateTimeOffset(SixYearsTold.Today.ToDateTime(new TimeOnly(10, 0)), TimeSpan.Zero));
            await using var desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(folder, "bench.db") }, demo: true, clock: clock, story: Ledger.Demo.DemoStory.SixYears, cancel: cancel);

            (await LedgerCheck.CheckAsync(desks.Database, cancel)).Differences.ShouldBeEmpty();
            var cards = await desks.Plants.ListAsync(cancel: cancel);
            cards.Count.ShouldBe(36);
            cards.Single(card => card.Quarantine is not null).VirusStatus.ShouldNotBeNull().ShouldStartWith("positive: ORSV");
            var store = new PhotoStore(desks.Database.PhotosFolder);
            store.All().Count().ShouldBeGreaterThan(30);
            foreach (var hash in store.All())
            {
                (await store.IsSoundAsync(hash, cancel)).ShouldBeTrue();
            }

            var life = (await desks.Plants.GetByNumberAsync(35, cancel)).ShouldNotBeNull();
            life.Ancestry.Sum(ancestor => ancestor.Share).ShouldBe(1);
            life.LeafCounts[^1].Leaves.ShouldBe(life.Card.LivingLeaves);
            (await desks.Plants.GetByNumberAsync(37, cancel))!.TakenFrom!.Number.ShouldBe(15);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}

public sealed class SixYearsTests(SixYearsTold told) : IClassFixture<SixYearsTold>
{
    [Fact]
    public void They_are_about_forty_thousand_facts_about_36_plants_that_stand_and_two_that_are_gone()
    {
        told.Facts.Count.ShouldBeInRange(36_000, 44_000);
        told.Of<PlantArrived>().Select(item => item.Payload.Number).Order().ShouldBe(Enumerable.Range(1, 38));
        told.Of<PlantLost>().Count().ShouldBe(2);
        told.Of<PlantLost>().ShouldContain(item => item.Payload.Cause == "crown rot");
    }

    [Fact]
    public void Each_has_its_own_id_and_is_written_down_in_order_before_today()
    {
        told.Facts.Select(fact => fact.Id).Distinct().Count().ShouldBe(told.Facts.Count);
        told.Facts.Select(fact => fact.Sequence).ShouldBe(Enumerable.Range(1, told.Facts.Count).Select(i => (long)i));
        told.Recorded.Zip(told.Recorded.Skip(1)).ShouldAllBe(pair => pair.First <= pair.Second);
        DateOnly.FromDateTime(told.Recorded[^1].UtcDateTime).ShouldBeLessThan(SixYearsTold.Today);
        (told.Recorded[^1] - told.Recorded[0]).TotalDays.ShouldBeInRange(2180, 2192);
    }

    [Fact]
    public void Nothing_happened_after_it_was_written_down() => told.Facts.Zip(told.Recorded).ShouldAllBe(pair => pair.First.When == null || pair.First.When.Earliest <= pair.Second.DateTime);

    [Fact]
    public void The_cases_a_grower_meets_are_all_there()
    {
        told.Of<WrongArrival>().ShouldHaveSingleItem().Payload.Agreed.ShouldNotBeNull();
        told.Of<PlantArrived>().Select(item => item.Payload.Provenance!.RaisedAs).ShouldContain(Growing.Bench.Propagation.Division);
        told.Of<PlantArrived>().Where(item => item.Payload.Provenance!.ParentPlantId is not null).Select(item => item.Payload.Number).ShouldBe([32, 37], ignoreOrder: true);
        told.Of<VirusTested>().Select(item => item.Payload.Result).Distinct().Count().ShouldBe(3);
        told.Of<QuarantineBegun>().Count().ShouldBe(told.Of<QuarantineEnded>().Count() + 1, "one is kept apart today");
        told.Of<PestChecked>().ShouldContain(item => item.Payload.Found.Count > 0);
        told.Of<PlantParentage>().Count().ShouldBe(4);
        told.Facts.Count(fact => fact.Corrects is not null).ShouldBeInRange(15, 80);
        told.Of<PlantGiven>().Select(item => item.Payload.What).Distinct().Count().ShouldBe(3);
        told.Of<SpikeEnded>().ShouldContain(item => item.Payload.Cause == Growing.Bench.SpikeEnd.Blasted);
        told.Facts.Select(fact => fact.When?.Precision ?? WhenPrecision.Minute).Distinct().Count().ShouldBe(4, "minutes (said or not), days, months, years");
    }

    // The program's own model at its defaults, beside a truth that is richer: docs/science/demo.md. Each is written with its feed, before anybody could know.
    [Fact]
    public void The_feeds_of_the_last_year_have_what_was_believed_of_their_roots_and_no_earlier_ones()
    {
        var feeds = told.Of<PlantGiven>().Where(item => item.Payload.What == Pouring.Feed).ToList();
        var believed = told.Of<RootForecastBelieved>().ToDictionary(item => item.Payload.FeedFactId);
        var at = told.Facts.Zip(told.Recorded).ToDictionary(pair => pair.First.Id, pair => pair.Second);
        var since = SixYearsTold.Today.AddDays(-365);
        believed.Count.ShouldBeInRange(500, 1500);
        believed.Keys.ShouldBe(feeds.Where(item => DateOnly.FromDateTime(at[item.Fact.Id].UtcDateTime) >= since).Select(item => item.Fact.Id), ignoreOrder: true);
        foreach (var feed in feeds.Where(item => believed.ContainsKey(item.Fact.Id)))
        {
            var (fact, forecast) = believed[feed.Fact.Id];
            forecast.PlantId.ShouldBe(feed.Payload.PlantId);
            forecast.CanId.ShouldBe(feed.Payload.CanId!.Value);
            at[fact.Id].ShouldBe(at[feed.Fact.Id]);
            forecast.Moments.Select(moment => moment.Day).ShouldBe([0, 1, 2, 3, 5, 7, 10, 14]);
        }
    }

    [Fact]
    public void Every_picture_it_speaks_of_is_drawn()
    {
        told.Of<PhotoAdded>().Count().ShouldBeInRange(30, 60);
        told.Of<PhotoAdded>().Select(item => item.Payload.Sha256).ShouldBe(told.Pictures.Keys, ignoreOrder: true);
        told.Pictures.Values.ShouldAllBe(jpeg => jpeg[0] == 0xff && jpeg[1] == 0xd8 && jpeg.Length > 4000);
    }

    [Fact]
    public void The_truth_says_of_each_line_what_it_is()
    {
        Truth.Lines.Values.Select(line => line.Sort).Distinct().Count().ShouldBe(3);
        Truth.Lines.Values.Where(line => line.Sort == TruthSort.NoEffect).ShouldAllBe(line => line.Value == 0);
        Truth.Lines.Values.Where(line => line.Sort == TruthSort.Effect).ShouldAllBe(line => line.Value != 0 && line.Statement.Length > 20);
    }

    // Losses while an effect is at work are Poisson about the sum of the hazards (a martingale): four standard deviations. Without the effect they would be too many.
    [Theory]
    [InlineData("repotting_leaf_loss")]
    [InlineData("salt_leaf_loss")]
    [InlineData("potassium_leaf_loss")]
    public void Leaves_are_lost_as_the_truth_says(string effect)
    {
        var (lost, with, without) = told.TollOf(effect);

        with.ShouldBeGreaterThan(30);
        ((double)lost).ShouldBe(with, 4 * Math.Sqrt(with));
        ((double)lost).ShouldBeGreaterThan(without + 2 * Math.Sqrt(without));
        Math.Log(with / without).ShouldBeGreaterThan(0.5 * Truth.Of(effect));
    }

    [Fact]
    public void New_roots_come_later_after_a_winter_repotting()
    {
        var roots = told.Of<NewRootsSeen>().ToLookup(item => item.Payload.PlantId, item => item.Fact.When!.EarliestDay);
        double Wait(Func<DateOnly, bool> when) => told.Of<PlantPotted>().Where(item => when(item.Fact.When!.EarliestDay))
            .Select(item => roots[item.Payload.PlantId].Where(day => day > item.Fact.When!.EarliestDay).Select(day => day.DayNumber - item.Fact.When!.EarliestDay.DayNumber).DefaultIfEmpty(999).Min())
            .Where(days => days < 200).Average();

        (Wait(day => day.Month is >= 10 or 1) - Wait(day => day.Month is >= 3 and <= 8)).ShouldBeInRange(20, 65);
    }
}
