using System.Globalization;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>Repairs of a can: from then on its card, its supply and whatever is fed from it are those of the repaired can.</summary>
/// <remarks>What a repair took stands among the can's steps, numbered after those of its card.</remarks>
internal static class CanRepairProjection
{
    public static async Task DoAsync(LedgerContext db, Fact fact, CanRepaired repaired, CancellationToken cancel)
    {
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, repaired.CanId);
        RefuseWhenPoured(can);
        if (repaired.Follows != LastOf(can.Card))
        {
            throw new EntryException("repair", fact.Id.ToString(), "a repair of the can as it is now: it was repaired in the meantime, so look at it again");
        }

        can.Card = RepairedCan.Do(can.Card, fact.Id, repaired.Additions, repaired.Warnings, repaired.After);
        var number = NumberOf(can);
        var step = await db.CanSteps.FindAsync([can.Id, number], cancel);
        if (step is null)
        {
            step = new CanStepRow { CanId = can.Id, Number = number, Uses = [], Taken = [] };
            db.CanSteps.Add(step);
        }

        (step.Uses, step.DoneFactId, step.DoneAt) = (repaired.Uses, fact.Id, fact.Position);
        step.Taken = await CanProjection.TakeAsync(db, repaired.Uses, cancel);
        await ShowAsync(db, can, cancel);
    }

    public static async Task UndoAsync(LedgerContext db, Fact fact, CanRepairUndone undone, CancellationToken cancel)
    {
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, undone.CanId);
        if (LastOf(can.Card) is null || LastOf(can.Card) != fact.Corrects)
        {
            return; // taken back already
        }

        RefuseWhenPoured(can);
        var step = await Projector.RequiredAsync<CanStepRow>(db, "repair", cancel, can.Id, NumberOf(can));
        await CanProjection.GiveBackAsync(db, step, cancel);
        (step.Uses, step.Taken, step.DoneFactId, step.DoneAt) = ([], [], null, null);
        can.Card = RepairedCan.Undo(can.Card);
        await ShowAsync(db, can, cancel);
    }

    private static Guid? LastOf(CanPlan card) => card.Repairs.Count == 0 ? null : card.Repairs[^1].Id;

    private static int NumberOf(CanRow can) => can.Steps + can.Card.Repairs.Count;

    private static void RefuseWhenPoured(CanRow can)
    {
        // What was poured of it is counted as what it holds: a repair in the middle of a round would change what plants got before it.
        if (can.PouredOn is not null)
        {
            throw new EntryException("can", can.Letter + " of " + can.MixedOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), "a can that nothing was poured from yet: what plants got of it is counted as what it holds, so a repair of the rest would change what they are said to have got. Plan a can made from what is left in it instead, or take the pouring back first");
        }
    }

    private static async Task ShowAsync(LedgerContext db, CanRow can, CancellationToken cancel)
    {
        var card = can.Card;
        (can.Litres, can.Cost) = (card.Litres, card.Cost);
        (can.EcLow, can.Ec, can.EcHigh) = (card.EcMicrosiemensPerCm.Low, card.EcMicrosiemensPerCm.Value, card.EcMicrosiemensPerCm.High);
        (can.PHLow, can.PH, can.PHHigh) = (card.PH.Low, card.PH.Value, card.PH.High);
        CanDraws.Settle(can);
        var content = await Projector.RequiredAsync<CanContentRow>(db, "can", cancel, can.Id);
        content.MgPerLitre = card.MgPerLitre;
        await CanProjection.WhatCountsAsync(db, can.Id, cancel);
    }
}
