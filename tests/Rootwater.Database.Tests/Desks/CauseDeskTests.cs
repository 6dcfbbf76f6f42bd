using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Desks;

/// <summary>Cause sheets from the facts of a ledger: text-book cases (sources per row in data/growing/cause-likelihoods.csv), what is kept, what it proved to be.</summary>
public abstract class CauseDeskTests : OnADatabase
{
    private Guid Plant => Small.FirstPlant;

    [Fact]
    public async Task The_yellowing_oldest_leaf_of_a_plant_whose_leaves_fall_at_that_age_is_ordinary_ageing()
    {
        var leaf = await WithLeavesAsync(LeafSign.Yellowing, LeafPart.Whole, 2);

        var sheet = await Desks.Causes.SheetAsync(Plant, cancel: Cancel);

        sheet.LeafId.ShouldBe(leaf, "it is the one that is marked");
        sheet.Result.Causes[0].Id.ShouldBe("ageing");
        sheet.Result.Causes[0].Share.ShouldBeGreaterThan(0.6);
        sheet.Result.Causes[0].For.ShouldContain(reason => reason.FromLedger && reason.Words.Contains("years old; a sister was lost at", StringComparison.Ordinal));
        sheet.Answered.ShouldAllBe(answer => answer.FromLedger, "nobody looked yet");
        sheet.Answered.Select(answer => (answer.Clue.Id, answer.Value)).ShouldContain(("leaf-age", "oldest"));
        sheet.Read.ShouldContain(line => line.Contains("1.8 years old", StringComparison.Ordinal));
        sheet.Result.Quarantine.ShouldBeNull();
    }

    [Fact]
    public async Task A_mark_on_a_leaf_and_a_look_or_two_rank_the_textbook_cause_first()
    {
        await StartAsync();
        var number = 10;
        foreach (var (cause, sign, part, seen) in new[]
        {
            ("potassium-short", LeafSign.Yellowing, LeafPart.Margin, "leaf-age=old"), // Wang 2007: lower leaves, necrosis from tip or margin
            ("virus", LeafSign.Streaks, LeafPart.Whole, "leaf-age=newest speed=weeks"), // PNW Plant Disease Handbook: streaks on new leaves
            ("bacterial-rot", LeafSign.WaterSoaked, LeafPart.Whole, "smell=foul speed=days"), // after Baker and Burnett
            ("sunburn", LeafSign.Sunburn, LeafPart.ExposedSide, "speed=days event=sun"), // look-alikes from here on: common practice
            ("cold", LeafSign.Spots, LeafPart.ExposedSide, "pattern=pitted-patch speed=days event=cold"),
            ("root-loss", LeafSign.Pleated, LeafPart.Whole, "roots=mostly-dead leaf-age=all"),
            ("thirst", LeafSign.Pleated, LeafPart.Whole, "roots=firm event=drought leaf-age=all"),
            ("iron-short", LeafSign.PaleBetweenVeins, LeafPart.BetweenVeins, "leaf-age=newest root-ph=high"),
            ("magnesium-short", LeafSign.PaleBetweenVeins, LeafPart.BetweenVeins, "leaf-age=old speed=months"),
        })
        {
            var plant = Guid.CreateVersion7();
            await WriteAsync(Told(plant, new PlantArrived(plant, number++, "one of many", "strap-leaved", Habit.Monopodial), "2024-05"));
            await LeavesAsync(plant, sign, part, 4);

            var sheet = await Desks.Causes.SheetAsync(plant, seen: Seen(seen), cancel: Cancel);

            sheet.Result.Causes[0].Id.ShouldBe(cause, string.Join(", ", sheet.Result.Causes.Take(4).Select(each => FormattableString.Invariant($"{each.Id} {each.Share:0.00}"))));
            sheet.Result.Causes.Sum(each => each.Share).ShouldBe(1, 1e-9);
            sheet.SheetId.ShouldBeNull("nothing was kept");
        }
    }

