using Rootwater.Ledger.Desks;
using Rootwater.Web.Components.Plots;

namespace Rootwater.Web.Tests.Plant;

/// <summary>Years folded on one another.</summary>
public sealed class SeasonTests
{
    private static readonly DateOnly s_today = new(2026, 3, 14);

    [Fact]
    public void A_rest_over_the_turn_of_the_year_lies_at_both_ends()
    {
        var folded = Season.Of([new YearSpan(YearMark.Rest, new DateOnly(2024, 11, 10), new DateOnly(2025, 2, 20), null)], s_today, null);
        folded.Select(span => (span.Year, Season.MonthOf(span.From), Season.MonthOf(span.To))).ShouldBe([(2024, 11, 12), (2025, 1, 2)]);
    }

    [Fact]
    public void The_same_date_falls_on_the_same_spot_in_leap_years_and_others() =>
        Season.Of([new YearSpan(YearMark.Bloom, new DateOnly(2023, 3, 1), new DateOnly(2023, 3, 1), null), new YearSpan(YearMark.Bloom, new DateOnly(2024, 3, 1), new DateOnly(2024, 3, 1), null)], s_today, null)
            .Select(span => span.From).Distinct().Count().ShouldBe(1);

    [Fact]
    public void What_lasts_runs_until_today() =>
        Season.Of([new YearSpan(YearMark.Spike, new DateOnly(2026, 1, 12), null, null)], s_today, 2026).Single().To.ShouldBe(new DateOnly(2024, 3, 14).DayOfYear);

    [Fact]
    public void A_plant_counts_once_a_month_and_year()
    {
        var spans = Season.Of([new YearSpan(YearMark.Bloom, new DateOnly(2024, 5, 1), new DateOnly(2024, 5, 9), null), new YearSpan(YearMark.Bloom, new DateOnly(2024, 5, 20), new DateOnly(2024, 6, 2), null), new YearSpan(YearMark.Bloom, new DateOnly(2025, 5, 20), new DateOnly(2025, 5, 21), null)], s_today, null);
        var months = Season.Months(spans.Select(span => (17, span)));
        months[YearMark.Bloom][4].ShouldBe(2);
        months[YearMark.Bloom][5].ShouldBe(1);
        months[YearMark.Spike].ShouldAllBe(count => count == 0);
    }
}
