using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Desks;

/// <summary>A trial from its plan to its result: nothing of it can be changed, looked at for nothing, or left unwritten.</summary>
public abstract class TrialDeskTests : OnADatabase
{
    private readonly ManyLeaves _bench = new();

    private ITrialDesk Desk => Desks.Trials;

    private static TrialPlan Plan => new()
    {
        Question = "Does potassium nitrate keep leaves on longer?",
        Arms = [new TrialArm("A", "the usual can"), new TrialArm("B", "the usual can with potassium nitrate")],
        Plants = [.. Enumerable.Range(11, 10)],
        Outcomes = [TrialOutcome.LeafLoss],
        Months = 24,
        Looks = 2,
        Runs = 100,
    };

    [Fact]
    public async Task The_program_draws_and_a_seed_draws_the_same_again()
    {
        await StartAsync();

        var trial = await Desk.RegisterAsync(Plan with { Seed = 421 }, cancel: Cancel);

        trial.State.ShouldBe(TrialState.Running);
        trial.Seats.Count(seat => seat.Arm == "A").ShouldBe(5);
        trial.Registered.SeedByHand.ShouldBeTrue("a seed that was chosen could have been tried out");
        var again = TrialDraw.Draw([.. trial.Registered.Seats.Select(seat => new TrialPlant(seat.PlantId.ToString(), seat.Block))], ["A", "B"], 421);
        trial.Registered.Seats.ShouldAllBe(seat => again[seat.PlantId.ToString()] == seat.Arm);
        var arms = await Desk.ArmsAsync(Cancel);
        arms.Count.ShouldBe(10);
        arms[trial.Seats[0].PlantId].Arm.ShouldBe(trial.Seats[0].Arm);
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task What_is_registered_stands_and_cannot_be_corrected_taken_back_or_handed_in()
    {
        await StartAsync();
        var trial = await Desk.RegisterAsync(Plan, cancel: Cancel);
        var fact = await Desks.Database.ReadAsync(db => Task.FromResult(db.Facts.Single(row => row.SubjectId == trial.Id)), Cancel);

        await Should.ThrowAsync<EntryException>(() => Desks.Facts.UndoAsync(fact.Id, Guid.CreateVersion7(), cancel: Cancel));
        await Should.ThrowAsync<EntryException>(() => Desks.Facts.WriteAsync([Told(trial.Id, trial.Registered with { Ratio = 0.9 }, corrects: fact.Id)], cancel: Cancel));
        await Should.ThrowAsync<EntryException>(() => Desks.Facts.WriteAsync([Told(trial.Id, new TrialEnded(trial.Id, new DateOnly(2026, 3, 14), new TrialResult(0.05, true, "it worked", [])))], cancel: Cancel));

        var noted = await Desk.NoteDepartureAsync(trial.Id, "got the other arm's feed once", 12, Cancel);
        noted.Departures.Single().What.ShouldBe("got the other arm's feed once");
        noted.Registered.ShouldBeEquivalentTo(trial.Registered);
    }

    [Fact]
    public async Task A_trial_begins_with_its_registration_or_later_and_a_plant_sits_in_one_at_a_time()
    {
        await StartAsync();
        (await RefusedAsync(Plan with { Begins = new DateOnly(2026, 3, 13) })).ShouldBe(["begins"]);
        (await RefusedAsync(Plan with { Plants = [11, 12, 99, 13] })).ShouldBe(["plants"]);
        (await RefusedAsync(Plan with { Plants = [11, 12] })).ShouldBe(["plants"]);
        (await RefusedAsync(Plan with { Arms = [new TrialArm("A", "x"), new TrialArm("a", "y")] })).ShouldBe(["arms"]);
        (await RefusedAsync(Plan with { Question = " ", Ratio = 1, Months = 0 })).ShouldBe(["question", "months", "ratio"]);
        var later = await Desk.RegisterAsync(Plan with { Begins = new DateOnly(2026, 5, 1) }, cancel: Cancel);
        later.State.ShouldBe(TrialState.ToCome);
        (await Should.ThrowAsync<EntryException>(() => Desk.PriceOfLookAsync(later.Id, Cancel))).Message.ShouldContain("2026-05-01");
        (await RefusedAsync(Plan with { Plants = [15, 16, 17, 18] })).ShouldBe(["plants"], "they sit in the first");
    }

    [Fact]
    public async Task A_look_is_paid_for_and_the_end_is_written_whether_or_not_it_pleases()
    {
        await StartAsync();
        var trial = await Desk.RegisterAsync(Plan, cancel: Cancel);
        Clock.Advance(TimeSpan.FromDays(180));
        var early = await Desk.PriceOfLookAsync(trial.Id, Cancel);
        early.Planned.ShouldBeFalse();
        early.Words.ShouldContain("fools oneself");
        early.Level.ShouldBeLessThan(0.001, "O'Brien and Fleming: almost nothing at a quarter of the way");
        early.LastLevelWith.ShouldBeLessThan(early.LastLevelWithout + 1e-9);
        Clock.Advance(TimeSpan.FromDays(190));
        (await Desk.PriceOfLookAsync(trial.Id, Cancel)).Planned.ShouldBeTrue("half of its length is over and two looks were planned");

        var looked = await Desk.LookAsync(trial.Id, Cancel);

        looked.Looked.Single().Result.Claims.ShouldBeFalse("nothing was lost yet");
        looked.Looked.Single().Result.Words.ShouldContain("good news");
        await Should.ThrowAsync<EntryException>(() => Desk.LookAsync(trial.Id, Cancel));
        (await Should.ThrowAsync<EntryException>(() => Desk.EndAsync(trial.Id, Cancel))).Message.ShouldContain("only be stopped");
        Clock.Advance(TimeSpan.FromDays(400));
        var ended = await Desk.EndAsync(trial.Id, Cancel);
        ended.State.ShouldBe(TrialState.Ended);
        ended.Result!.Claims.ShouldBeFalse();
        ended.Result.Outcomes.Single().P.ShouldBeNull("no loss, no p");
        ended.Result.Level.ShouldBeLessThan(0.05, "a look was paid for");
        (await Should.ThrowAsync<EntryException>(() => Desk.EndAsync(trial.Id, Cancel))).Message.ShouldContain("it stands");
        (await Desk.ArmsAsync(Cancel)).ShouldBeEmpty();
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_difference_that_is_there_is_found_by_the_draw_made_again()
    {
        await StartAsync();
        var trial = await Desk.RegisterAsync(Plan with { Looks = 1, Outcomes = [TrialOutcome.LeafLoss, TrialOutcome.NewLeaves] }, cancel: Cancel);
        Clock.Advance(TimeSpan.FromDays(500));
        // Every plant of A loses its three leaves, each of B one; new leaves are two or three, whichever arm.
        var leaves = _bench.Facts.Where(fact => fact.Payload is LeafSeen).ToLookup(fact => fact.SubjectId, fact => ((LeafSeen)fact.Payload).LeafId);
        var facts = new List<NewFact>();
        foreach (var (seat, i) in trial.Seats.Select((seat, i) => (seat, i)))
        {
            facts.AddRange(leaves[seat.PlantId].Take(seat.Arm == "A" ? 3 : 1).Select((leaf, k) => Told(seat.PlantId, new LeafLost(seat.PlantId, leaf, LeafLoss.Age, null), $"2026-{6 + k:00}-{i + 1:00}")));
            var growth = ((GrowthSeen)_bench.Facts.First(fact => fact.SubjectId == seat.PlantId && fact.Payload is GrowthSeen).Payload).GrowthId;
            facts.AddRange(Enumerable.Range(0, 2 + (i * i) % 5 % 3).Select(k => Leaf(seat.PlantId, growth, out _, 10 + k, $"2026-{5 + k:00}-01")));
        }

        await Desks.Facts.WriteAsync(facts, cancel: Cancel);
        Clock.Advance(TimeSpan.FromDays(300));

        var ended = await Desk.EndAsync(trial.Id, Cancel);

        var (loss, fresh) = (ended.Result!.Outcomes[0], ended.Result.Outcomes[1]);
        (loss.FirstEvents, loss.SecondEvents).ShouldBe((15, 5));
        loss.P!.Value.ShouldBeInRange(1.0 / 252, 0.025); // 2 of the 252 ways to deal ten plants into two fives are as uneven
        loss.PAdjusted!.Value.ShouldBeGreaterThan(loss.P.Value, "two questions at once");
        (loss.Ratio ?? 0).ShouldBeLessThan(1, "a ratio where the losses allow one");
        ended.Result.Claims.ShouldBeTrue();
        ended.Result.Words.ShouldContain("Benjamini–Hochberg");
        fresh.P!.Value.ShouldBeGreaterThan(0.3, "a leaf more here and there is nothing");
    }

    [Fact]
    public async Task A_trial_that_is_stopped_leaves_its_result_and_its_reason()
    {
        await StartAsync();
        var trial = await Desk.RegisterAsync(Plan, cancel: Cancel);
        await Should.ThrowAsync<EntryException>(() => Desk.StopAsync(trial.Id, " ", Cancel));
        Clock.Advance(TimeSpan.FromDays(100));

        var stopped = await Desk.StopAsync(trial.Id, "the shelf is needed", Cancel);

        (stopped.State, stopped.StoppedWhy).ShouldBe((TrialState.Stopped, "the shelf is needed"));
        stopped.Result.ShouldNotBeNull().Claims.ShouldBeFalse();
        var list = await Desk.ListAsync(Cancel);
        list.Ended.Single().TrialId.ShouldBe(trial.Id, "a stopped trial does not go into a drawer");
    }

    [Fact]
    public async Task A_plan_says_what_it_would_find_and_what_it_took_for_granted()
    {
        await StartAsync();
        var share = new List<double>();

        var forecast = await Desk.PlanAsync(Plan, new Listed(share), Cancel);

        forecast.Power.ShouldBeInRange(0, 1);
        forecast.Rates.ShouldContain(rate => rate.Contains("judgement"), "nothing was lost here yet");
        forecast.Looks.Select(look => look.Day).ShouldBe([new DateOnly(2027, 3, 15), new DateOnly(2028, 3, 14)]);
        forecast.Looks[0].Level.ShouldBeLessThan(forecast.Looks[1].Level);
        forecast.Warnings.ShouldContain(warning => warning.Contains("has its price"));
        share.ShouldNotBeEmpty();
        (await Desk.ListAsync(Cancel)).Trials.ShouldBeEmpty("a plan is not written down");
        using var stop = new CancellationTokenSource();
        await stop.CancelAsync();
        await Should.ThrowAsync<OperationCanceledException>(() => Desk.PlanAsync(Plan, null, stop.Token));
        (await Desk.PlanAsync(Plan with { Outcomes = [TrialOutcome.Flowers], Ratio = 1.5, Looks = 1 }, null, Cancel)).Power.ShouldBeInRange(0, 1);
        (await Desk.PlanAsync(Plan with { Outcomes = [TrialOutcome.LeafLength], Ratio = 1.5, Looks = 1 }, null, Cancel)).Rates.ShouldContain(rate => rate.Contains("judgement"));
    }

    private sealed class Listed(List<double> to) : IProgress<double>
    {
        public void Report(double value)
        {
            lock (to)
            {
                to.Add(value);
            }
        }
    }

    private async Task<IReadOnlyList<string>> RefusedAsync(TrialPlan plan) => [.. (await Should.ThrowAsync<EntryException>(() => Desk.RegisterAsync(plan, cancel: Cancel))).Problems.Select(problem => problem.Field)];

    private async Task StartAsync()
    {
        foreach (var number in Enumerable.Range(11, 10))
            _bench.Plant(number, "2024-01-01").Leaf(number, "2024-03-01").Leaf(number, "2024-08-01").Leaf(number, "2025-02-01");
        await Log.AppendAsync(Small.Facts(), Cancel);
        await Desks.Facts.WriteAsync(_bench.Facts, cancel: Cancel);
    }
}

public sealed class TrialDeskOnSqlite : TrialDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class TrialDeskOnPostgres(PostgresServer server) : TrialDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
