using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Desks;

/// <summary>The walk on a bench of two plants: who is due, from which can, what was done, what is left; and that mixing and bench say the same.</summary>
public abstract class RoundDeskTests : OnADatabase
{
    private Guid First => Small.FirstPlant;

    private Guid Second => Small.SecondPlant;

    private Task StartAsync() => Log.AppendAsync(Small.Facts(), Cancel);

    private Task WriteAsync(params NewFact[] facts) => Desks.Facts.WriteAsync(facts, cancel: Cancel);

    private Task<RoundSheet> TodayAsync() => Desks.Rounds.TodayAsync(cancel: Cancel);

    private async Task<RoundStop> StopAsync(Guid plant) => (await TodayAsync()).Stops.Single(stop => stop.Plant.Id == plant);

    private async Task<Guid> MixAsync(double litres = 5)
    {
        var card = Small.Card() with { Litres = litres };
        await Desks.Mixing.SaveCanAsync(card, Cancel);
        foreach (var step in card.Steps)
            await Desks.Mixing.TickStepAsync(card.Id, step.Number, cancel: Cancel);
        return card.Id;
    }

    private async Task<Guid> BeginAsync()
    {
        var round = Guid.CreateVersion7();
        await WriteAsync(Told(round, new RoundBegun(round, new DateOnly(2026, 3, 14))));
        return round;
    }

    /// <summary>The three pages that say who is due must say the same.</summary>
    private async Task<int[]> DueAsync()
    {
        var walk = (await TodayAsync()).Stops.Where(stop => stop.Due && stop.DoneFactId is null).ToList();
        var mixing = (await Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).Due.SelectMany(group => group.Plants).Select(plant => plant.Number).Order().ToArray();
        var bench = (await Desks.Plants.ListAsync(new BenchQuery { Due = true }, Cancel)).Select(card => card.Number).Order().ToArray();
        bench.ShouldBe(walk.Select(stop => stop.Plant.Number).Order().ToArray(), "bench and walk disagree");
        mixing.ShouldBe(walk.Where(stop => stop.What == Pouring.Feed).Select(stop => stop.Plant.Number).Order().ToArray(), "mixing and walk disagree");
        return bench;
    }

    [Fact]
    public async Task An_empty_ledger_is_said_to_be_empty() => (await Should.ThrowAsync<EntryException>(TodayAsync)).Message.ShouldContain("nothing is kept here yet");

    [Fact]
    public async Task Who_was_never_fed_is_due_from_the_can_that_was_mixed_for_it()
    {
        await StartAsync();
        (await DueAsync()).ShouldBe([1, 2]);
        (await StopAsync(First)).CanId.ShouldBeNull("no can is mixed");
        var can = await MixAsync();
        var sheet = await TodayAsync();
        sheet.Cans.ShouldHaveSingleItem().Letter.ShouldBe("A");
        sheet.Stops.ShouldAllBe(stop => stop.Due && stop.What == Pouring.Feed && stop.CanId == can && stop.Millilitres == 250);
        sheet.Zone.ShouldBe("UTC");
    }

    // The desk keeps its last sheet in hand: whatever is written, also by another program on the same database, must show at once.
    [Fact]
    public async Task A_sheet_is_worked_out_once_and_anew_after_whatever_was_written_wherever()
    {
        await StartAsync();
        var sheet = await TodayAsync();
        (await TodayAsync()).ShouldBeSameAs(sheet);
        (await Desks.Rounds.TodayAsync(sheet.AsOf.AddDays(1), Cancel)).AsOf.ShouldBe(sheet.AsOf.AddDays(1));
        await using (var other = await BenchDesks.OpenAsync(Host.Options, cancel: Cancel, clock: Clock))
            await other.Facts.WriteAsync([Told(First, new PlantStatesSeen(First, [PlantState.DryRest]))], cancel: Cancel);
        (await TodayAsync()).ShouldNotBeSameAs(sheet);
        (await StopAsync(First)).Plant.States.ShouldBe([PlantState.DryRest]);
        (await Desks.Plants.ListAsync(cancel: Cancel)).Single(card => card.Id == First).States.ShouldBe([PlantState.DryRest]);
    }

    [Fact]
    public async Task A_can_is_shared_out_along_the_walk_as_far_as_it_goes()
    {
        await StartAsync();
        await MixAsync(litres: 0.3);
        (await StopAsync(First)).CanLetter.ShouldBe("A");
        (await StopAsync(Second)).CanLetter.ShouldBeNull();
    }

    [Fact]
    public async Task What_is_ticked_is_done_on_this_walk_and_due_again_when_taken_back()
    {
        await StartAsync();
        var (can, round) = (await MixAsync(), await BeginAsync());
        var given = Told(First, new PlantGiven(First, round, Pouring.Feed, can, null, 230));
        await WriteAsync(given, Told(Second, new PlantSkipped(Second, round, SkipReason.StillFull, null)));
        var sheet = await TodayAsync();
        sheet.RoundId.ShouldBe(round);
        var (first, second) = (sheet.Stops[0], sheet.Stops[1]);
        (first.DoneFactId, first.DoneWhat, first.Millilitres, first.CanLetter, first.Due).ShouldBe((given.Id, Pouring.Feed, 230, "A", true));
        (second.Skipped, second.DoneWhat).ShouldBe((SkipReason.StillFull, null));
        sheet.Cans.Single().LitresLeft.ShouldBe(4.77, 1e-6);
        (await DueAsync()).ShouldBeEmpty();

        await Desks.Facts.UndoAsync(given.Id, Guid.CreateVersion7(), cancel: Cancel);
        (await StopAsync(First)).DoneFactId.ShouldBeNull();
        (await DueAsync()).ShouldBe([1]);
    }

