using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Settings as they stand on the bench.</summary>
internal sealed class SettingsDesk(BenchDatabase database, FactLog log, TimeProvider clock) : ISettingsDesk
{
    // Asked for by every page; what another program set meanwhile is seen after a few seconds.
    private static readonly TimeSpan s_fresh = TimeSpan.FromSeconds(5);
    private volatile Known? _known;

    public async Task<BenchSettings> GetAsync(CancellationToken cancel = default)
    {
        var now = clock.GetUtcNow();
        if (_known is not { } known || now - known.At > s_fresh)
            _known = known = await database.ReadAsync(db => ReadAsync(db, now, cancel), cancel);
        return new BenchSettings(known.Name, known.Zone, BenchClock.MinuteAt(now, known.Zone).Earliest, known.Set.Units, known.Set.BaseAddress, known.Latitude);
    }

    public async Task<BenchSettings> SaveAsync(ReadersUnits units, string? baseAddress, Guid? id = null, CancellationToken cancel = default)
    {
        var address = string.IsNullOrWhiteSpace(baseAddress) ? null : baseAddress.Trim().TrimEnd('/');
        if (address is not null && (!Uri.TryCreate(address, UriKind.Absolute, out var uri) || uri.Scheme is not ("http" or "https") || uri.PathAndQuery.Length > 1 || uri.UserInfo.Length > 0))
            throw new EntryException("base address", baseAddress, "an address a phone can open, such as https://lean-to.local:5443, without a path; or nothing");
        await log.AppendAsync(new NewFact { Id = id ?? Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = Guid.Empty, Payload = new SettingsSet(units, address) }, cancel);
        _known = null;
        return await GetAsync(cancel);
    }

    public async Task<BenchSettings> SaveLatitudeAsync(double? degrees, Guid? id = null, CancellationToken cancel = default)
    {
        var problems = new FactProblems();
        problems.Range("latitude", degrees, -90, 90, "degrees, south below 0");
        problems.Refuse();
        await log.AppendAsync(new NewFact { Id = id ?? Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = Guid.Empty, Payload = new LatitudeSet(degrees) }, cancel);
        _known = null;
        return await GetAsync(cancel);
    }

    private static async Task<Known> ReadAsync(LedgerContext db, DateTimeOffset now, CancellationToken cancel)
    {
        var bench = await db.Benches.FirstOrDefaultAsync(cancel);
        return new Known(now, bench?.Name, bench?.Zone ?? "UTC", new SettingsSet(bench?.Units ?? new ReadersUnits(), bench?.BaseAddress), await BenchLatitude.OfAsync(db, cancel));
    }

    private sealed record Known(DateTimeOffset At, string? Name, string Zone, SettingsSet Set, double? Latitude);
}
