using Rootwater.Growing.Evidence.Seasons;

namespace Rootwater.Growing.Tests.Evidence.Seasons;

public sealed class YearTests
{
    private static readonly DateOnly s_today = new(2026, 11, 26);

    [Fact]
    public void A_season_across_the_turn_of_the_year_has_its_mean_there()
    {
        var band = SeasonBand.Of([new(2022, 12, 28), new(2024, 1, 4), new(2024, 12, 30), new(2026, 1, 2)], s_today);
        band.Next.ShouldNotBeNull().ShouldBeInRange(new DateOnly(2026, 12, 29), new DateOnly(2027, 1, 2));
        band.BandDays!.Value.ShouldBeInRange(5, 20);
    }

    [Fact]
    public void The_next_is_this_year_while_its_band_is_not_over()
    {
        DateOnly[] dates = [new(2023, 11, 20), new(2024, 11, 24), new(2025, 11, 27)];
        SeasonBand.Of(dates, s_today).Next!.Value.Year.ShouldBe(2026);
        SeasonBand.Of(dates, new(2026, 12, 30)).Next!.Value.Year.ShouldBe(2027);
    }

    [Fact]
    public void Two_dates_give_no_band_and_scattered_ones_no_season()
    {
        SeasonBand.Of([new(2024, 3, 1), new(2025, 3, 8)], s_today).Words.ShouldContain("Three times are the least");
        SeasonBand.Of([new(2022, 1, 5), new(2023, 4, 8), new(2024, 7, 5), new(2025, 10, 6)], s_today).BandDays.ShouldBeNull();
        SeasonBand.Of([], s_today).Words.ShouldContain("Not seen yet");
    }

    [Fact]
    public void Prediction_bands_of_nine_in_ten_hold_nine_times_in_ten()
    {
        var random = new Random(4);
        var held = 0;
        const int runs = 800;
        for (var run = 0; run < runs; run++)
        {
            DateOnly Draw(int year) => new DateOnly(year, 1, 10).AddDays((int)Math.Round(12 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())));
            var band = SeasonBand.Of([.. Enumerable.Range(2019, 6).Select(Draw)], new DateOnly(2025, 6, 1));
            var came = Draw(2026);
            held += came >= band.NextEarly && came <= band.NextLate ? 1 : 0;
        }

        (held / (double)runs).ShouldBeInRange(0.87, 0.95); // whole days widen it a little; binomial error 0.011
    }

    [Fact]
    public void Hours_below_a_threshold_are_cut_where_the_line_between_readings_crosses_it()
    {
        var start = new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
        TemperatureReading[] readings = [new(start, 20), new(start.AddHours(4), 10), new(start.AddHours(8), 10), new(start.AddHours(20), 5)];
        var below = TemperatureHours.Below(readings, 15, start, start.AddHours(24));
        below.Hours.ShouldBe(6, 1e-9); // two of the first four hours, all of the next; the gap of twelve hours is not known
        below.Known.ShouldBe(8, 1e-9);
        TemperatureHours.Above(readings, 15, start, start.AddHours(24)).Hours.ShouldBe(2, 1e-9);
    }

    // Blanchard & Runkle 2006 J. Exp. Bot. 57:4043 (abstract): at least 80 % in spike at constant 14, 17, 20 and 23 °C and at 20/14 and 23/17; none at 29, 29/17 and 29/23.
    [Theory]
    [InlineData(14, 14, true)]
    [InlineData(17, 17, true)]
    [InlineData(20, 20, true)]
    [InlineData(23, 23, true)]
    [InlineData(20, 14, true)]
    [InlineData(23, 17, true)]
    [InlineData(29, 29, false)]
    [InlineData(29, 17, false)]
    [InlineData(29, 23, false)]
    public void Phalaenopsis_spikes_at_the_temperatures_of_the_published_trial(double day, double night, bool spikes)
    {
        var forecast = SpikeForecast.Of("Phalaenopsis", Year(_ => (day, night)), s_today);
        (forecast.DaysSoFar > 0).ShouldBe(spikes);
        (forecast.Middle is not null).ShouldBe(spikes);
    }

    [Fact]
    public void The_spike_is_forecast_from_the_autumn_of_earlier_years()
    {
        // Warm until 1 December, cool after: 35 days on.
        var forecast = SpikeForecast.Of("Phalaenopsis", Year(date => date is { Month: 12 } or { Month: < 4 } ? (20, 15) : (28, 22)), s_today);
        forecast.DaysSoFar.ShouldBe(0);
        forecast.Middle.ShouldBe(new DateOnly(2027, 1, 4));
        forecast.Early.ShouldBe(new DateOnly(2026, 12, 28));
        forecast.Late.ShouldBe(new DateOnly(2027, 1, 11));
    }

    [Fact]
    public void Without_earlier_years_no_date_is_made_up()
    {
        var forecast = SpikeForecast.Of("Phalaenopsis", [.. Year(_ => (20, 15)).Where(day => day.Day > s_today.AddDays(-10) && day.Day <= s_today)], s_today);
        forecast.DaysSoFar.ShouldBe(10);
        forecast.Middle.ShouldBeNull();
        forecast.Words.ShouldContain("no date can be given");
        SpikeForecast.Of("Masdevallia", [], s_today).Words.ShouldContain("No paper at hand");
    }

    [Fact]
    public void The_record_of_hits_counts_what_came_due_and_says_when_bands_are_not_to_be_trusted()
    {
        DatedForecast At(int days) => new(new(2025, 1, 1), new(2025, 3, 1), new(2025, 3, 10), new(2025, 3, 20), new DateOnly(2025, 3, 10).AddDays(days));
        var good = ForecastRecord.Of([At(-2), At(3), At(5), new(new(2026, 11, 1), new(2027, 1, 1), new(2027, 2, 1), new(2027, 3, 1), null)], s_today);
        (good.Judged, good.Hits).ShouldBe((3, 3));
        var bad = ForecastRecord.Of([At(30), At(40), At(35), At(28), new(new(2025, 1, 1), new(2025, 3, 1), new(2025, 3, 10), new(2025, 3, 20), null)], s_today);
        (bad.Judged, bad.Hits).ShouldBe((5, 0));
        bad.Words.ShouldContain("not to be trusted");
        bad.Words.ShouldContain("later");
    }

    private static List<TemperatureDay> Year(Func<DateOnly, (double Day, double Night)> weather) =>
        [.. Enumerable.Range(0, 730).Select(i => s_today.AddDays(-i)).Select(date => (date, weather(date))).Select(each => new TemperatureDay(each.date, (each.Item2.Day + each.Item2.Night) / 2, each.Item2.Night, each.Item2.Day, 24))];
}
