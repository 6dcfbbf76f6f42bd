using System.Globalization;

namespace Rootwater.Growing.Evidence;

/// <summary>A date as well as it is known: a day, a month or a year.</summary>
/// <param name="Earliest">The first day it can be.</param>
/// <param name="Latest">The last day it can be.</param>
public readonly record struct PartialDate(DateOnly Earliest, DateOnly Latest)
{
    /// <summary>The middle of what it can be, as a day number.</summary>
    public double Middle => (Earliest.DayNumber + Latest.DayNumber) / 2.0;

    /// <summary>How far it can be from <see cref="Middle"/>, in days.</summary>
    public double Slack => (Latest.DayNumber - Earliest.DayNumber) / 2.0;

    public static PartialDate Day(DateOnly day) => new(day, day);

    /// <summary>Reads 2025-03-14, 2025-03 or 2025.</summary>
    /// <exception cref="EvidenceInputException">Anything else.</exception>
    public static PartialDate Parse(string text, string field)
    {
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            return Day(day);
        }

        if (DateOnly.TryParseExact(text, "yyyy-MM", CultureInfo.InvariantCulture, DateTimeStyles.None, out var month))
        {
            return new PartialDate(month, month.AddMonths(1).AddDays(-1));
        }

        return text.Length == 4 && int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var year) && year > 0
            ? new PartialDate(new DateOnly(year, 1, 1), new DateOnly(year, 12, 31))
            : throw new EvidenceInputException(field, text, "a date: 2025-03-14, 2025-03 or 2025");
    }
}
