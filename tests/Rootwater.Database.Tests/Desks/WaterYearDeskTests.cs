using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Desks;

/// <summary>Water through the year and the rain budget, on both databases.</summary>
public abstract class WaterYearDeskTests : OnADatabase
{
    private static readonly DateOnly s_today = new(2026, 3, 14);

    /// <summary>A can of 5 L rain each week, half a litre of it to plants, for ten weeks.</summary>
    private async Task FeedWeeklyAsync()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        for (var week = 9; week >= 0; week--)
        {
            var day = FactWhen.OnDay(s_today.AddDays(-7 * week), "UTC");
            var card = Small.Card();
            await Log.AppendAsync(
                [
                    new NewFact { Id = card.Id, SubjectId = card.Id, When = day, Payload = new CanSaved(card, [new StepUse(3, Small.SaltLot, 3.5)]) },
                    .. card.Steps.Select(step => SmallBench.Fact(card.Id, new CanStepDone(card.Id, step.Number), day)),
                    SmallBench.Fact(Small.FirstPlant, new PlantGiven(Small.FirstPlant, null, Pouring.Feed, card.Id, null, 500), day),
                    SmallBench.Fact(Small.SecondPlant, new PlantGiven(Small.SecondPlant, null, Pouring.Feed, card.Id, null, 500), day),
                ], Cancel);
        }
    }

    private static string Record(double millimetres) => "day;mm\n" + string.Join('\n', Enumerable.Range(1, 800).Select(i => FormattableString.Invariant($"{s_today.AddDays(-i):yyyy-MM-dd};{millimetres.ToString(System.Globalization.CultureInfo.InvariantCulture).Replace('.', ',')}")));

    [Fact]
    public async Task What_is_missing_to_say_how_far_the_rain_goes_is_said()
    {
        await FeedWeeklyAsync();

        var sheet = await Desks.WaterYear.RainAsync(cancel: Cancel);

        sheet.WaterId.ShouldBe(Small.WaterId, "the water whose report says rain");
        sheet.Missing.Count.ShouldBe(2, "the roof and the record; how much there is its water says");
        sheet.Levels.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_dry_record_runs_dry_when_one_counts_by_hand()
    {
        await FeedWeeklyAsync();
        await Desks.WaterYear.SetRoofAsync(new RoofEntry(Small.WaterId, 10, 100), cancel: Cancel);
        await Desks.WaterYear.SetLevelAsync(Small.WaterId, 40, cancel: Cancel);
        (await Desks.WaterYear.ImportRainAsync(Record(0), "gauge", write: true, Cancel)).Days.ShouldBe(800);

        var sheet = await Desks.WaterYear.RainAsync(60, Cancel);

        // Two plants of 250 mL (their pots' feed) a week from a can of which 4 L of 5 were left over in the past: 4.5 L a walk, the first in a week.
        // 40 L are eight walks whole; on the ninth, day 63, it would be dry: not within 60 days.
        sheet.WantedLitresPerWeek.ShouldBe(8 * 4.5 / 60 * 7, 0.01);
        sheet.ChanceOfEmpty.ShouldBe(0);
        var longer = await Desks.WaterYear.RainAsync(70, Cancel);
        longer.EmptyFrom.ShouldBe(s_today.AddDays(63));
        longer.ShortLitres.ShouldNotBeNull().Value.ShouldBe(0.5, 0.01);
    }

    [Fact]
    public async Task Enough_rain_lasts_in_each_year_on_record()
    {
        await FeedWeeklyAsync();
        await Desks.WaterYear.SetRoofAsync(new RoofEntry(Small.WaterId, 10, 100), cancel: Cancel);
        await Desks.WaterYear.ImportRainAsync(Record(2.5), write: true, cancel: Cancel);

        var sheet = await Desks.WaterYear.RainAsync(70, Cancel);

        sheet.ChanceOfEmpty.ShouldBe(0);
        sheet.GivenLitresPerWeek.ShouldNotBeNull().ShouldBe(2.5 * 7 * 10 * 0.8, 0.01);
        sheet.Words[0].ShouldContain("the rain would last");
    }

    [Fact]
    public async Task A_line_that_is_no_rain_is_named_and_what_was_meant_is_offered()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var import = await Desks.WaterYear.ImportRainAsync("2026-03-01,4.2\n2026-03-02,wet\n2026-03-03,1200\n14.3.2026,0.4", cancel: Cancel);

        import.Days.ShouldBe(2);
        import.Problems[0].ShouldStartWith("line 2");
        import.Problems[1].ShouldContain("120 mm was meant if the record is in tenths");
        (await Desks.WaterYear.RainAsync(cancel: Cancel)).RecordDays.ShouldBe(0, "looking keeps nothing");
        (await Should.ThrowAsync<EntryException>(() => Desks.WaterYear.ImportRainAsync("nothing here", cancel: Cancel))).Problems.Single().Field.ShouldBe("file");
    }

    [Theory]
    [InlineData(0, 100, "roof area")]
    [InlineData(10, 0, "barrel")]
    public async Task A_roof_that_cannot_be_is_refused_by_field(double area, double barrel, string field)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        (await Should.ThrowAsync<EntryException>(() => Desks.WaterYear.SetRoofAsync(new RoofEntry(Small.WaterId, area, barrel), cancel: Cancel))).Problems.Single().Field.ShouldBe(field);
    }

    [Fact]
    public async Task Months_say_the_blend_its_acid_and_what_went_in()
    {
        await FeedWeeklyAsync();

        var sheet = await Desks.WaterYear.GetAsync(Cancel);

        sheet.Months.Select(month => month.Month.Month).ShouldBe([1, 2, 3]);
        sheet.Months.ShouldAllBe(month => month.Shares.Single().Share == 1);
        // 2.4 mL of pH-down a can, 1.25 kg/L: 3 g of it, which bring 2.45 meq of acid a gram (7.35 less 2 × 2.45), in 5 L.
        sheet.Months[0].AcidUsedMeqPerLitre.ShouldBe(3 * 2.45 / 5, 1e-6);
        sheet.Waters.Single().Reports.Single().EcMicrosiemensPerCm.ShouldBe(20);
    }
}

public sealed class WaterYearDeskOnSqlite : WaterYearDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class WaterYearDeskOnPostgres(PostgresServer server) : WaterYearDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
