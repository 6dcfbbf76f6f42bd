using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Desks;

public sealed class ForecastErrorsTests
{
    private const string Sheet = BelievedForecasts.Model;
    private static readonly DateTime s_fed = new(2026, 3, 1, 9, 0, 0);

    // pH 6.0 ± 0.3 throughout, so that with a pen's error the half band is √(0.3² + 0.16²) = 0.34.
    private static RootForecastBelieved Forecast(string model = Sheet) => new(
        Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), model, null,
        [.. new double[] { 0, 1, 2, 3, 5, 7, 10, 14 }.Select(day => new BelievedMoment(day, new(5.7, 6, 6.3), new(450, 500, 550), new(0.5, 0.5, 0.5), new(Math.Max(0, 0.9 - 0.1 * day), 1 - 0.05 * day, 1)))], null);

    private static IEnumerable<MetForecast> Met(double? ph, double days, string model = Sheet, double? level = null, string medium = "bark mix") => MetForecast.Of(
        Forecast(model), medium, Growing.Culture.OpenMix, s_fed, new ReadingMeeting(Guid.NewGuid(), level is null ? ReadingOf.Runoff : ReadingOf.Reservoir, s_fed.AddDays(days), null, ph, level));

    private static BandCorrections Of(IEnumerable<MetForecast> met, string model = Sheet, string medium = "bark mix") => RecordedForecasts.ErrorsOf(met).Of(new PotsAlike(model, medium, Growing.Culture.OpenMix));

    [Fact]
    public void Before_anything_was_read_a_sheets_bands_are_twice_as_wide_and_a_fits_as_they_are()
    {
        Of([]).ShouldBe(new BandCorrections(new(0, 2, 0), new(0, 2, 0), new(0, 2, 0)));
        Of([], BelievedForecasts.FittedModel).PH.ShouldBe(new BandCorrection(0, 1, 0));
    }

    [Fact]
    public void Errors_to_both_sides_widen_until_nine_tenths_would_have_been_inside_and_move_nothing()
    {
        var met = Enumerable.Range(1, 100).SelectMany(i => Met(6 + (i % 2 == 0 ? 0.02 : -0.02) * i, 7)).ToList();

        var by = Of(met).PH;

        by.Shift.ShouldBe(0);
        (by.Factor * 0.34).ShouldBe(1.8, 0.1);
        by.Met.ShouldBe(100);
        met.Count(one => Math.Abs(one.Read - 6) <= by.Factor * 0.34).ShouldBeInRange(88, 94);
    }

    [Fact]
    public void A_steady_error_moves_the_middle_by_the_day_it_has_grown_to()
    {
        // Half a pH too low after a week, half of that after half a week.
        var by = Of(Enumerable.Range(1, 40).SelectMany(i => Met(6.5 + 0.01 * (i % 5 - 2), 7 + i % 3)).Concat(Enumerable.Range(1, 40).SelectMany(_ => Met(6.25, 3.5))));

        by.PH.Shift.ShouldBe(0.5, 0.03);
        by.PH.Factor.ShouldBe(1, 0.01);
        var next = Forecast() with { Corrected = by };
        next.Believed.Single(moment => moment.Day == 0).PH.Value.ShouldBe(6);
        next.Believed.Single(moment => moment.Day == 14).PH.Value.ShouldBe(6.5, 0.03);
        next.Moments.ShouldAllBe(moment => moment.PH.Value == 6);
    }

    [Fact]
    public void Bands_that_were_wide_enough_are_never_narrowed() => Of(Enumerable.Range(1, 60).SelectMany(_ => Met(6, 5))).PH.Factor.ShouldBe(1);

    [Fact]
    public void Other_pots_another_model_and_another_value_are_not_answerable()
    {
        var met = Enumerable.Range(1, 30).SelectMany(i => Met(7 + 0.1 * (i % 3), 7)).ToList();

        Of(met, medium: "sphagnum").PH.ShouldBe(new BandCorrection(0, 2, 0));
        Of(met, BelievedForecasts.FittedModel).PH.ShouldBe(new BandCorrection(0, 1, 0));
        Of(met).Ec.ShouldBe(new BandCorrection(0, 2, 0));
    }

    [Fact]
    public void A_level_stays_between_empty_and_full_however_wide_its_band()
    {
        var by = Of(Enumerable.Range(1, 30).SelectMany(i => Met(null, 7, level: i % 2)));

        var level = (Forecast() with { Corrected = by }).Believed[^1].ReservoirLitres;

        by.Level.Factor.ShouldBeGreaterThan(1.2);
        level.ShouldSatisfyAllConditions(each => each.Low.ShouldBe(0), each => each.High.ShouldBe(1));
    }

    [Fact]
    public void A_feed_that_lies_back_is_told_only_of_what_had_been_read_by_then()
    {
        var early = Enumerable.Range(1, 20).SelectMany(i => Met(6.3 + 0.01 * (i % 3), 4)).ToList();
        var errors = RecordedForecasts.ErrorsOf([.. early, .. Enumerable.Range(1, 20).SelectMany(_ => Met(9, 6))]);
        var pots = early[0].Pots;

        errors.Of(pots, s_fed.AddDays(5)).ShouldBe(RecordedForecasts.ErrorsOf(early).Of(pots));
        errors.Of(pots, s_fed.AddDays(3)).PH.Met.ShouldBe(0);
        errors.Of(pots, s_fed.AddDays(6)).ShouldBe(errors.Of(pots));
    }

    [Fact]
    public void A_reading_taken_back_is_unsaid()
    {
        var errors = RecordedForecasts.ErrorsOf(Enumerable.Range(1, 20).SelectMany(_ => Met(9, 7)));
        var slip = Met(2, 7).Single();
        var pots = slip.Pots;
        var before = errors.Of(pots);
        errors.Add(slip);
        errors.Of(pots).ShouldNotBe(before);

        errors.Remove(slip.ReadingFactId);

        errors.Of(pots).ShouldBe(before);
    }

    [Fact]
    public void A_forecast_written_by_the_first_version_reads_as_it_was_believed()
    {
        var told = System.Text.RegularExpressions.Regex.Replace(FactKinds.Write(Forecast()).Json, ",\"corrected\":[^}]*}", "");
        told.ShouldNotContain("corrected");

        var read = FactKinds.Read("root.forecast", 1, told).ShouldBeOfType<RootForecastBelieved>();

        read.Corrected.ShouldBeNull();
        read.Believed.ShouldBe(read.Moments);
    }
}
