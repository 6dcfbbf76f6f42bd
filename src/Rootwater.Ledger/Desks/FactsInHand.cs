using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// The facts of a few kinds of which no table follows, kept in hand: there is no index by kind, so the whole ledger is read through for them once, after that
/// only what was written since.
/// </summary>
/// <remarks>For kinds that are about no plant and cannot be taken back. The same list is handed out until there is another such fact.</remarks>
internal sealed class FactsInHand(params string[] kinds)
{
    private volatile Known? _known;

    /// <summary>In the order in which they were written.</summary>
    public async Task<IReadOnlyList<Fact>> OfAsync(LedgerContext db, CancellationToken cancel)
    {
        var known = _known;
        var newest = await db.Facts.OrderByDescending(fact => fact.Position).Select(fact => new { fact.Position, fact.Id }).FirstOrDefaultAsync(cancel);
        if (known is not null && newest?.Position == known.Position && newest.Id == known.Newest)
        {
            return known.Facts;
        }

        // An older ledger may have been put back: what was the newest fact must still be where it was.
        var after = known is not null && await db.Facts.AnyAsync(fact => fact.Position == known.Position && fact.Id == known.Newest, cancel) ? known.Position : -1;
        var more = await db.Facts.AsNoTracking().Where(fact => fact.Position > after && kinds.Contains(fact.Kind)).OrderBy(fact => fact.Position).ToListAsync(cancel);
        var before = after < 0 ? [] : known!.Facts;
        // What was written while this was read lies beyond the newest place and is found next time.
        more.RemoveAll(fact => fact.Position > (newest?.Position ?? 0));
        _known = new Known(newest?.Position ?? 0, newest?.Id ?? default, more.Count == 0 ? before : [.. before, .. more]);
        return _known.Facts;
    }

    private sealed record Known(long Position, Guid Newest, IReadOnlyList<Fact> Facts);
}