    [Fact]
    public async Task The_first_of_the_coming_walks_is_todays_and_the_next_come_as_planned()
    {
        await StartAsync();
        var coming = await Desks.Rounds.ComingAsync(30, Cancel);
        coming[0].On.ShouldBe(new DateOnly(2026, 3, 14));
        coming[0].Stops.Select(stop => (stop.Plant.Number, stop.What)).ShouldBe((await TodayAsync()).Stops.Where(stop => stop.Due).Select(stop => (stop.Plant.Number, stop.What)));
        // Walked today, neither is due tomorrow; both are again within the month.
        coming.ShouldNotContain(walk => walk.On == new DateOnly(2026, 3, 15));
        coming.Skip(1).SelectMany(walk => walk.Stops).Select(stop => stop.Plant.Number).Distinct().Order().ShouldBe([1, 2]);
    }

    [Fact]
    public async Task A_walk_broken_off_goes_on_the_next_morning_and_an_older_one_is_over()
    {
        await StartAsync();
        var round = await BeginAsync();
        Clock.Advance(TimeSpan.FromDays(1));
        (await TodayAsync()).RoundId.ShouldBe(round);
        await WriteAsync(Told(round, new RoundEnded(round, null)));
        (await TodayAsync()).RoundId.ShouldBeNull();
        var again = await BeginAsync();
        Clock.Advance(TimeSpan.FromDays(2));
        (await TodayAsync()).RoundId.ShouldNotBe(again);
    }

    [Fact]
    public async Task Still_full_is_looked_at_again_in_half_its_days_and_then_fed()
    {
        await StartAsync();
        await MixAsync();
        await WriteAsync(Told(First, new PlantSkipped(First, null, SkipReason.StillFull, null)));
        Clock.Advance(TimeSpan.FromDays(3));
        (await DueAsync()).ShouldBe([2]);
        Clock.Advance(TimeSpan.FromDays(1));
        (await DueAsync()).ShouldBe([1, 2]);
    }

    [Fact]
    public async Task A_salty_sample_calls_for_a_leach_with_the_softest_water_and_not_for_a_can()
    {
        await StartAsync();
        await MixAsync();
        await WriteAsync(Told(First, new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = First, EcMicrosiemensPerCm = 1600, PH = 6.2 }));
        var stop = await StopAsync(First);
        (stop.What, stop.CanId, stop.WaterName, stop.Sign).ShouldBe((Pouring.Leach, null, "rain barrel", "EC creeping, read 1.6 mS/cm"));
        (await DueAsync()).ShouldBe([1, 2]);
        await WriteAsync(Told(First, new PlantGiven(First, null, Pouring.Leach, null, Small.WaterId, stop.Millilitres)));
        (await StopAsync(First)).DoneWhat.ShouldBe(Pouring.Leach);
        (await DueAsync()).ShouldBe([2]);
    }

    [Fact]
    public async Task Quarantine_comes_last_with_its_own_words()
    {
        await StartAsync();
        await WriteAsync(Told(First, new QuarantineBegun(First, 42, "new"), "2026-02-24"));
        var sheet = await TodayAsync();
        sheet.Stops.Select(stop => stop.Plant.Number).ShouldBe([2, 1]);
        sheet.Stops[1].QuarantineWords!.ShouldStartWith("Quarantine, day 19 of 42: own syringe");
    }

    [Fact]
    public async Task What_was_seen_proposes_a_state_until_it_is_confirmed_or_refused()
    {
        await StartAsync();
        Clock.Advance(TimeSpan.FromDays(1));
        await WriteAsync(Growth(First, out var stem), Leaf(First, stem, out var leaf), Spike(First, stem, out _, 40));
        var sheet = await TodayAsync();
        sheet.Proposals.ShouldContain(proposal => proposal.PlantId == First && proposal.State == PlantState.InSpike && proposal.Begins && proposal.Why == "spike seen on 15 March, 4 cm");
        sheet.Stops[0].Growths.ShouldHaveSingleItem().Leaves.ShouldHaveSingleItem().Id.ShouldBe(leaf);

        await WriteAsync(Told(First, new PlantStatesSeen(First, [PlantState.LeafGrowth, PlantState.NewRoots, PlantState.InSpike])));
        (await TodayAsync()).Proposals.ShouldNotContain(proposal => proposal.PlantId == First);
        await WriteAsync(Told(First, new LeafLost(First, leaf, LeafLoss.Age, null)));
        (await StopAsync(First)).Growths.ShouldHaveSingleItem().Leaves.ShouldBeEmpty("what is gone cannot be tapped");
    }

    [Fact]
    public async Task The_absence_sheet_says_how_long_each_lasts_and_refuses_to_end_before_it_begins()
    {
        await StartAsync();
        var sheet = await Desks.Rounds.AbsenceAsync(new DateOnly(2026, 3, 15), new DateOnly(2026, 4, 20), Cancel);
        sheet.Lines.Count.ShouldBe(2);
        sheet.Lines.ShouldAllBe(line => line.LastsDays!.Value.Low < line.LastsDays.Value.Value && line.WaterOn.Count == sheet.WaterOn.Count);
        sheet.WaterOn.ShouldNotBeEmpty("a third of a litre does not last five weeks");
        (await Should.ThrowAsync<EntryException>(() => Desks.Rounds.AbsenceAsync(new DateOnly(2026, 3, 15), new DateOnly(2026, 3, 14), Cancel))).Problems.Single().Field.ShouldBe("to");
    }
}

public sealed class RoundDeskOnSqlite : RoundDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class RoundDeskOnPostgres(PostgresServer server) : RoundDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
