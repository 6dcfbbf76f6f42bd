using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The clock on the bench's wall: what day it is there, and in which zone facts are dated.</summary>
public sealed class BenchTime(BenchDatabase database, TimeProvider clock)
{
    /// <summary>IANA name of the bench's zone.</summary>
    /// <exception cref="EntryException">Nothing is kept here yet.</exception>
    public Task<string> ZoneAsync(CancellationToken cancel = default) => database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Zone, cancel);

    public async Task<FactWhen> NowAsync(CancellationToken cancel = default) => BenchClock.MinuteAt(clock.GetUtcNow(), await ZoneAsync(cancel));

    public async Task<DateOnly> TodayAsync(CancellationToken cancel = default) => BenchClock.DayAt(clock.GetUtcNow(), await ZoneAsync(cancel));
}
