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
        var newest = await NewestFact.OfAsync(db, cancel);
        if (known?.Newest == newest)
        {
            return known.Facts;
        }

        var after = known is not null && await known.Newest.IsStillInAsync(db, cancel) ? known.Newest.Position : -1;
        var more = await db.Facts.AsNoTracking().Where(fact => fact.Position > after && kinds.Contains(fact.Kind)).OrderBy(fact => fact.Position).ToListAsync(cancel);
        var before = after < 0 ? [] : known!.Facts;
        // What was written while this was read lies beyond the newest place and is found next time.
        more.RemoveAll(fact => fact.Position > newest.Position);
        _known = new Known(newest, more.Count == 0 ? before : [.. before, .. more]);
        return _known.Facts;
    }

    private sealed record Known(NewestFact Newest, IReadOnlyList<Fact> Facts);
}
