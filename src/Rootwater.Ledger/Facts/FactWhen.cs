using System.Globalization;
using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Facts;

/// <summary>How exactly it is known when something happened.</summary>
public enum WhenPrecision
{
    Minute,
    Day,
    Month,
    Year,
}

/// <summary>
/// When something happened, on the bench's own clock: the earliest and latest local minute it can have been, and the zone of that clock.
/// When it was written down is another matter and stands in <see cref="Fact.RecordedMicroseconds"/>.
/// </summary>
public sealed record FactWhen
{
    private FactWhen(WhenPrecision precision, DateTime earliest, DateTime latest, string zone)
        => (Precision, Earliest, Latest, Zone) = (precision, earliest, latest, zone);

    public WhenPrecision Precision { get; }
    public DateTime Earliest { get; }
    public DateTime Latest { get; }

    /// <summary>IANA name of the zone whose clock this is.</summary>
    public string Zone { get; }
    public DateOnly EarliestDay => DateOnly.FromDateTime(Earliest);
    public DateOnly LatestDay => DateOnly.FromDateTime(Latest);

    /// <summary>The days it can have been.</summary>
    public DaySpan Span => new(EarliestDay, LatestDay);

    public static FactWhen AtMinute(DateTime local, string zone)
    {
        var minute = new DateTime(local.Year, local.Month, local.Day, local.Hour, local.Minute, 0, DateTimeKind.Unspecified);
        return new FactWhen(WhenPrecision.Minute, minute, minute, zone);
    }

    public static FactWhen OnDay(DateOnly day, string zone) => new(WhenPrecision.Day, day.ToDateTime(TimeOnly.MinValue), LastMinuteOf(day), zone);

    public static FactWhen InMonth(int year, int month, string zone) => new(
        WhenPrecision.Month, new DateTime(year, month, 1), LastMinuteOf(new DateOnly(year, month, DateTime.DaysInMonth(year, month))), zone);

    public static FactWhen InYear(int year, string zone) => new(WhenPrecision.Year, new DateTime(year, 1, 1), LastMinuteOf(new DateOnly(year, 12, 31)), zone);

    /// <summary>ISO 8601 as exactly as it is known: "2026-03-14T08:05", "2026-03-14", "2026-03", "2026".</summary>
    public string ToText() => Earliest.ToString(s_formats[(int)Precision], CultureInfo.InvariantCulture);

    /// <summary>Reads what <see cref="ToText"/> writes.</summary>
    public static bool TryParse(string? text, string zone, [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out FactWhen? when)
    {
        for (var precision = WhenPrecision.Minute; precision <= WhenPrecision.Year; precision++)
        {
            if (DateTime.TryParseExact(text, s_formats[(int)precision], CultureInfo.InvariantCulture, DateTimeStyles.None, out var at))
            {
                when = precision switch
                {
                    WhenPrecision.Minute => AtMinute(at, zone),
                    WhenPrecision.Day => OnDay(DateOnly.FromDateTime(at), zone),
                    WhenPrecision.Month => InMonth(at.Year, at.Month, zone),
                    _ => InYear(at.Year, zone),
                };
                return true;
            }
        }

        when = null;
        return false;
    }

    private static readonly string[] s_formats = [StoredFormat, "yyyy-MM-dd", "yyyy-MM", "yyyy"];

    /// <summary>From what is stored.</summary>
    internal static FactWhen FromStored(WhenPrecision precision, string earliest, string latest, string zone) => new(precision, Parse(earliest), Parse(latest), zone);

    /// <summary>A local minute as text that sorts in time.</summary>
    internal static string ToStored(DateTime local) => local.ToString(StoredFormat, CultureInfo.InvariantCulture);

    private const string StoredFormat = "yyyy-MM-dd'T'HH:mm";

    private static DateTime Parse(string stored) => DateTime.ParseExact(stored, StoredFormat, CultureInfo.InvariantCulture);

    private static DateTime LastMinuteOf(DateOnly day) => day.ToDateTime(new TimeOnly(23, 59));
}
