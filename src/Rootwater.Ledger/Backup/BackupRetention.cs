using System.Globalization;

namespace Rootwater.Ledger.Backup;

/// <summary>How many backups are kept: the newest of each of the last days, weeks and months that have one, and always the newest of all.</summary>
/// <remarks>14 days to notice a slip, 8 weeks for what shows late, 24 months because a bench is a matter of years.</remarks>
public sealed record BackupRetention
{
    /// <summary>0 to 3,650.</summary>
    public int Days { get; init; } = 14;

    /// <summary>ISO weeks; 0 to 520.</summary>
    public int Weeks { get; init; } = 8;

    /// <summary>0 to 600.</summary>
    public int Months { get; init; } = 24;

    /// <exception cref="EntryException">A number out of range.</exception>
    public BackupRetention Checked()
    {
        List<EntryProblem> problems = [.. Check("days", Days, 3650), .. Check("weeks", Weeks, 520), .. Check("months", Months, 600)];
        return problems.Count == 0 ? this : throw new EntryException(problems);
    }

    /// <summary>Which of these are kept.</summary>
    public IReadOnlySet<DateTimeOffset> Keep(IEnumerable<DateTimeOffset> made)
    {
        var newestFirst = made.OrderDescending().ToList();
        return newestFirst.Take(1)
            .Concat(NewestOfEach(newestFirst, time => time.UtcDateTime.Date).Take(Days))
            .Concat(NewestOfEach(newestFirst, time => (ISOWeek.GetYear(time.UtcDateTime), ISOWeek.GetWeekOfYear(time.UtcDateTime))).Take(Weeks))
            .Concat(NewestOfEach(newestFirst, time => (time.UtcDateTime.Year, time.UtcDateTime.Month)).Take(Months))
            .ToHashSet();
    }

    private static IEnumerable<DateTimeOffset> NewestOfEach<TKey>(IEnumerable<DateTimeOffset> newestFirst, Func<DateTimeOffset, TKey> span) => newestFirst.DistinctBy(span);

    private static IEnumerable<EntryProblem> Check(string name, int value, int most) =>
        value < 0 || value > most ? [new EntryProblem($"backup {name}", value.ToString(CultureInfo.InvariantCulture), $"0 to {most}")] : [];
}
