using System.Globalization;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>How exactly it is known when something happened, as typed.</summary>
public enum WhenKnown
{
    Now,
    Day,
    Month,
    Year,
}

/// <summary>When something happened as typed: now, a day, a month or a year. Old memories count, the future does not.</summary>
public sealed class WhenEntry
{
    public const string Field = "when";

    public WhenKnown Known { get; set; } = WhenKnown.Now;

    /// <summary>ISO 8601: "2026-03-14", "2026-03", "2026", as <see cref="Known"/> says.</summary>
    public string Text { get; set; } = "";

    public static WhenEntry From(FactWhen when) => when.Precision switch
    {
        WhenPrecision.Year => new WhenEntry { Known = WhenKnown.Year, Text = when.Earliest.ToString("yyyy", CultureInfo.InvariantCulture) },
        WhenPrecision.Month => new WhenEntry { Known = WhenKnown.Month, Text = when.Earliest.ToString("yyyy-MM", CultureInfo.InvariantCulture) },
        _ => new WhenEntry { Known = WhenKnown.Day, Text = when.Earliest.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) },
    };

    /// <param name="zone">Of the bench's clock.</param>
    /// <param name="now">On that clock.</param>
    /// <exception cref="EntryException">Not a date of that kind, or one to come.</exception>
    public FactWhen ToWhen(string zone, DateTime now)
    {
        var text = Text.Trim();
        var when = Known switch
        {
            WhenKnown.Now => FactWhen.AtMinute(now, zone),
            WhenKnown.Day when Parse(text, "yyyy-MM-dd") is { } day => FactWhen.OnDay(DateOnly.FromDateTime(day), zone),
            WhenKnown.Month when Parse(text, "yyyy-MM") is { } month => FactWhen.InMonth(month.Year, month.Month, zone),
            WhenKnown.Year when Parse(text, "yyyy") is { } year => FactWhen.InYear(year.Year, zone),
            WhenKnown.Day => throw new EntryException(Field, Named(text), "a day, such as 2026-03-14."),
            WhenKnown.Month => throw new EntryException(Field, Named(text), "a month, such as 2026-03."),
            _ => throw new EntryException(Field, Named(text), "a year, such as 2023."),
        };
        if (when.Earliest.Year < 1900)
            throw new EntryException(Field, Named(text), "1900 or later.");
        return when.Earliest > now ? throw new EntryException(Field, Named(text), "today or earlier: what is to come is not a fact yet.") : when;
    }

    private static DateTime? Parse(string text, string format) =>
        DateTime.TryParseExact(text, format, CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;

    private static string? Named(string text) => text.Length == 0 ? null : text;
}
