namespace Rootwater.Growing.Pots;

/// <summary>How much of a time a value spends inside a band.</summary>
public static class TimeShare
{
    /// <summary>Share (0 to 1) of the time the value lies inside the band, on straight lines between the points. Two points of one time are a jump.</summary>
    /// <param name="hours">Times, not falling.</param>
    /// <param name="values">Values at those times.</param>
    /// <param name="band">Low and high; the ideal does not count.</param>
    public static double Inside(ReadOnlySpan<double> hours, ReadOnlySpan<double> values, Band band)
    {
        var inside = 0.0;
        for (var i = 1; i < hours.Length; i++)
        {
            var (a, b) = (values[i - 1], values[i]);
            double share;
            if (a == b)
            {
                share = band.Holds(a) ? 1 : 0;
            }
            else
            {
                var (low, high) = (Math.Min(a, b), Math.Max(a, b));
                share = Math.Max(0, Math.Min(high, band.High) - Math.Max(low, band.Low)) / (high - low);
            }

            inside += share * (hours[i] - hours[i - 1]);
        }

        var all = hours[^1] - hours[0];
        return all > 0 ? Math.Clamp(inside / all, 0, 1) : 0;
    }

    /// <summary>The same of a value that is known with a band: of its middle, with the least and the most that a line keeping its place within the band spends inside.</summary>
    /// <param name="hours">Times, not falling.</param>
    /// <param name="values">Values at those times.</param>
    /// <param name="band">Low and high; the ideal does not count.</param>
    public static Expected Inside(ReadOnlySpan<double> hours, IReadOnlyList<Expected> values, Band band)
    {
        const int Steps = 10;
        var middle = Inside(hours, [.. values.Select(value => value.Value)], band);
        var (least, most) = (middle, middle);
        for (var step = -Steps; step <= Steps; step++)
        {
            var place = step / (double)Steps;
            var share = Inside(hours, [.. values.Select(value => value.Value + place * (place < 0 ? value.Value - value.Low : value.High - value.Value))], band);
            (least, most) = (Math.Min(least, share), Math.Max(most, share));
        }

        return new Expected(least, middle, most);
    }
}
