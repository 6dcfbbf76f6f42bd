using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Exchange.Calendar;

/// <summary>When a plant may flower next, and what that rests on.</summary>
/// <param name="From">First day of the span.</param>
/// <param name="To">Last day.</param>
/// <param name="Why">In words.</param>
public sealed record ExpectedBloom(DateOnly From, DateOnly To, string Why)
{
    /// <summary>Two flowerings on record tell a season; one does not.</summary>
    private const int FewestYears = 2;

    /// <summary>
    /// A spike that shows now: its first flower as long after it as earlier spikes of the plant took (from the shortest to the longest). Else, with two or more
    /// flowerings at a like season: the circular mean of their days of the year, wide as the widest of them lies off, at least a week either way.
    /// </summary>
    /// <remarks>Circular mean: N. I. Fisher, Statistical Analysis of Circular Data (1993), section 2.3.1. A mean vector shorter than 0.5 is no season, and nothing is expected.</remarks>
    public static ExpectedBloom? Of(IReadOnlyList<Spike> spikes, DateOnly today)
    {
        if (spikes.Where(spike => spike is { FirstFlower: null, Ended: null }).MaxBy(spike => spike.FirstSeen.Latest) is { } open)
        {
            var took = spikes.Where(spike => spike.FirstFlower is { IsOneDay: true } && spike.FirstSeen.IsOneDay).Select(spike => spike.FirstFlower!.Value.Earliest.DayNumber - spike.FirstSeen.Earliest.DayNumber)
                .Where(days => days is > 0 and < 400).ToList();
            if (took.Count > 0)
            {
                var (from, to) = (open.FirstSeen.Earliest.AddDays(took.Min()), open.FirstSeen.Latest.AddDays(took.Max()));
                return to < today ? null : new ExpectedBloom(from < today ? today : from, to, FormattableString.Invariant($"its spike was seen on {open.FirstSeen.Earliest:yyyy-MM-dd}; {took.Count} earlier took {took.Min()} to {took.Max()} days"));
            }
        }

        return BySeason([.. spikes.Where(spike => spike.FirstFlower is not null).Select(spike => spike.FirstFlower!.Value.Middle).Order()], today);
    }

    private static ExpectedBloom? BySeason(IReadOnlyList<DateOnly> first, DateOnly today)
    {
        if (first.Select(day => day.Year).Distinct().Count() < FewestYears)
        {
            return null;
        }

        var (sin, cos) = (first.Average(day => Math.Sin(Angle(day))), first.Average(day => Math.Cos(Angle(day))));
        if (Math.Sqrt((sin * sin) + (cos * cos)) < 0.5)
        {
            return null;
        }

        var mean = (int)Math.Round(((Math.Atan2(sin, cos) / (2 * Math.PI)) + 1) % 1 * 365.25);
        var off = Math.Max(7, (int)Math.Ceiling(first.Max(day => Math.Abs(Apart(day.DayOfYear, mean)))));
        var middle = new DateOnly(today.Year, 1, 1).AddDays(mean - 1);
        while (middle.AddDays(off) < today || first[^1].AddDays(60) > middle)
        {
            middle = middle.AddYears(1);
        }

        return new ExpectedBloom(middle.AddDays(-off), middle.AddDays(off), FormattableString.Invariant($"it opened in {string.Join(", ", first.Select(day => day.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)))}"));
    }

    private static double Angle(DateOnly day) => 2 * Math.PI * day.DayOfYear / 365.25;

    private static double Apart(double one, double other)
    {
        var apart = Math.Abs(one - other) % 365.25;
        return Math.Min(apart, 365.25 - apart);
    }
}
