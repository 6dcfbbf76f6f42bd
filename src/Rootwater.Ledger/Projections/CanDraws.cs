using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>What is left in a can.</summary>
internal static class CanDraws
{
    public static long Microlitres(double litres) => (long)Math.Round(litres * 1e6);

    /// <summary>Takes from a can, or gives back (negative).</summary>
    /// <param name="can">The can.</param>
    /// <param name="microlitres">How much.</param>
    /// <param name="position">Place in the ledger of the fact that took it.</param>
    public static void Draw(CanRow can, long microlitres, long position)
    {
        can.DrawnMicrolitres += microlitres;
        if (position < can.PouredAt)
        {
            // Whoever poured the rest looked at what was left: what had been taken before is in that figure.
            can.DrawnBeforePouredMicrolitres += microlitres;
        }

        Settle(can);
    }

    public static void Poured(CanRow can, Guid factId, long position, DateOnly day, double litresLeft)
    {
        (can.PouredOn, can.PouredFactId, can.PouredAt, can.PouredLitresLeft) = (day, factId, position, litresLeft);
        can.DrawnBeforePouredMicrolitres = can.DrawnMicrolitres;
        Settle(can);
    }

    public static void NotPoured(CanRow can)
    {
        (can.PouredOn, can.PouredFactId, can.PouredAt, can.PouredLitresLeft, can.DrawnBeforePouredMicrolitres) = (null, null, null, null, 0);
        Settle(can);
    }

    /// <summary>The day of the first pouring of a can that is poured plant by plant.</summary>
    public static void FirstPoured(CanRow can, DateOnly day)
    {
        if (can.PouredFactId is null && (can.PouredOn is null || day < can.PouredOn))
        {
            can.PouredOn = day;
        }
    }

    /// <summary>Reads it again from what was poured (and sent).</summary>
    public static async Task RecountFirstPouredAsync(LedgerContext db, CanRow can, CancellationToken cancel)
    {
        if (can.PouredFactId is null)
        {
            can.PouredOn = await db.Feedings.Where(feeding => feeding.CanId == can.Id).MinAsync(feeding => (DateOnly?)feeding.Day, cancel);
        }
    }

    /// <summary>Works out again what is left, once it was filled further or something was drawn.</summary>
    public static void Settle(CanRow can) => can.LitresLeft = can.PouredLitresLeft is { } left
        ? left - (can.DrawnMicrolitres - can.DrawnBeforePouredMicrolitres) / 1e6
        : can.Litres - can.DrawnMicrolitres / 1e6;
}
