using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Desks;

/// <summary>What a grower enters: kept, shown, taken back, put right, or refused with its reason.</summary>
public abstract class FactDeskTests : OnADatabase
{
    private Guid Plant => Small.FirstPlant;

    [Fact]
    public async Task A_day_on_the_bench_is_told_and_shows_on_the_plant()
    {
        await StartAsync();
        await WriteAsync(
            Growth(Plant, out var stem, when: "2024-05", thereOnArrival: true),
            Leaf(Plant, stem, out var old, 1, "2024-05", thereOnArrival: true),
            Leaf(Plant, stem, out var young, 2, "2025-03-02"),
            Told(Plant, new LeafMeasured(Plant, young, 120, 40), "2025-06-01"),
            Told(Plant, new LeafMarked(Plant, old, LeafSign.Yellowing, LeafPart.Whole, null), "2026-03-01"),
            Told(Plant, new NewRootsSeen(Plant, stem, 2), "2026-03-10"),
            Spike(Plant, stem, out var spike, 40, "2026-03-12"),
            Told(Plant, new SpikeMeasured(Plant, spike, 55, 3), "2026-03-13"),
            Told(Plant, new PlantNoted(Plant, "leans to the window")));

        var life = (await Desks.Plants.GetAsync(Plant, Cancel))!;

        life.Card.LivingLeaves.ShouldBe(2);
        life.Card.SpikeMillimetres.ShouldBe(55);
        life.Card.Trouble.ShouldHaveSingleItem().ShouldBe("leaf 1: yellowing");
        life.Growths.ShouldHaveSingleItem().Leaves.Select(leaf => leaf.Id).ShouldBe([old, young]);
        life.Growths[0].Begun.ShouldBeNull("it was there on arrival");
        life.Growths[0].Leaves[0].FirstSeen.ShouldBe(new DaySpan(new DateOnly(2024, 5, 1), new DateOnly(2024, 5, 31)));
        life.NewRoots.ShouldHaveSingleItem().Count.ShouldBe(2);
        life.LeafCounts.Select(count => count.Leaves).ShouldBe([1, 2]);
        (await Desks.Plants.ListAsync(new BenchQuery { Words = "WINDOW leans" }, Cancel)).ShouldHaveSingleItem().Id.ShouldBe(Plant);
        (await Desks.Plants.ListAsync(new BenchQuery { Trouble = true }, Cancel)).ShouldHaveSingleItem().Id.ShouldBe(Plant);
        await RebuiltIsTheSameAsync();
    }

    [Fact]
    public async Task An_old_memory_told_late_takes_its_place_among_the_others()
    {
        await StartAsync();
        await WriteAsync(
            Told(Plant, new PlantDetermined(Plant, "Phalaenopsis bellina", "flower"), "2026-02-01"),
            Told(Plant, new PlantDetermined(Plant, "Phalaenopsis violacea", "a guess"), "2025"));

        var life = (await Desks.Plants.GetAsync(Plant, Cancel))!;

        life.Card.Name.ShouldBe("Phalaenopsis bellina");
        life.Names.Select(name => name.Name).ShouldBe(["Phalaenopsis violacea", "Phalaenopsis bellina"]);
        life.Names[0].When.Precision.ShouldBe(WhenPrecision.Year);
    }