    [Fact]
    public async Task What_was_seen_is_kept_with_the_ranking_believed_and_what_it_proved_to_be_judges_it()
    {
        await WithLeavesAsync(LeafSign.Yellowing, LeafPart.Whole, 2);
        (await Desks.Causes.BookAsync(Cancel)).Hits.Judged.ShouldBe(0);

        var id = Guid.CreateVersion7();
        var look = new CauseLook { PlantId = Plant, Answers = new Dictionary<string, string?> { ["roots"] = "firm", ["speed"] = "weeks" }, Id = id };
        var sheet = await Desks.Causes.SeeAsync(look, Cancel);
        await Desks.Causes.SeeAsync(look with { Answers = new Dictionary<string, string?> { ["turgor"] = "firm" }, Id = null }, Cancel);
        (await Desks.Causes.SeeAsync(look with { Answers = new Dictionary<string, string?> { ["speed"] = null }, Id = null }, Cancel)).Answered.Where(answer => answer.FactId is not null).Select(answer => answer.Clue.Id).ShouldBe(["turgor", "roots"], ignoreOrder: true);

        var open = (await Desks.Causes.BookAsync(Cancel)).Open.ShouldHaveSingleItem();
        (open.SheetId, open.Answers, open.Ranked[0].Cause).ShouldBe((sheet.SheetId!.Value, 2, "ageing"));

        await Desks.Causes.SettleAsync(new CauseSettling { SheetId = open.SheetId, Cause = "ageing", Evidence = "the next leaf stayed green" }, Cancel);
        var book = await Desks.Causes.BookAsync(Cancel);
        (book.Open.Count, book.Settled[0].Rank, book.Hits.First, book.Hits.Judged).ShouldBe((0, 1, 1, 1));
        book.Hits.Words.ShouldContain("too few to tell");
        (await Desks.Causes.SheetAsync(Plant, cancel: Cancel)).SheetId.ShouldBeNull("a settled sheet is closed");
    }

