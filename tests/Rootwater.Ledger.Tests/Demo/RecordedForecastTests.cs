using Rootwater.Growing.Bench;
using Rootwater.Ledger.Demo.SixYears;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>The bands of forecasts written with each feed of the demo's last year, corrected by the record as it stood then. A model graded on a simulated bench; figures in docs/science/calibration.md.</summary>
public sealed class RecordedForecastTests(SixYearsTold told) : IClassFixture<SixYearsTold>
{
    // The slow obvious way: for each forecast everything that had been told before it, looked through anew.
    [Fact]
    public void A_forecast_is_corrected_by_what_was_read_before_it_and_by_nothing_later()
    {
        var forecasts = told.Of<RootForecastBelieved>().Where(each => each.Payload.Moments.Count > 1).ToList();
        var place = told.Facts.Select((fact, i) => (fact.Id, i)).ToDictionary(each => each.Id, each => each.i);
        var pots = PotsOf(told);
        var met = Met(told);
        foreach (var (fact, forecast) in forecasts.Where((_, i) => i % 20 == 0))
        {
            var known = met.Where(each => each.ReadAt < place[fact.Id] && !told.Facts.Take(place[fact.Id]).Any(other => other.Corrects == each.Met.ReadingFactId)).Select(each => each.Met);

            forecast.Corrected.ShouldBe(RecordedForecasts.ErrorsOf(known).Of(new PotsAlike(forecast.Model, pots[forecast.PotId].Medium, pots[forecast.PotId].Culture)));
        }

        // It would not be the same with all that came later.
        var all = RecordedForecasts.ErrorsOf(met.Select(each => each.Met));
        forecasts.Count(each => each.Payload.Corrected != all.Of(new PotsAlike(each.Payload.Model, pots[each.Payload.PotId].Medium, pots[each.Payload.PotId].Culture))).ShouldBeGreaterThan(forecasts.Count / 2);
    }

    [Fact]
    public void After_half_a_year_of_readings_nine_tenths_are_inside_of_each_value()
    {
        var met = Standing(told);
        var since = SixYearsTold.Today.AddDays(-365 / 2).ToDateTime(TimeOnly.MinValue);
        foreach (var later in met.Where(one => one.At >= since).GroupBy(one => one.What))
        {
            // As measured on seed 36: 84 % of levels, 98 % of pH, 95 % of EC.
            Inside(later).ShouldBeGreaterThan(0.8, later.Key.ToString());
        }

        // 0.38 before.
        Inside(met).ShouldBeInRange(0.85, 0.96);
    }

    internal static double Inside(IEnumerable<MetForecast> met) => met.Average(one => one.Read >= one.Believed.Low && one.Read <= one.Believed.High ? 1.0 : 0);

    internal static List<MetForecast> Standing(SixYearsTold told)
    {
        var corrected = told.Facts.Select(fact => fact.Corrects).OfType<Guid>().ToHashSet();
        return [.. Met(told).Select(each => each.Met).Where(one => !corrected.Contains(one.ReadingFactId))];
    }

    private static Dictionary<Guid, Pot> PotsOf(SixYearsTold told) => told.Of<PlantPotted>().Select(each => each.Payload.Pot).DistinctBy(pot => pot.Id).ToDictionary(pot => pot.Id);

    /// <summary>Readings that met forecasts, corrected ones too, each with its place in the telling.</summary>
    private static List<(MetForecast Met, int ReadAt)> Met(SixYearsTold told)
    {
        var place = told.Facts.Select((fact, i) => (fact.Id, i)).ToDictionary(each => each.Id, each => each.i);
        DateTime At(NewFact fact) => BenchClock.MinuteAt(told.Recorded[place[fact.Id]], SixYearScenario.Zone).Latest;
        var pots = PotsOf(told);
        var given = told.Of<PlantGiven>().ToLookup(each => each.Payload.PlantId, each => DateOnly.FromDateTime(At(each.Fact)));
        var readings = told.Of<ReadingTaken>().Where(each => each.Payload.PotId is not null).ToLookup(each => each.Payload.PotId!.Value);
        var met = new List<(MetForecast, int)>();
        foreach (var (fact, forecast) in told.Of<RootForecastBelieved>())
        {
            var fed = At(fact);
            var next = given[forecast.PlantId].Where(day => day > DateOnly.FromDateTime(fed)).Select(day => (DateOnly?)day).Min();
            foreach (var (read, reading) in readings[forecast.PotId].Where(each => next is null || DateOnly.FromDateTime(At(each.Fact)) <= next))
            {
                var meeting = new ReadingMeeting(read.Id, reading.Of, At(read), reading.EcMicrosiemensPerCm, reading.PH, reading.LevelShare);
                met.AddRange(MetForecast.Of(forecast, pots[forecast.PotId].Medium, pots[forecast.PotId].Culture, fed, meeting).Select(one => (one, place[read.Id])));
            }
        }

        return met;
    }
}

