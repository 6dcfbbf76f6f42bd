namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>Dates of a plant taken season by season.</summary>
public static class SeasonDates
{
    /// <summary>Two of a kind closer together than this belong to one season (judgement).</summary>
    public const int SeasonGapDays = 120;

    /// <summary>What comes later than this after the middle of its band belongs to the next season: this one was skipped.</summary>
    public const int SkippedDays = 182;

    /// <summary>The first date of each season, oldest first: what comes within <see cref="SeasonGapDays"/> of the one before belongs to it.</summary>
    public static IReadOnlyList<DateOnly> FirstOfEach(IEnumerable<DateOnly> dates)
    {
        var firsts = new List<DateOnly>();
        DateOnly? last = null;
        foreach (var date in dates.Order())
        {
            if (last is null || date.DayNumber - last.Value.DayNumber > SeasonGapDays)
            {
                firsts.Add(date);
            }

            last = date;
        }

        return firsts;
    }

    /// <summary>
    /// What the band would have said before each season, from the seasons before it alone: the record of hits of a forecast that was not written down at the time.
    /// Made half a season's gap after the last one.
    /// </summary>
    /// <param name="firsts">First date of each season, oldest first.</param>
    /// <param name="today">What has not come by then is open.</param>
    public static IReadOnlyList<DatedForecast> Hindcast(IReadOnlyList<DateOnly> firsts, DateOnly today)
    {
        var forecasts = new List<DatedForecast>();
        for (var known = 3; known <= firsts.Count; known++)
        {
            var made = firsts[known - 1].AddDays(SeasonGapDays / 2);
            var band = SeasonBand.Of([.. firsts.Take(known)], made);
            if (made <= today && band is { Next: { } middle, NextEarly: { } early, NextLate: { } late })
            {
                forecasts.Add(new DatedForecast(made, early, middle, late, known < firsts.Count && firsts[known] <= middle.AddDays(SkippedDays) ? firsts[known] : null));
            }
        }

        return forecasts;
    }
}
