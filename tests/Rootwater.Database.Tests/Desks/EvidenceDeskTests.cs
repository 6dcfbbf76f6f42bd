using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Desks;

/// <summary>What the ledger can and cannot tell, asked through the desk: thin records get a sentence, never a number that means nothing.</summary>
public abstract class EvidenceDeskTests : OnADatabase
{
    private static readonly PlantGroup s_kind = new() { Kind = ManyLeaves.Kind };
    private static readonly DateOnly s_since = new(2023, 6, 1);

    private IEvidenceDesk Desk => Desks.Evidence;

    [Fact]
    public async Task Nothing_lost_is_good_news_and_says_nothing_of_a_difference()
    {
        var bench = Plants(4);
        foreach (var number in Numbers(4))
            bench.Leaf(number, "2022-01-01").Leaf(number, "2023-01-01").Leaf(number, "2024-01-01");
        await StartAsync(bench);

        var lives = await AskedAsync();

        lives.Verdict!.Strength.ShouldBe(Strength.CannotTell);
        lives.Verdict.P.ShouldBeNull();
        lives.Curves.ShouldAllBe(curve => curve.MedianDays == null);
        lives.Table.Count.ShouldBe(12);
        lives.Table.ToList().Count.ShouldBe(12, "lines are written as they are read");
        lives.Table[11].ShouldBe(lives.Table.Last());
        (await Desk.DriversAsync(new EvidenceQuestion(s_kind), Cancel)).Words.ShouldStartWith("No leaf was lost");
        (await Desk.NextLeafAsync(11, Cancel)).MiddleDays.ShouldBeNull();
        (await Desk.NextLeafAsync(11, Cancel)).Words.ShouldContain("Nothing was lost");
        (await Desk.RatesAsync(new EvidenceQuestion(s_kind, s_since), Cancel)).Rates.ShouldAllBe(rate => rate.PCentral == null && rate.Words.Contains("never seen"));
    }

    [Fact]
    public async Task Losses_that_fell_on_one_day_are_one_happening()
    {
        var bench = Plants(4);
        foreach (var number in Numbers(4))
            bench.Leaf(number, $"2022-0{number - 9}-01", "2024-02-11", LeafLoss.Cold).Leaf(number, "2023-01-01", "2024-02-11", LeafLoss.Cold).Leaf(number, "2024-05-01");
        await StartAsync(bench);

        var lives = await AskedAsync();

        lives.Verdict!.Strength.ShouldBe(Strength.CannotTell);
        lives.Words.ShouldContain("one day");
        (await Desk.DriversAsync(new EvidenceQuestion(s_kind), Cancel)).Words.ShouldContain("one happening");
    }

    [Fact]
    public async Task One_plant_speaks_for_itself_alone()
    {
        var bench = Plants(1).Leaf(11, "2021-03-01", "2022-08-01").Leaf(11, "2021-06-01", "2023-02-01").Leaf(11, "2022-02-01", "2024-07-01").Leaf(11, "2022-09-01", "2025-05-01").Leaf(11, "2024-01-01");
        await StartAsync(bench);

        var lives = await Desk.LivesAsync(new EvidenceQuestion(PlantGroup.Of(11), s_since), Cancel);

        Finite(lives);
        lives.Says.ShouldContain(say => say.StartsWith("One plant", StringComparison.Ordinal));
        lives.Verdict!.ClaimsDifference.ShouldBeFalse("four losses tell nothing");
        (await Desk.LivesAsync(new EvidenceQuestion(PlantGroup.Of(11), s_since, LivesOf.Plants), Cancel)).Verdict!.Strength.ShouldBe(Strength.CannotTell);
        (await Desk.SistersAsync(new EvidenceQuestion(PlantGroup.Of(11), s_since), Cancel)).P.ShouldBeNull();
        Finite(await Desk.DriversAsync(new EvidenceQuestion(PlantGroup.Of(11)), Cancel));
        Finite(await Desk.NextLeafAsync(11, Cancel));
    }

    [Fact]
    public async Task What_never_varied_is_left_out_and_named()
    {
        var bench = Plants(6);
        foreach (var number in Numbers(6))
            bench.Leaf(number, "2022-01-01", $"2023-0{number - 10}-15").Leaf(number, "2022-07-01", $"2024-0{number - 9}-15").Leaf(number, "2023-06-01");
        await StartAsync(bench);

        var drivers = await Desk.DriversAsync(new EvidenceQuestion(s_kind), Cancel);

        Finite(drivers);
        drivers.Says.ShouldContain(say => say.StartsWith("potassium to nitrogen poured", StringComparison.Ordinal) && say.Contains("left out"));
        var repotted = drivers.Drivers.Single(line => line.Name.StartsWith("repotted", StringComparison.Ordinal));
        repotted.HazardRatio.ShouldBeNull();
        repotted.Words.ShouldContain("never varies");
    }

