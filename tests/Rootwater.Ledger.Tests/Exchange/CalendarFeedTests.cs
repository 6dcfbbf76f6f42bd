using System.Text;
using CsCheck;
using Rootwater.Ledger.Exchange.Calendar;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>The feed against RFC 5545, and read back by the library.</summary>
public sealed class CalendarFeedTests
{
    private static readonly DateTimeOffset s_now = new(2026, 3, 14, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly s_today = new(2026, 3, 14);

    private static readonly CalendarEntry s_long = new(
        "due-20260314", s_today, s_today, "Round; 11 plants, two in spike \\ one resting",
        "no. 1 Cattleya walkeriana × loddigesii «schöne Blüte», shelf 2; südlich\nno. 2 Paphiopedilum (Maudiae × St. Swithin) 'Größe' ".PadRight(300, 'ö'), new Uri("https://lean-to.invalid/round"));

    // RFC 5545, 3.1: lines end with CRLF and SHOULD NOT be longer than 75 octets, the break excluded; a folded line goes on behind one white space.
    [Fact]
    public void Lines_end_with_crlf_and_no_line_is_longer_than_75_octets()
    {
        var text = CalendarFeed.Write("The lean-to", [s_long], s_now);
        text.Replace("\r\n", "", StringComparison.Ordinal).ShouldNotContain("\n");
        foreach (var line in text.Split("\r\n"))
        {
            Encoding.UTF8.GetByteCount(line).ShouldBeLessThanOrEqualTo(75);
        }

        Unfolded(text).ShouldContain(line => line.Length > 200);
    }

    // RFC 5545, 3.3.11: backslash, semicolon, comma and line break are escaped in TEXT.
    [Fact]
    public void What_has_a_meaning_in_a_text_is_escaped()
    {
        var lines = Unfolded(CalendarFeed.Write("The lean-to", [s_long], s_now));
        lines.ShouldContain("SUMMARY:Round\\; 11 plants\\, two in spike \\\\ one resting");
        lines.Single(line => line.StartsWith("DESCRIPTION:", StringComparison.Ordinal)).ShouldContain("südlich\\nno. 2");
    }

    // RFC 5545, 3.6, 3.6.1, 3.7.3, 3.7.4, 3.8.4.7, 3.8.7.2: PRODID and VERSION once; UID and DTSTAMP in every event; whole days as VALUE=DATE, the end not within.
    [Fact]
    public void What_the_standard_requires_is_there()
    {
        var lines = Unfolded(CalendarFeed.Write("The lean-to", [s_long, s_long with { Key = "bloom", To = s_today.AddDays(6) }], s_now));
        lines[0].ShouldBe("BEGIN:VCALENDAR");
        lines.Count(line => line.StartsWith("PRODID:", StringComparison.Ordinal)).ShouldBe(1);
        lines.Count(line => line == "VERSION:2.0").ShouldBe(1);
        lines.Count(line => line.StartsWith("UID:", StringComparison.Ordinal)).ShouldBe(2);
        lines.Count(line => line == "DTSTAMP:20260314T090000Z").ShouldBe(2);
        lines.Count(line => line == "DTSTART;VALUE=DATE:20260314").ShouldBe(2);
        lines.ShouldContain("DTEND;VALUE=DATE:20260315");
        lines.ShouldContain("DTEND;VALUE=DATE:20260321");
    }

    [Fact]
    public void An_entry_keeps_its_id_from_one_reading_to_the_next() =>
        Uids(CalendarFeed.Write("x", [s_long], s_now)).ShouldBe(Uids(CalendarFeed.Write("x", [s_long with { Title = "changed" }], s_now.AddDays(1))));

    [Fact]
    public void Any_words_come_back_as_they_were() => Gen.Select(Gen.String[1, 120], Gen.String["\\;,\n:\"×ö 日本a"]).Sample((one, other) =>
    {
        var entry = s_long with { Title = Clean(one), Words = Clean(other + "x") };
        var back = Ical.Net.Calendar.Load(CalendarFeed.Write("The lean-to", [entry], s_now))!.Events.Single();
        (back.Summary ?? "").ShouldBe(entry.Title);
        (back.Description ?? "").ShouldBe(entry.Words);
        back.Start!.Value.ShouldBe(entry.From.ToDateTime(TimeOnly.MinValue));
        back.Start.HasTime.ShouldBeFalse();
    }, iter: 200);

    private static string Clean(string text) => string.Concat(text.Where(c => c is '\n' || (!char.IsControl(c) && !char.IsSurrogate(c)))).Trim() is { Length: > 0 } left ? left : "x";

    private static List<string> Unfolded(string text) => [.. text.Replace("\r\n ", "", StringComparison.Ordinal).Replace("\r\n\t", "", StringComparison.Ordinal).Split("\r\n")];

    private static List<string> Uids(string text) => [.. Unfolded(text).Where(line => line.StartsWith("UID:", StringComparison.Ordinal))];
}
