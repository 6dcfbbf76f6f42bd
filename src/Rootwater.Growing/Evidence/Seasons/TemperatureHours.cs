namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>A temperature at a time.</summary>
public readonly record struct TemperatureReading(DateTimeOffset At, double Celsius);

/// <summary>Hours on one side of a threshold.</summary>
/// <param name="Hours">Hours on that side.</param>
/// <param name="Known">Hours that readings cover at all.</param>
public readonly record struct ThresholdHours(double Hours, double Known);

/// <summary>One day by its readings.</summary>
/// <param name="Day">The date, in the readings' own offset.</param>
/// <param name="Mean">Mean, °C, by time.</param>
/// <param name="Lowest">Lowest, °C.</param>
/// <param name="Highest">Highest, °C.</param>
/// <param name="Known">Hours covered, of 24.</param>
public sealed record TemperatureDay(DateOnly Day, double Mean, double Lowest, double Highest, double Known);

/// <summary>Hours and days from readings at any times. Between two readings the temperature runs straight; gaps longer than six hours are not known.</summary>
public static class TemperatureHours
{
    public static readonly TimeSpan LongestGap = TimeSpan.FromHours(6);

    /// <summary>Hours below a temperature between two times.</summary>
    public static ThresholdHours Below(IReadOnlyList<TemperatureReading> readings, double celsius, DateTimeOffset from, DateTimeOffset to)
    {
        double hours = 0, known = 0;
        foreach (var (_, a, b, length) in Pieces(readings, from, to))
        {
            known += length;
            hours += length * (a < celsius && b < celsius ? 1 : a >= celsius && b >= celsius ? 0 : Math.Abs((celsius - Math.Min(a, b)) / (b - a)));
        }

        return new ThresholdHours(hours, known);
    }

    /// <summary>Hours at or above a temperature.</summary>
    public static ThresholdHours Above(IReadOnlyList<TemperatureReading> readings, double celsius, DateTimeOffset from, DateTimeOffset to)
    {
        var below = Below(readings, celsius, from, to);
        return below with { Hours = below.Known - below.Hours };
    }

    /// <summary>Days with at least 12 hours of readings.</summary>
    public static IReadOnlyList<TemperatureDay> Days(IReadOnlyList<TemperatureReading> readings)
    {
        var days = new List<TemperatureDay>();
        foreach (var start in readings.Select(reading => new DateTimeOffset(reading.At.Date, reading.At.Offset)).Distinct().Order())
        {
            var pieces = Pieces(readings, start, start.AddDays(1)).ToList();
            var known = pieces.Sum(piece => piece.Hours);
            if (known >= 12)
            {
                days.Add(new TemperatureDay(
                    DateOnly.FromDateTime(start.Date),
                    pieces.Sum(piece => piece.Hours * (piece.A + piece.B) / 2) / known,
                    pieces.Min(piece => Math.Min(piece.A, piece.B)),
                    pieces.Max(piece => Math.Max(piece.A, piece.B)),
                    known));
            }
        }

        return days;
    }

    private static IEnumerable<(DateTimeOffset Start, double A, double B, double Hours)> Pieces(IReadOnlyList<TemperatureReading> readings, DateTimeOffset from, DateTimeOffset to)
    {
        var sorted = readings.OrderBy(reading => reading.At).ToList();
        for (var i = 1; i < sorted.Count; i++)
        {
            var (before, after) = (sorted[i - 1], sorted[i]);
            var gap = (after.At - before.At).TotalHours;
            var start = before.At > from ? before.At : from;
            var end = after.At < to ? after.At : to;
            if (end <= start || gap <= 0 || after.At - before.At > LongestGap)
            {
                continue;
            }

            double At(DateTimeOffset time) => before.Celsius + (after.Celsius - before.Celsius) * (time - before.At).TotalHours / gap;
            yield return (start, At(start), At(end), (end - start).TotalHours);
        }
    }
}