    [Fact]
    public async Task A_comparison_that_is_perfectly_separated_has_no_ratio_and_no_p()
    {
        var bench = Plants(10);
        foreach (var number in Numbers(10))
        {
            bench.Leaf(number, "2022-01-01", number % 2 == 0 ? $"2024-0{(number - 10) / 2 + 1}-20" : null).Leaf(number, "2022-06-01");
            bench.Repotted(number, "2021-01-02");
            if (number % 2 == 0)
                bench.Repotted(number, $"2024-0{(number - 10) / 2 + 1}-01");
        }

        await StartAsync(bench);

        var drivers = await Desk.DriversAsync(new EvidenceQuestion(s_kind), Cancel);

        Finite(drivers);
        var repotted = drivers.Drivers.Single(line => line.Name.StartsWith("repotted", StringComparison.Ordinal));
        repotted.P.ShouldBeNull();
        repotted.Words.ShouldContain("Perfectly separated");
    }

    [Fact]
    public async Task Dates_known_only_to_the_year_are_used_as_far_as_they_go_and_said()
    {
        var bench = Plants(4);
        foreach (var number in Numbers(4))
            bench.Leaf(number, "2021", "2023").Leaf(number, "2022", "2022").Leaf(number, "2022-03-01", "2024-05-01").Leaf(number, "2023-03-01", number % 2 == 0 ? "2025-02" : null);
        await StartAsync(bench);

        var lives = await AskedAsync();

        lives.Says.ShouldContain(say => say.Contains("the same month or year"));
        lives.Says.ShouldContain(say => say.Contains("the middle was taken"));
        lives.Table.Count(life => life.Began == "2021").ShouldBe(4);
        Finite(await Desk.DriversAsync(new EvidenceQuestion(s_kind), Cancel));
        Finite(await Desk.NextLeafAsync(11, Cancel));
    }

    [Fact]
    public async Task An_old_leaf_that_came_with_its_plant_does_not_pass_for_a_young_one()
    {
        var bench = Plants(4);
        foreach (var number in Numbers(4))
            bench.Leaf(number, "2021-01-01", "2021-06-01", thereOnArrival: true).Leaf(number, "2021-01-01", "2021-09-01", thereOnArrival: true).Leaf(number, "2022-01-01", "2024-03-01").Leaf(number, "2023-01-01");
        await StartAsync(bench);

        var lives = await AskedAsync();

        lives.Verdict!.Events.ShouldBe(4, "the eight that came are not compared");
        var came = lives.Curves.Single(curve => curve.Name == "came with the plant");
        (came.Lives, came.Lost).ShouldBe((8, 8));
        lives.Table.Count(life => !life.AgeKnown).ShouldBe(8);
    }

    [Fact]
    public async Task What_is_broken_or_cut_off_ends_the_watch_and_is_no_loss_and_an_answer_follows_what_is_put_right()
    {
        var bench = Plants(2).Leaf(11, "2022-01-01", "2024-01-01", LeafLoss.Broken).Leaf(11, "2022-02-01", "2024-02-01").Leaf(12, "2022-01-01", "2024-05-01").Leaf(12, "2023-01-01");
        await StartAsync(bench);
        (await AskedAsync()).Table.Count(life => life.Lost).ShouldBe(2);

        var lost = bench.Facts.Last(fact => fact.Payload is LeafLost);
        await Desks.Facts.UndoAsync(lost.Id, Guid.CreateVersion7(), cancel: Cancel);

        (await AskedAsync()).Table.Count(life => life.Lost).ShouldBe(1, "it was taken back");
    }

    [Fact]
    public async Task Rots_before_and_since_are_compared_by_exact_rates_with_every_convention_named()
    {
        var bench = Plants(6);
        foreach (var number in Numbers(6))
            bench.Leaf(number, "2021-02-01", $"2022-0{number - 10}-10", LeafLoss.Rot).Leaf(number, "2021-05-01", $"2023-0{Math.Min(5, number - 10)}-20", LeafLoss.Rot).Leaf(number, "2022-01-01").Leaf(number, "2022-02-01");
        await StartAsync(bench);

        var rates = await Desk.RatesAsync(new EvidenceQuestion(s_kind, s_since), Cancel);

        Finite(rates);
        var rot = rates.Rates.Single(rate => rate.What == "leaf lost to rot");
        (rot.Before, rot.Since).ShouldBe((12, 0));
        rot.Ratio.ShouldBe(0);
        rot.PCentral!.Value.ShouldBeLessThan(0.01);
        rot.PMid!.Value.ShouldBeLessThan(rot.PCentral.Value, "the mid-p counts what was seen half");
        rot.PAdjusted!.Value.ShouldBeGreaterThanOrEqualTo(rot.PCentral.Value);
        rates.Basis.Method.ShouldContain("mid-p");
    }

