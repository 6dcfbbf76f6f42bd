using System.Globalization;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>When something happened, as ISO 8601 writes it, as exactly as it is known: "2026", "2026-03", "2026-03-14", "2026-03-14T08:05".</summary>
public static class CsvWhen
{
    private static readonly string[] s_minutes = ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd HH:mm:ss"];

    public static string Write(FactWhen when) => when.Precision switch
    {
        WhenPrecision.Year => when.Earliest.ToString("yyyy", CultureInfo.InvariantCulture),
        WhenPrecision.Month => when.Earliest.ToString("yyyy-MM", CultureInfo.InvariantCulture),
        WhenPrecision.Day => when.Earliest.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        _ => when.Earliest.ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture),
    };

    /// <param name="cell">The text.</param>
    /// <param name="zone">Of the bench's clock.</param>
    /// <param name="dateFormat">A .NET format tried first, as "dd.MM.yyyy".</param>
    /// <exception cref="FormatException">It is none of these.</exception>
    public static FactWhen Read(string cell, string zone, string? dateFormat = null)
    {
        var text = cell.Trim();
        if (dateFormat is not null && DateTime.TryParseExact(text, dateFormat, CultureInfo.InvariantCulture, DateTimeStyles.None, out var own))
        {
            return dateFormat.Contains('H', StringComparison.Ordinal) ? FactWhen.AtMinute(own, zone) : FactWhen.OnDay(DateOnly.FromDateTime(own), zone);
        }

        return Exact("yyyy") is { } year ? FactWhen.InYear(year.Year, zone)
            : Exact("yyyy-MM") is { } month ? FactWhen.InMonth(month.Year, month.Month, zone)
            : Exact("yyyy-MM-dd") is { } day ? FactWhen.OnDay(DateOnly.FromDateTime(day), zone)
            : Exact(s_minutes) is { } minute ? FactWhen.AtMinute(minute, zone)
            : throw new FormatException("a date as 2026, 2026-03, 2026-03-14 or 2026-03-14T08:05; any other way needs its format named");

        DateTime? Exact(params string[] formats) => DateTime.TryParseExact(text, formats, CultureInfo.InvariantCulture, DateTimeStyles.None, out var found) ? found : null;
    }
}
