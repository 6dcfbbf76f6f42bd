using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>When in the year something happens to a plant or kind, and when it is to be expected next.</summary>
/// <param name="Years">Dates it stands on.</param>
/// <param name="MeanDayOfYear">1 to 365.25; null where the dates cancel.</param>
/// <param name="BandDays">The next is expected within so many days of the mean (90 % band); null with fewer than three dates or no season.</param>
/// <param name="Next">The next occurrence; null where there is no band.</param>
/// <param name="NextEarly">Lower end of its band.</param>
/// <param name="NextLate">Upper end.</param>
/// <param name="Words">In a sentence, or what cannot be said.</param>
public sealed record SeasonBand(int Years, double? MeanDayOfYear, double? BandDays, DateOnly? Next, DateOnly? NextEarly, DateOnly? NextLate, string Words)
{
    private const double Year = 365.25;

    /// <summary>From the dates of past years: one date per season.</summary>
    /// <param name="dates">When it happened.</param>
    /// <param name="today">From when on the next is looked for.</param>
    /// <param name="level">Certainty of the band for the next one.</param>
    public static SeasonBand Of(IReadOnlyList<DateOnly> dates, DateOnly today, double level = 0.9)
    {
        if (dates.Count == 0)
        {
            return new SeasonBand(0, null, null, null, null, null, "Not seen yet, so nothing can be said of its season.");
        }

        var angles = dates.Select(Angle).ToArray();
        var summary = Circular.Summarise(angles);
        if (summary.MeanRadians is not { } mean)
        {
            return new SeasonBand(dates.Count, null, null, null, null, null, "The dates are spread round the whole year: no season.");
        }

        var day = mean / (2 * Math.PI) * Year;
        if (dates.Count < 3)
        {
            return new SeasonBand(dates.Count, day, null, null, null, null, FormattableString.Invariant($"Seen {dates.Count} time(s), about {Date(day, today.Year):d MMMM}. Three times are the least for a band."));
        }

        // Days from the mean, the short way round; a normal prediction band of the next one as long as it is narrower than the year.
        var offsets = angles.Select(angle => Math.IEEERemainder(angle - mean, 2 * Math.PI) / (2 * Math.PI) * Year).ToArray();
        var centre = offsets.Average();
        // One date a year is read to a day or so: a band is never narrower than that reading.
        var sd = Math.Max(0.5, Math.Sqrt(offsets.Sum(x => (x - centre) * (x - centre)) / (dates.Count - 1)));
        var reach = Tails.StudentFor(level, dates.Count - 1) * sd * Math.Sqrt(1 + 1.0 / dates.Count);
        if (reach > Year / 3 || summary.RayleighZar > 0.2)
        {
            return new SeasonBand(dates.Count, day, null, null, null, null, $"{dates.Count} dates, too scattered round the year to speak of a season.");
        }

        day = (day + centre + Year) % Year;
        // The first whose band is not over yet.
        var year = today.Year - 1;
        var next = Date(day, year);
        while (next.AddDays((int)Math.Ceiling(reach)) < today)
        {
            next = Date(day, ++year);
        }

        var (early, late) = (next.AddDays(-(int)Math.Ceiling(reach)), next.AddDays((int)Math.Ceiling(reach)));
        return new SeasonBand(dates.Count, day, reach, next, early, late, FormattableString.Invariant($"From {dates.Count} years: next about {next:d MMMM yyyy}, between {early:d MMMM} and {late:d MMMM} nine times in ten."));
    }

    private static double Angle(DateOnly date) => 2 * Math.PI * (date.DayOfYear - 0.5) / (DateTime.IsLeapYear(date.Year) ? 366 : 365);

    private static DateOnly Date(double day, int year) => new DateOnly(year, 1, 1).AddDays((int)Math.Floor(day));
}
