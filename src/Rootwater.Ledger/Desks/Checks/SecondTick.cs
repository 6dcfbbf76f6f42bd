using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// Two people walk the same bench, or one with two phones: the same plant ticked from the same can on the same walk by two devices is one
/// pouring told twice until the grower says otherwise (<see cref="PlantGiven.Again"/>). Walks begun on the same day, each on a phone without
/// network, are one walk here. What is given outside a walk is taken as it is told.
/// </summary>
internal static class SecondTick
{
    /// <summary>The field the problem is told under.</summary>
    public const string Field = "again";

    /// <exception cref="EntryException">Another device has told it.</exception>
    public static async Task CheckAsync(LedgerContext db, NewFact fact, FactWhen when, string device, CancellationToken cancel)
    {
        if (fact is not { Corrects: null, Payload: PlantGiven { RoundId: { } round, Again: not true } said })
        {
            return;
        }

        var day = when.EarliestDay;
        var told = await (
            from feeding in db.Feedings.AsNoTracking()
            where feeding.PlantId == said.PlantId && feeding.What == said.What && feeding.CanId == said.CanId && feeding.RoundId != null && (feeding.RoundId == round || feeding.Day == day)
            join other in db.Facts.AsNoTracking() on feeding.FactId equals other.Id
            where other.Device != device
            orderby other.Position
            select new { feeding.Millilitres, other.Device, other.Who, other.Earliest }).FirstOrDefaultAsync(cancel);
        if (told is not null)
        {
            throw new EntryException(Field, null, FactWords.Say($"already ticked by {told.Device} ({told.Who}) at {told.Earliest[11..16]}, {told.Millilitres:0} mL; counted once unless it is said to have been given again"));
        }
    }
}
