using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger;

/// <summary>The clock on the bench's wall.</summary>
public static class BenchClock
{
    /// <summary>The local minute of a moment, in a zone.</summary>
    /// <exception cref="LedgerProblem">This machine does not know the zone.</exception>
    public static FactWhen MinuteAt(DateTimeOffset moment, string zone) => FactWhen.AtMinute(TimeZoneInfo.ConvertTime(moment, Zone(zone)).DateTime, zone);

    /// <summary>The local day of a moment, in a zone.</summary>
    public static DateOnly DayAt(DateTimeOffset moment, string zone) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(moment, Zone(zone)).DateTime);

    private static TimeZoneInfo Zone(string zone) => TimeZoneInfo.TryFindSystemTimeZoneById(zone, out var found)
        ? found
        : throw new LedgerProblem(LedgerFault.WrongConnection, $"The bench keeps the clock of \"{zone}\", which this machine does not know. Install the time zone data (Debian: tzdata).");
}
