using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;

namespace Rootwater.Ledger.Exchange.Calendar;

/// <summary>A day or a span of days with words.</summary>
/// <param name="Key">Stays the same from one reading of the feed to the next, so that a calendar changes the entry and adds none.</param>
/// <param name="From">First day.</param>
/// <param name="To">Last day.</param>
/// <param name="Title">In a line.</param>
/// <param name="Words">More.</param>
/// <param name="Address">Page that shows it; null without a base address.</param>
public sealed record CalendarEntry(string Key, DateOnly From, DateOnly To, string Title, string Words, Uri? Address);

/// <summary>An iCalendar feed (RFC 5545) of whole days. Entries are events, since few calendars show the to-dos of a feed they subscribe to.</summary>
public static class CalendarFeed
{
    public static string Write(string name, IEnumerable<CalendarEntry> entries, DateTimeOffset now)
    {
        var calendar = new Ical.Net.Calendar { ProductId = "-//Rootwater//Rootwater//EN", Method = "PUBLISH" };
        calendar.AddProperty("X-WR-CALNAME", name);
        // RFC 7986, section 5.7: how often a subscriber should look again.
        calendar.AddProperty(new CalendarProperty("REFRESH-INTERVAL", "PT6H") { Parameters = { new CalendarParameter("VALUE", "DURATION") } });
        foreach (var entry in entries)
        {
            calendar.Events.Add(new CalendarEvent
            {
                Uid = $"{entry.Key}@rootwater.invalid",
                DtStamp = new CalDateTime(now.UtcDateTime, "UTC"),
                Start = new CalDateTime(entry.From),
                // RFC 5545, section 3.6.1: the end of an event of whole days is the day after its last.
                End = new CalDateTime(entry.To.AddDays(1)),
                Summary = Plain(entry.Title),
                Description = Plain(entry.Words),
                Url = entry.Address,
                Transparency = TransparencyType.Transparent,
            });
        }

        return new CalendarSerializer().SerializeToString(calendar) ?? "";
    }

    // Control characters have no place in a content line (RFC 5545, section 3.1); line ends are escaped by the writer.
    private static string Plain(string text) => string.Concat(text.Where(c => c is '\n' || !char.IsControl(c)));
}