/// <summary>The same six years kept on a bench, and a feed given there.</summary>
public sealed class RecordedForecastsKeptTests(SixYearsBench bench, SixYearsTold told) : IClassFixture<SixYearsBench>, IClassFixture<SixYearsTold>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_pots_page_scores_what_was_believed_and_the_next_feed_is_forecast_by_it()
    {
        var standing = RecordedForecastTests.Standing(told);
        var sheet = await bench.Desks.Learning.ListAsync(Cancel);
        sheet.Score.Recorded.All.ShouldBe(standing.Count);
        sheet.Score.Recorded.Inside.ShouldBe(standing.Count(one => one.Read >= one.Believed.Low && one.Read <= one.Believed.High));
        sheet.Score.Corrected.ShouldContain(words => words.StartsWith("expanded clay, wicking: pH: ", StringComparison.Ordinal) && words.Contains("times as wide"));

        var can = told.Of<CanSaved>().Last().Payload.Card;
        var pot = sheet.Pots.First(line => line.Medium == "expanded clay");
        var given = new NewFact { Id = Guid.CreateVersion7(), SubjectId = pot.PlantId, Payload = new PlantGiven(pot.PlantId, null, Pouring.Feed, can.Id, null, 200) };
        await bench.Desks.Facts.WriteAsync([given], cancel: Cancel);

        var believed = (await bench.Desks.Pots.BelievedAsync(pot.PlantId, Cancel)).Single(each => each.Forecast.FeedFactId == given.Id).Forecast;
        var errors = RecordedForecasts.ErrorsOf(standing).Of(new PotsAlike(BelievedForecasts.Model, "expanded clay", Growing.Culture.Wicking));
        believed.Corrected.ShouldBe(errors);
        errors.PH.Met.ShouldBeGreaterThan(50);
    }
}

/// <summary>The table of docs/science/calibration.md.</summary>
[Trait("Length", "sweep")]
public sealed class RecordedForecastSweep
{
    [Theory]
    [InlineData(36)]
    [InlineData(71)]
    [InlineData(72)]
    public void How_many_readings_are_inside(int seed)
    {
        var met = RecordedForecastTests.Standing(new SixYearsTold(seed));
        var half = SixYearsTold.Today.AddDays(-365 / 2).ToDateTime(TimeOnly.MinValue);
        var output = TestContext.Current.TestOutputHelper!;
        foreach (var group in met.GroupBy(one => one.What.ToString()).OrderBy(group => group.Key).Append(met.GroupBy(_ => "all").Single()))
        {
            int In(IEnumerable<MetForecast> some) => some.Count(one => one.Read >= one.Believed.Low && one.Read <= one.Believed.High);
            int Before(IEnumerable<MetForecast> some) => In(some.Select(one => one with { Forecast = one.Forecast with { Corrected = null } }));
            double HalfBand(MetForecast one) => one.Forecast.Scale.Halves(one.What, one.Believed) is var (_, down, up) ? (down + up) / 2 : 0;
            var later = group.Where(one => one.At >= half).ToList();
            output.WriteLine(FormattableString.Invariant($"| {seed} {group.Key} | as the model said {Before(group)} of {group.Count()} | corrected {In(group)} | later half {In(later)} of {later.Count} | mean half band {group.Average(HalfBand):0.00} |"));
        }

        RecordedForecastTests.Inside(met).ShouldBeGreaterThan(0.8);
    }
}