    [Fact]
    public async Task A_feed_lowers_the_can_and_is_taken_back_within_the_hour()
    {
        await StartAsync();
        var can = await CanAsync();
        var feed = Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can, null, 300));
        await WriteAsync(feed, Told(Small.SecondPlant, new PlantGiven(Small.SecondPlant, null, Pouring.Feed, can, null, 200)));
        (await Desks.Mixing.GetCanAsync(can, Cancel))!.LitresLeft.ShouldBe(4.5, 1e-9);
        (await Desks.Plants.GetAsync(Plant, Cancel))!.Card.LastFed.ShouldBe(new DateOnly(2026, 3, 14));

        Clock.Advance(TimeSpan.FromMinutes(59));
        await Desks.Facts.UndoAsync(feed.Id, Guid.CreateVersion7(), "wrong plant", Cancel);

        (await Desks.Mixing.GetCanAsync(can, Cancel))!.LitresLeft.ShouldBe(4.8, 1e-9);
        var life = (await Desks.Plants.GetAsync(Plant, Cancel))!;
        life.Given.ShouldBeEmpty();
        life.Card.LastFed.ShouldBeNull();
        (await Desks.Facts.RecentAsync(TimeSpan.FromHours(2), cancel: Cancel)).Single(line => line.Id == feed.Id).TakenBack.ShouldBeTrue();
        await RebuiltIsTheSameAsync();
    }

    [Fact]
    public async Task After_an_hour_a_fact_is_put_right_by_a_correction_only()
    {
        await StartAsync();
        await WriteAsync(Growth(Plant, out var stem, when: "2025-01-01"), Leaf(Plant, stem, out var leaf, when: "2025-03-02"));
        var lost = Told(Plant, new LeafLost(Plant, leaf, LeafLoss.Rot, null), "2026-03-10");
        await WriteAsync(lost);
        Clock.Advance(TimeSpan.FromMinutes(61));

        (await RefusedAsync(() => Desks.Facts.UndoAsync(lost.Id, Guid.CreateVersion7(), cancel: Cancel))).Field.ShouldBe("fact");
        await WriteAsync(Told(Plant, new LeafLost(Plant, leaf, LeafLoss.Age, null), "2026-02", lost.Id));

        var end = (await Desks.Plants.GetAsync(Plant, Cancel))!.Growths[0].Leaves[0].Lost!;
        end.Cause.ShouldBe(LeafLoss.Age);
        end.When.ShouldBe(new DaySpan(new DateOnly(2026, 2, 1), new DateOnly(2026, 2, 28)));
        await RebuiltIsTheSameAsync();
    }

    [Fact]
    public async Task A_correction_that_is_taken_back_lets_the_first_word_stand_again()
    {
        await StartAsync();
        var can = await CanAsync();
        var feed = Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can, null, 300));
        var more = Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can, null, 400), corrects: feed.Id);
        await WriteAsync(feed, more);
        (await Desks.Plants.GetAsync(Plant, Cancel))!.Given.ShouldHaveSingleItem().Millilitres.ShouldBe(400);

        await Desks.Facts.UndoAsync(more.Id, Guid.CreateVersion7(), cancel: Cancel);

        (await Desks.Plants.GetAsync(Plant, Cancel))!.Given.ShouldHaveSingleItem().Millilitres.ShouldBe(300);
        (await Desks.Mixing.GetCanAsync(can, Cancel))!.LitresLeft.ShouldBe(4.7, 1e-9);
        await RebuiltIsTheSameAsync();
    }

    [Fact]
    public async Task What_later_facts_rest_on_is_not_taken_back_from_under_them()
    {
        await StartAsync();
        var seen = Growth(Plant, out var stem, when: "2025-01-01");
        await WriteAsync(seen, Leaf(Plant, stem, out _, when: "2025-03-02"));

        var problem = await RefusedAsync(() => Desks.Facts.UndoAsync(seen.Id, Guid.CreateVersion7(), cancel: Cancel));

        problem.Field.ShouldBe("growth");
        (await Desks.Plants.GetAsync(Plant, Cancel))!.Card.LivingLeaves.ShouldBe(1);
    }

    [Fact]
    public async Task A_tick_on_a_card_is_taken_back_through_the_same_door_and_only_while_it_stands()
    {
        await StartAsync();
        var can = await CanAsync();
        await Desks.Mixing.TickStepAsync(can, 1, cancel: Cancel);
        var tick = (await Desks.Facts.RecentAsync(TimeSpan.FromHours(1), 1, Cancel)).Single();
        tick.CanBeUndone.ShouldBeTrue();
        var undo = Guid.CreateVersion7();

        await Desks.Facts.UndoAsync(tick.Id, undo, cancel: Cancel);
        (await Desks.Mixing.GetCanAsync(can, Cancel))!.DoneSteps.ShouldBeEmpty();

        await Desks.Mixing.TickStepAsync(can, 1, cancel: Cancel);
        await Desks.Facts.UndoAsync(tick.Id, undo, cancel: Cancel);
        (await RefusedAsync(() => Desks.Facts.UndoAsync(tick.Id, Guid.CreateVersion7(), cancel: Cancel))).Field.ShouldBe("fact");
        (await Desks.Mixing.GetCanAsync(can, Cancel))!.DoneSteps.ShouldBe([1], "the second tick is another one");
    }

    [Fact]
    public async Task What_cannot_be_is_refused_with_field_value_and_what_would_be_accepted()
    {
        await StartAsync();
        await WriteAsync(Growth(Plant, out var stem, when: "2025-01-01"), Leaf(Plant, stem, out var leaf, when: "2025-03-02"), Spike(Plant, stem, out var spike, when: "2026-01-05"));
        var other = Small.SecondPlant;
        (NewFact Fact, string Field)[] cannot =
        [
            (Told(Plant, new LeafLost(Plant, leaf, LeafLoss.Age, null), "2025-03-01"), "when"),
            (Told(Plant, new LeafMeasured(Plant, leaf, 3e6, null)), "length"),
            (Told(Plant, new LeafMeasured(Plant, leaf, null, null)), "measure"),
            (Told(Plant, new LeafMarked(Plant, Guid.CreateVersion7(), LeafSign.Spots, LeafPart.Tip, null)), "leaf"),
            (Told(other, new SpikeMeasured(other, spike, 40, null)), "spike"),
            (Told(other, new PlantNoted(Plant, "said of the wrong one")), "subjectId"),
            (Told(Guid.CreateVersion7(), new PlantNoted(Guid.CreateVersion7(), "of nobody")), "subjectId"),
            (Told(Plant, new PlantMoved(Plant, Guid.CreateVersion7())), "place"),
            (Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, null, null, 100)), "can"),
            (Told(Plant, new PlantGiven(Plant, null, Pouring.PlainWater, null, null, 0)), "millilitres"),
            (Told(Plant, new BloomOver(Plant, spike)), "spike"),
            (Told(Plant, new PlantNoted(Plant, "from before it came"), "2020"), "when"),
            (Told(Plant, new PlantNoted(Plant, "to come"), "2026-03-20"), "when"),
            (Told(Plant, new VirusTested(Plant, "", VirusTestMethod.Strip, VirusTestResult.Negative, null)), "virus"),
            (Told(Plant, new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = Plant, PH = 71 }), "pH"),
            (Told(Plant, new QuarantineEnded(Plant, null)), "quarantine"),
            (Told(Guid.CreateVersion7(), new PlantArrived(Plant, 1, "x", "y", Habit.Monopodial)), "subjectId"),
            (New(new PlantArrived(Guid.CreateVersion7(), 1, "x", "y", Habit.Monopodial)), "number"),
            (Told(Small.SaltLot, new LotWeighed(Small.SaltLot, 1, null)), "kind"),
        ];
        var before = (await Desks.Facts.RecentAsync(TimeSpan.FromDays(1), 1000, Cancel)).Count;
        foreach (var (fact, field) in cannot)
        {
            var good = Told(Plant, new PlantNoted(Plant, "comes with it"));

            var refused = await Should.ThrowAsync<EntryException>(() => Desks.Facts.WriteAsync([good, fact], cancel: Cancel), fact.Payload.ToString());

            refused.Problems.ShouldContain(problem => problem.Field == field && problem.Accepted.Length > 5, $"{fact.Payload}: {refused.Message}");
        }

        (await Desks.Facts.RecentAsync(TimeSpan.FromDays(1), 1000, Cancel)).Count.ShouldBe(before, "all or none");
    }

    [Fact]
    public async Task A_round_with_feed_water_and_a_skip_is_kept_and_sent_twice_counts_once()
    {
        await StartAsync();
        var (can, round, other) = (await CanAsync(), Guid.CreateVersion7(), Small.SecondPlant);
        NewFact[] walk =
        [
            Told(round, new RoundBegun(round, new DateOnly(2026, 3, 14))),
            Told(Plant, new PlantGiven(Plant, round, Pouring.Feed, can, null, 250)),
            Told(other, new PlantSkipped(other, round, SkipReason.StillFull, null)),
            Told(other, new PlantGiven(other, round, Pouring.PlainWater, null, Small.WaterId, 100)),
            Told(round, new RoundEnded(round, null)),
        ];

        (await Desks.Facts.WriteAsync(walk, "phone", "phone 1", Cancel)).ShouldBe(new WriteReceipt(5, 0));
        (await Desks.Facts.WriteAsync(walk, "phone", "phone 1", Cancel)).ShouldBe(new WriteReceipt(0, 5));

        (await Desks.Plants.GetAsync(other, Cancel))!.Given.ShouldHaveSingleItem().What.ShouldBe(Pouring.PlainWater);
        (await Desks.Facts.RecentAsync(TimeSpan.FromHours(1), cancel: Cancel)).Select(line => line.Words).Take(5)
            .ShouldBe(["round ended", "watered with 100 mL", "passed by: still full", "fed 250 mL", "round of 2026-03-14 begun"]);
        await RebuiltIsTheSameAsync();
    }

    private static NewFact New(PlantArrived arrived) => Told(arrived.PlantId, arrived);

    private Task StartAsync() => Log.AppendAsync(Small.Facts(), Cancel);

    private async Task<Guid> CanAsync() => (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;

    private Task<WriteReceipt> WriteAsync(params NewFact[] facts) => Desks.Facts.WriteAsync(facts, cancel: Cancel);

    private static async Task<EntryProblem> RefusedAsync(Func<Task> entry) => (await Should.ThrowAsync<EntryException>(entry)).Problems[0];

    private async Task RebuiltIsTheSameAsync() => (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
}

public sealed class FactDeskOnSqlite : FactDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class FactDeskOnPostgres(PostgresServer server) : FactDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
