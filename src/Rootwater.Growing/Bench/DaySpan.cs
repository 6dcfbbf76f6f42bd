namespace Rootwater.Growing.Bench;

/// <summary>
/// The days on which something can have happened: one day where it was seen happening, a month or a year where only that is remembered,
/// any other span where it lies between two looks. Both ends are inclusive.
/// </summary>
/// <remarks>Survival statistics take the span as it is; a plot draws its middle and hatches its width.</remarks>
public readonly record struct DaySpan
{
    /// <exception cref="ArgumentException"><paramref name="latest"/> lies before <paramref name="earliest"/>.</exception>
    public DaySpan(DateOnly earliest, DateOnly latest)
    {
        if (latest < earliest)
        {
            throw new ArgumentException($"A span cannot end ({latest:yyyy-MM-dd}) before it begins ({earliest:yyyy-MM-dd}).", nameof(latest));
        }

        (Earliest, Latest) = (earliest, latest);
    }

    public DateOnly Earliest { get; }
    public DateOnly Latest { get; }
    public bool IsOneDay => Earliest == Latest;
    public DateOnly Middle => Earliest.AddDays((Latest.DayNumber - Earliest.DayNumber) / 2);

    public static DaySpan On(DateOnly day) => new(day, day);
}
