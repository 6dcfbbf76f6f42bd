using System.Globalization;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>When something happened, as ISO 8601 writes it, as exactly as it is known: "2026", "2026-03", "2026-03-14", "2026-03-14T08:05".</summary>
public static class CsvWhen
{
    public static string Write(FactWhen when) => when.ToText();

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

        // A spreadsheet puts a space where the standard has a T, and adds seconds.
        var minute = text.Length is 16 or 19 && text[10] is ' ' or 'T' ? $"{text[..10]}T{text[11..16]}" : text;
        return FactWhen.TryParse(minute, zone, out var when) ? when : throw new FormatException("a date as 2026, 2026-03, 2026-03-14 or 2026-03-14T08:05; any other way needs its format named");
    }
}