    [Fact]
    public async Task An_answer_and_a_settling_that_were_taken_back_do_not_count()
    {
        await WithLeavesAsync(LeafSign.Yellowing, LeafPart.Whole, 2);
        var (seen, settled) = (Guid.CreateVersion7(), Guid.CreateVersion7());
        await Desks.Causes.SeeAsync(new CauseLook { PlantId = Plant, Answers = new Dictionary<string, string?> { ["roots"] = "firm" } }, Cancel);
        var sheet = await Desks.Causes.SeeAsync(new CauseLook { PlantId = Plant, Answers = new Dictionary<string, string?> { ["smell"] = "foul" }, Id = seen }, Cancel);
        await Desks.Facts.UndoAsync(seen, Guid.CreateVersion7(), cancel: Cancel);
        (await Desks.Causes.SheetAsync(Plant, cancel: Cancel)).Answered.ShouldNotContain(answer => answer.Clue.Id == "smell");

        await Desks.Causes.SettleAsync(new CauseSettling { SheetId = sheet.SheetId!.Value, Cause = "virus", Evidence = "strip", Id = settled }, Cancel);
        await Desks.Facts.UndoAsync(settled, Guid.CreateVersion7(), cancel: Cancel);
        var book = await Desks.Causes.BookAsync(Cancel);
        (book.Open.Count, book.Settled.Count).ShouldBe((1, 0));
        (await Rootwater.Ledger.Projections.LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task What_may_go_over_to_others_is_kept_apart_by_one_fact_and_a_neighbours_pest_counts()
    {
        await WithLeavesAsync(LeafSign.Streaks, LeafPart.Whole, 4);
        var sheet = await Desks.Causes.SheetAsync(Plant, seen: Seen("leaf-age=newest"), cancel: Cancel);
        sheet.Result.Quarantine.ShouldNotBeNull().ShouldContain("virus");
        sheet.Result.Clinic.ShouldNotBeNull();

        await Desks.Causes.QuarantineAsync(Plant, cancel: Cancel);
        await Desks.Causes.QuarantineAsync(Plant, cancel: Cancel);
        (await Desks.Plants.GetAsync(Plant, Cancel))!.Quarantines.ShouldHaveSingleItem().Days.ShouldBe(28);

        var before = Share(await Desks.Causes.SheetAsync(Plant, cancel: Cancel), "thrips");
        await WriteAsync(Told(Small.SecondPlant, new PestChecked(Small.SecondPlant, ["thrips"], null), "2026-03-10"));
        Share(await Desks.Causes.SheetAsync(Plant, cancel: Cancel), "thrips").ShouldBeGreaterThan(2 * before);
    }

    [Fact]
    public async Task A_reservoir_far_above_the_feed_and_a_dry_tip_on_many_leaves_is_salt()
    {
        await WithLeavesAsync(LeafSign.DryTip, LeafPart.Tip, 2, 3, 4);
        await FeedAsync();
        await WriteAsync(Told(Plant, new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = Plant, EcMicrosiemensPerCm = 1900, PH = 6.3 }, "2026-03-13T08:00"));

        var sheet = await Desks.Causes.SheetAsync(Plant, cancel: Cancel);

        sheet.Result.Causes[0].Id.ShouldBe("salt");
        sheet.Answered.Select(answer => (answer.Clue.Id, answer.Value)).ShouldContain(("reservoir-ec", "far-above"));
        sheet.Answered.Select(answer => (answer.Clue.Id, answer.Value)).ShouldContain(("root-ph", "inside"));
        sheet.Read.ShouldContain(line => line.Contains("EC 3.1 times the feed's", StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_empty_record_asks_and_bad_input_is_named_and_no_figure_is_not_a_number()
    {
        await StartAsync();
        var sheet = await Desks.Causes.SheetAsync(Plant, cancel: Cancel);
        sheet.Result.NextChecks[0].Clue.Question.ShouldNotBeEmpty();
        sheet.Result.Causes.ShouldAllBe(cause => double.IsFinite(cause.Share) && cause.For.Concat(cause.Against).All(reason => double.IsFinite(reason.Ratio)));

        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SheetAsync(Guid.CreateVersion7(), cancel: Cancel))).Problems[0].Field.ShouldBe("plant");
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SheetAsync(Plant, Guid.CreateVersion7(), cancel: Cancel))).Problems[0].Field.ShouldBe("leaf");
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SheetAsync(Plant, seen: Seen("colour=red"), cancel: Cancel))).Problems[0].Accepted.ShouldContain("pattern");
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SeeAsync(new CauseLook { PlantId = Plant, Answers = new Dictionary<string, string?> { ["speed"] = "slow" } }, Cancel))).Problems[0].Field.ShouldBe("speed");
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SeeAsync(new CauseLook { PlantId = Plant, Answers = new Dictionary<string, string?>() }, Cancel))).Problems[0].Field.ShouldBe("answers");
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SettleAsync(new CauseSettling { SheetId = Guid.CreateVersion7(), Cause = "ageing", Evidence = "x" }, Cancel))).Problems[0].Field.ShouldBe("sheet");
        await Desks.Causes.SeeAsync(new CauseLook { PlantId = Plant, Answers = new Dictionary<string, string?> { ["roots"] = "firm" } }, Cancel);
        var open = (await Desks.Causes.BookAsync(Cancel)).Open[0].SheetId;
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SettleAsync(new CauseSettling { SheetId = open, Cause = "gremlins", Evidence = "x" }, Cancel))).Problems.ShouldContain(problem => problem.Field == "cause" && problem.Accepted.Contains("ageing", StringComparison.Ordinal));
        (await Should.ThrowAsync<EntryException>(() => Desks.Causes.SettleAsync(new CauseSettling { SheetId = open, Cause = "ageing", Evidence = " " }, Cancel))).Problems.ShouldContain(problem => problem.Field == "evidence");
    }

    [Fact]
    public async Task What_was_tried_says_what_was_given_and_goes_along_with_the_story_only_when_ticked()
    {
        await StartAsync();
        (await Desks.Tried.OfPlantAsync(Plant, Cancel))!.Words.ShouldBe(["Nothing that was given is on record."]);
        (await Desks.Tried.OfPlantAsync(Guid.CreateVersion7(), Cancel)).ShouldBeNull();
        await FeedAsync();

        var tried = (await Desks.Tried.OfPlantAsync(Plant, Cancel))!;
        tried.Years.ShouldHaveSingleItem().FeedLitres.ShouldBe(0.25, 1e-9);
        tried.Years[0].MgPerLitre.TotalNitrogen.ShouldBe(97, 0.5);
        // 3.5 g in 5 L: 0.7 g/L, of which a quarter of a litre carried 0.175 g.
        var salt = tried.Products.Single(product => product.Product == "potassium nitrate");
        (salt.GramsPerLitre, salt.Grams, salt.Cans).ShouldBe((0.7, 0.175, 1));
        tried.Words.ShouldContain(sentence => sentence.Contains("97 mg/L of N", StringComparison.Ordinal));

        (await Desks.Exchange.StoryAsync(Plant, new Rootwater.Ledger.Exchange.Story.StoryOptions(), Cancel))!.ShouldNotContain("potassium nitrate");
        (await Desks.Exchange.StoryAsync(Plant, new Rootwater.Ledger.Exchange.Story.StoryOptions { Tried = true }, Cancel))!.ShouldContain("potassium nitrate");
    }

    [Fact]
    public async Task South_of_the_equator_usual_rests_lie_half_a_year_apart_and_a_latitude_is_checked()
    {
        await StartAsync();
        var nobile = Guid.CreateVersion7();
        await WriteAsync(Told(nobile, new PlantArrived(nobile, 9, "Dendrobium nobile", "soft-caned Dendrobium", Habit.Sympodial), "2025-01"));
        Usual(await Desks.Seasons.GetAsync(Cancel)).ShouldBe("cool rest, October to February");
        (await Desks.Settings.SaveLatitudeAsync(-33.9, cancel: Cancel)).SouthOfEquator.ShouldBeTrue();
        Usual(await Desks.Seasons.GetAsync(Cancel)).ShouldBe("cool rest, April to August");
        (await Should.ThrowAsync<EntryException>(() => Desks.Settings.SaveLatitudeAsync(133, cancel: Cancel))).Problems[0].Field.ShouldBe("latitude");
        (await Should.ThrowAsync<EntryException>(() => Desks.Settings.SaveLatitudeAsync(double.NaN, cancel: Cancel))).Problems[0].Field.ShouldBe("latitude");

        static string Usual(SeasonSheet sheet) => sheet.Rests.Single(rest => rest.Kind == "soft-caned Dendrobium").Usual;
    }

    [Fact]
    public async Task Three_seasons_make_a_forecast_a_spike_that_shows_a_nearer_one_and_the_calendar_takes_both()
    {
        await StartAsync();
        var plant = Guid.CreateVersion7();
        await WriteAsync(Told(plant, new PlantArrived(plant, 9, "Plant no. 9", "strap-leaved", Habit.Monopodial), "2021-05"), Growth(plant, out var growth, when: "2021-06-10", thereOnArrival: true));
        (await Desks.Seasons.GetAsync(Cancel)).Forecasts.ShouldBeEmpty();
        foreach (var (spike, bloom) in new[] { ("2023-01-20", "2023-04-02"), ("2024-01-24", "2024-04-05"), ("2025-01-22", "2025-04-03") })
        {
            await FloweredAsync(spike, bloom);
        }

        var sheet = await Desks.Seasons.GetAsync(Cancel);
        var expected = sheet.Forecasts.Single(one => one.Mark == SeasonMark.Bloom);
        expected.By.ShouldBe(ForecastBy.OwnSeasons);
        expected.Middle.ShouldBeInRange(new DateOnly(2026, 3, 30), new DateOnly(2026, 4, 8));
        sheet.Plants.Single(line => line.Plant!.Id == plant && line.Mark == SeasonMark.Bloom).MeanDayOfYear!.Value.ShouldBeInRange(90, 98);

        await WriteAsync(Spike(plant, growth, out _, when: "2026-03-01"));
        var near = (await Desks.Seasons.GetAsync(Cancel)).Forecasts.Single(one => one.Mark == SeasonMark.Bloom);
        near.By.ShouldBe(ForecastBy.OpenSpike);
        near.Middle.ShouldBe(new DateOnly(2026, 5, 12), "72 days after it was seen, as before");
        (await Desks.Exchange.CalendarAsync(cancel: Cancel)).ShouldContain($"bloom-{plant:N}");

        async Task FloweredAsync(string spike, string bloom)
        {
            await WriteAsync(Spike(plant, growth, out var id, when: spike), Told(plant, new BloomOpened(plant, id), bloom), Told(plant, new BloomOver(plant, id), bloom), Told(plant, new SpikeEnded(plant, id, SpikeEnd.Flowered, null), bloom));
        }
    }

    private static double Share(CauseSheetView sheet, string cause) => sheet.Result.Causes.Single(each => each.Id == cause).Share;

    private static Dictionary<string, string> Seen(string text) => text.Split(' ').Select(part => part.Split('=')).ToDictionary(part => part[0], part => part[1]);

    /// <summary>Five leaves a third of a year apart; the first fell at 1.6 years. Those at the positions given carry the mark.</summary>
    private async Task<Guid> WithLeavesAsync(LeafSign sign, LeafPart part, params int[] marked)
    {
        await StartAsync();
        return await LeavesAsync(Plant, sign, part, marked);
    }

    private async Task<Guid> LeavesAsync(Guid plant, LeafSign sign, LeafPart part, params int[] marked)
    {
        List<NewFact> facts = [Growth(plant, out var growth, when: "2024-05-10", thereOnArrival: true)];
        Guid? first = null;
        foreach (var (position, day) in new[] { (1, "2024-05-12"), (2, "2024-06-01"), (3, "2024-10-01"), (4, "2025-03-01"), (5, "2025-08-01") })
        {
            facts.Add(Leaf(plant, growth, out var leaf, position, day));
            if (position == 1)
            {
                facts.Add(Told(plant, new LeafLost(plant, leaf, LeafLoss.Age, null), "2025-12-20"));
            }

            if (marked.Contains(position))
            {
                facts.Add(Told(plant, new LeafMarked(plant, leaf, sign, part, null), "2026-03-12"));
                first ??= leaf;
            }
        }

        await WriteAsync([.. facts]);
        return first!.Value;
    }

    private async Task FeedAsync()
    {
        var can = await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel);
        await WriteAsync(Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can.Id, null, 250), "2026-03-05"));
    }

    private async Task StartAsync()
    {
        foreach (var fact in Small.Facts())
        {
            await Log.AppendAsync(fact, Cancel);
        }
    }

    private Task<WriteReceipt> WriteAsync(params NewFact[] facts) => Desks.Facts.WriteAsync(facts, cancel: Cancel);
}

public sealed class CauseDeskOnSqlite : CauseDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class CauseDeskOnPostgres(PostgresServer server) : CauseDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
