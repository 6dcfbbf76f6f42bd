using Rootwater.Growing.Climate;
using Rootwater.Growing.Evidence.Seasons;

namespace Rootwater.Growing.Tests.Evidence.Seasons;

/// <summary>What is to be expected from past dates, and how it is judged afterwards.</summary>
public sealed class SeasonAheadTests
{
    [Fact]
    public void A_spike_that_shows_opens_after_as_many_days_as_earlier_ones_took()
    {
        // t(0.95, 2) = 2.920; s = 10; √(1 + 1/3): by hand ± 33.7 days.
        var bloom = BloomForecast.Of([60, 70, 80], new DateOnly(2026, 3, 1)).ShouldNotBeNull();
        (bloom.Early, bloom.Middle, bloom.Late).ShouldBe((new DateOnly(2026, 3, 1).AddDays(36), new DateOnly(2026, 5, 10), new DateOnly(2026, 3, 1).AddDays(104)));
        BloomForecast.Of([], new DateOnly(2026, 3, 1)).ShouldBeNull("nothing earlier says how long it takes");
        BloomForecast.Of([70], new DateOnly(2026, 3, 1))!.Late.ShouldBe(new DateOnly(2026, 3, 1).AddDays(91), "one spike says nothing of how much they differ");
    }

    [Fact]
    public void Several_spikes_of_one_season_count_once() =>
        SeasonDates.FirstOfEach([new(2024, 3, 20), new(2024, 3, 1), new(2024, 6, 1), new(2025, 3, 5)]).ShouldBe([new(2024, 3, 1), new(2025, 3, 5)]);

    [Fact]
    public void A_season_may_span_the_new_year()
    {
        // The mean of 28 December and 4 January is New Year, never July.
        var band = SeasonBand.Of([new(2022, 12, 28), new(2024, 1, 4), new(2024, 12, 31)], new DateOnly(2025, 11, 1));
        band.Next.ShouldNotBeNull().ShouldBeInRange(new DateOnly(2025, 12, 28), new DateOnly(2026, 1, 4));
    }

    [Fact]
    public void The_record_of_hits_knows_at_each_season_only_what_came_before()
    {
        DateOnly[] firsts = [new(2020, 3, 1), new(2021, 3, 4), new(2022, 3, 2), new(2023, 3, 3), new(2024, 6, 1), new(2026, 3, 2)];
        var made = SeasonDates.Hindcast(firsts, new DateOnly(2026, 4, 1));
        made.Count.ShouldBe(3);
        made.ShouldAllBe(one => one.Made < one.Early);
        made[0].Came.ShouldBe(new DateOnly(2023, 3, 3));
        (made[0].Came >= made[0].Early && made[0].Came <= made[0].Late).ShouldBeTrue();
        made[1].Came.ShouldBe(new DateOnly(2024, 6, 1));
        made[2].Came.ShouldBeNull("2025 was skipped; what came in 2026 belongs to another season");
        var record = ForecastRecord.Of(made, new DateOnly(2026, 4, 1));
        (record.Judged, record.Hits).ShouldBe((3, 1));
        record.Words.ShouldContain("1 did not come that season at all");
    }

    [Fact]
    public void Light_held_for_an_hour_in_all_is_what_burns()
    {
        // A quarter of an hour at 900 and the rest of the day at 300: only 300 holds for an hour.
        ShadeLimit.HeldForAnHour([(600, 300), (660, 300), (661, 900), (675, 900), (676, 300), (900, 300)]).ShouldBe(300);
        ShadeLimit.HeldForAnHour([(600, 900), (640, 900)]).ShouldBeNull("40 minutes were read");
        ShadeLimit.For("paphiopedilum").ShouldNotBeNull().Ppfd.ShouldBeLessThan(ShadeLimit.For("Cattleya")!.Ppfd);
        ShadeLimit.For("Nogenus").ShouldBeNull();
    }
}
