using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Settings, read from the last fact that set them.</summary>
internal sealed class SettingsDesk(BenchDatabase database, FactLog log, TimeProvider clock) : ISettingsDesk
{
    private static readonly string s_kind = FactKinds.Write(new SettingsSet(new ReadersUnits(), null)).Kind;

    /// <summary>The settings have no id of their own; found by it in an index, however long the ledger is.</summary>
    internal static readonly Guid Subject = Guid.Empty;

    // Asked for by every page; what another program set meanwhile is seen after a few seconds.
    private static readonly TimeSpan s_fresh = TimeSpan.FromSeconds(5);
    private volatile Known? _known;

    public async Task<BenchSettings> GetAsync(CancellationToken cancel = default)
    {
        var now = clock.GetUtcNow();
        if (_known is not { } known || now - known.At > s_fresh)
            _known = known = await database.ReadAsync(db => ReadAsync(db, now, cancel), cancel);
        return new BenchSettings(known.Name, known.Zone, BenchClock.MinuteAt(now, known.Zone).Earliest, known.Set.Units, known.Set.BaseAddress);
    }

    public async Task<BenchSettings> SaveAsync(ReadersUnits units, string? baseAddress, Guid? id = null, CancellationToken cancel = default)
    {
        var address = string.IsNullOrWhiteSpace(baseAddress) ? null : baseAddress.Trim().TrimEnd('/');
        if (address is not null && (!Uri.TryCreate(address, UriKind.Absolute, out var uri) || uri.Scheme is not ("http" or "https") || uri.PathAndQuery.Length > 1 || uri.UserInfo.Length > 0))
            throw new EntryException("base address", baseAddress, "an address a phone can open, such as https://lean-to.local:5443, without a path; or nothing");
        await log.AppendAsync(new NewFact { Id = id ?? Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = Subject, Payload = new SettingsSet(units, address) }, cancel);
        _known = null;
        return await GetAsync(cancel);
    }

    private static async Task<Known> ReadAsync(LedgerContext db, DateTimeOffset now, CancellationToken cancel)
    {
        var bench = await db.Benches.FirstOrDefaultAsync(cancel);
        var last = await db.Facts.Where(fact => fact.SubjectId == Subject && fact.Kind == s_kind).OrderByDescending(fact => fact.Position).FirstOrDefaultAsync(cancel);
        var set = last is null ? new SettingsSet(new ReadersUnits(), null) : (SettingsSet)FactKinds.Read(last.Kind, last.Version, last.Payload);
        return new Known(now, bench?.Name, bench?.Zone ?? "UTC", set);
    }

    private sealed record Known(DateTimeOffset At, string? Name, string Zone, SettingsSet Set);
}