    [Fact]
    public async Task South_of_the_equator_a_leaf_shed_for_the_rest_falls_half_a_year_later()
    {
        const string kind = "deciduous Dendrobium";
        var bench = new ManyLeaves().Plant(11, kind: kind).Leaf(11, "2022-05-01", "2023-01-10", LeafLoss.Unknown).Leaf(11, "2022-11-01", "2023-07-10", LeafLoss.Unknown).Leaf(11, "2023-05-01");
        await StartAsync(bench);
        var question = new EvidenceQuestion(new PlantGroup { Kind = kind });
        async Task<IEnumerable<string>> ShedAsync() => (await Desk.LivesAsync(question, Cancel)).Table.Where(life => life.Why.Contains("shed in its season")).Select(life => life.Until);
        (await ShedAsync()).ShouldBe(["2023-01-10"], "at rest in the northern winter");

        await Desks.Settings.SaveLatitudeAsync(-33.9, cancel: Cancel);

        (await ShedAsync()).ShouldBe(["2023-07-10"], "at rest in the southern one");
    }

    [Fact]
    public async Task Growth_and_flowers_of_a_bench_that_wrote_none_down_cannot_be_asked_about()
    {
        await StartAsync(Plants(2).Leaf(11, "2022-01-01"));

        var growth = await Desk.GrowthAsync(new EvidenceQuestion(s_kind), Cancel);

        Finite(growth);
        growth.Words.ShouldStartWith("Too little was written down");
        growth.Lines.ShouldAllBe(line => line.P == null && line.Words.Length > 20);
        growth.Lines.ShouldContain(line => line.Name.Contains("full moon"));
    }

    [Fact]
    public async Task What_cannot_be_asked_is_refused_by_field()
    {
        await StartAsync(Plants(2).Leaf(11, "2022-01-01"));
        foreach (var (ask, field) in new (Func<Task>, string)[]
        {
            (() => Desk.LivesAsync(new EvidenceQuestion(PlantGroup.Of(99)), Cancel), "number"),
            (() => Desk.LivesAsync(new EvidenceQuestion(new PlantGroup { Kind = "Vanda" }), Cancel), "kind"),
            (() => Desk.LivesAsync(new EvidenceQuestion(s_kind, new DateOnly(2019, 1, 1)), Cancel), "since"),
            (() => Desk.RatesAsync(new EvidenceQuestion(s_kind, new DateOnly(2030, 1, 1)), Cancel), "since"),
            (() => Desk.SeriesAsync(new SeriesQuestion(s_kind, SeriesOf.Leaves, s_since, [new DateOnly(2022, 1, 1)]), Cancel), "back on"),
        })
            (await Should.ThrowAsync<EntryException>(ask)).Problems.Single().Field.ShouldBe(field);
        var series = await Desk.SeriesAsync(new SeriesQuestion(s_kind, SeriesOf.ReservoirEc, s_since), Cancel);
        series.Words.ShouldContain("too few");
        Finite(series);
        (await Desk.LivesAsync(new EvidenceQuestion(s_kind), Cancel)).Words.ShouldContain("no change of feed");
    }

    [Fact]
    public async Task A_step_in_the_number_of_leaves_is_found_with_its_autocorrelation()
    {
        var bench = Plants(3);
        foreach (var number in Numbers(3))
        {
            bench.Leaf(number, "2021-01-10", $"2022-0{number - 8}-01").Leaf(number, $"2022-0{number - 7}-01", "2024-05-01").Leaf(number, "2021-01-10").Leaf(number, "2021-01-12", $"2025-0{number - 8}-01");
            for (var leaf = 0; leaf < 5; leaf++)
                bench.Leaf(number, $"2023-06-0{leaf + 1}");
        }

        await StartAsync(bench);

        var series = await Desk.SeriesAsync(new SeriesQuestion(s_kind, SeriesOf.Leaves, s_since), Cancel);

        Finite(series);
        var step = series.Figures.Single(figure => figure.Name == "step at the change");
        step.Lower!.Value.ShouldBeGreaterThan(0, "five leaves came at once on every plant");
        step.Value!.Value.ShouldBeInRange(3.5, 6);
        series.Says.ShouldContain(say => say.Contains("hang together"));
        series.Basis.Method.ShouldContain("Newey–West");
    }

    private async Task<LivesAnswer> AskedAsync()
    {
        var lives = await Desk.LivesAsync(new EvidenceQuestion(s_kind, s_since), Cancel);
        Finite(lives);
        return lives;
    }

    private async Task StartAsync(ManyLeaves bench)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await Desks.Facts.WriteAsync(bench.Facts, cancel: Cancel);
    }

    private static ManyLeaves Plants(int count)
    {
        var bench = new ManyLeaves();
        foreach (var number in Numbers(count))
            bench.Plant(number);
        return bench;
    }

    private static IEnumerable<int> Numbers(int count) => Enumerable.Range(11, count);

    private static readonly JsonSerializerOptions s_json = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    private static void Finite(object answer)
    {
        var json = JsonSerializer.Serialize(answer, s_json);
        json.ShouldNotContain("NaN");
        json.ShouldNotContain("\"Infinity\"");
        json.ShouldNotContain("\"-Infinity\"");
    }
}

public sealed class EvidenceDeskOnSqlite : EvidenceDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class EvidenceDeskOnPostgres(PostgresServer server) : EvidenceDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
