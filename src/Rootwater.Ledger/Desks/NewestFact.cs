using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Desks;

/// <summary>Where the ledger ends: what was worked out from it stands until this moves. The id with the place, because an older ledger may have been put back.</summary>
/// <remarks>Read it before the work it is to stand for: what is written meanwhile then only makes the work be done once more.</remarks>
/// <param name="Position">Its place; 0 in an empty ledger.</param>
/// <param name="Id">Which fact stands there.</param>
internal readonly record struct NewestFact(long Position, Guid Id)
{
    public static Task<NewestFact> OfAsync(LedgerContext db, CancellationToken cancel) =>
        db.Facts.OrderByDescending(fact => fact.Position).Select(fact => new NewestFact(fact.Position, fact.Id)).FirstOrDefaultAsync(cancel);

    /// <summary>Its place alone, for who reads on from where they stood.</summary>
    public static async Task<long> PositionAsync(LedgerContext db, CancellationToken cancel) => await db.Facts.MaxAsync(fact => (long?)fact.Position, cancel) ?? 0;

    /// <summary>Whether it is still where it was: if not, an older ledger was put back.</summary>
    public async Task<bool> IsStillInAsync(LedgerContext db, CancellationToken cancel)
    {
        var (position, id) = this;
        return await db.Facts.AnyAsync(fact => fact.Position == position && fact.Id == id, cancel);
    }
}
