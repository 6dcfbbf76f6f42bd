using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Components.Plots;

/// <summary>A span of the year folded onto one: from day to day of a year of 366 days.</summary>
/// <param name="Mark">What it is.</param>
/// <param name="Year">Of which it was.</param>
/// <param name="From">Day of the year, 1 to 366.</param>
/// <param name="To">Day of the year, 1 to 366.</param>
/// <param name="Words">More.</param>
public sealed record SeasonSpan(YearMark Mark, int Year, int From, int To, string? Words);

/// <summary>Folds what happened over the years onto the seasons.</summary>
public static class Season
{
    private const int LeapYear = 2024;

    /// <summary>Spans of a plant, cut at the turn of the year; all years, or one.</summary>
    public static IReadOnlyList<SeasonSpan> Of(IEnumerable<YearSpan> spans, DateOnly today, int? only)
    {
        var folded = new List<SeasonSpan>();
        foreach (var span in spans)
        {
            var to = span.To ?? today;
            for (var year = span.From.Year; year <= to.Year; year++)
            {
                if (only is not null && only != year)
                    continue;
                folded.Add(new SeasonSpan(span.Mark, year, year == span.From.Year ? DayOfYear(span.From) : 1, year == to.Year ? DayOfYear(to) : 366, span.Words));
            }
        }

        return folded;
    }

    /// <summary>How many plants did each thing in each month, over all years looked at: one plant counts once a month and year.</summary>
    public static IReadOnlyDictionary<YearMark, int[]> Months(IEnumerable<(int Plant, SeasonSpan Span)> spans)
    {
        var seen = new HashSet<(YearMark, int Plant, int Year, int Month)>();
        foreach (var (plant, span) in spans)
        {
            for (var month = MonthOf(span.From); month <= MonthOf(span.To); month++)
                seen.Add((span.Mark, plant, span.Year, month));
        }

        return Enum.GetValues<YearMark>().ToDictionary(mark => mark, mark => Enumerable.Range(1, 12).Select(month => seen.Count(each => each.Item1 == mark && each.Month == month)).ToArray());
    }

    /// <summary>Month, 1 to 12, of a day of the folded year.</summary>
    public static int MonthOf(int day) => new DateOnly(LeapYear, 1, 1).AddDays(day - 1).Month;

    // 29 February has its place in every year, so that one date falls on one spot.
    private static int DayOfYear(DateOnly day) => new DateOnly(LeapYear, day.Month, day.Day).DayOfYear;
}
