using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>Cans, their steps, readings and pourings.</summary>
internal static class CanProjection
{
    public static Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel) => payload switch
    {
        CanSaved saved => SaveAsync(db, fact, saved),
        CanStepDone done => TickAsync(db, fact, done, cancel),
        CanStepUndone undone => UntickAsync(db, undone, cancel),
        CanRead read => ReadAsync(db, fact, read, cancel),
        CanPoured poured => PourAsync(db, fact, poured, cancel),
        CanPourUndone undone => UnpourAsync(db, undone, cancel),
        CanRepaired repaired => CanRepairProjection.DoAsync(db, fact, repaired, cancel),
        CanRepairUndone undone => CanRepairProjection.UndoAsync(db, fact, undone, cancel),
        _ => throw new InvalidOperationException($"Not a can's: {payload.GetType().Name}."),
    };

    private static Task SaveAsync(LedgerContext db, Fact fact, CanSaved saved)
    {
        var card = saved.Card;
        db.Cans.Add(new CanRow
        {
            Id = card.Id,
            Letter = card.Letter,
            Vessel = card.Vessel,
            Litres = card.Litres,
            MixedOn = fact.When.EarliestDay,
            Position = fact.Position,
            Steps = card.Steps.Count,
            Plants = card.Serves.Sum(served => served.Portions.Count),
            EcLow = card.EcMicrosiemensPerCm.Low,
            Ec = card.EcMicrosiemensPerCm.Value,
            EcHigh = card.EcMicrosiemensPerCm.High,
            PHLow = card.PH.Low,
            PH = card.PH.Value,
            PHHigh = card.PH.High,
            Cost = card.Cost,
            LitresLeft = card.Litres,
            Card = card,
        });
        db.CanContents.Add(new CanContentRow
        {
            CanId = card.Id,
            Letter = card.Letter,
            MgPerLitre = card.MgPerLitre,
            EcMicrosiemensPerCm = card.EcMicrosiemensPerCm.Value,
            PH = card.PH.Value,
        });
        var uses = saved.Uses.ToLookup(use => use.Step);
        foreach (var step in card.Steps)
        {
            db.CanSteps.Add(new CanStepRow { CanId = card.Id, Number = step.Number, Uses = [.. uses[step.Number]], Taken = [] });
        }

        return Task.CompletedTask;
    }

    private static async Task TickAsync(LedgerContext db, Fact fact, CanStepDone done, CancellationToken cancel)
    {
        var step = await Projector.RequiredAsync<CanStepRow>(db, "step", cancel, done.CanId, done.Step);
        if (step.DoneFactId is not null)
        {
            return; // two hands ticked it: it was poured once
        }

        (step.DoneFactId, step.DoneAt) = (fact.Id, fact.Position);
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, done.CanId);
        can.StepsDone++;
        await TakeFromEarlierCanAsync(db, can, done.Step, 1, fact.Position, cancel);
        step.Taken = await TakeAsync(db, step.Uses, cancel);
    }

    /// <summary>Takes from lots, no more than there is.</summary>
    public static async Task<IReadOnlyList<StepUse>> TakeAsync(LedgerContext db, IReadOnlyList<StepUse> uses, CancellationToken cancel)
    {
        var taken = new List<StepUse>();
        foreach (var use in uses)
        {
            if (await db.Lots.FindAsync([use.LotId], cancel) is { } lot)
            {
                var grams = Math.Min(use.Grams, lot.GramsLeft);
                lot.GramsLeft -= grams;
                taken.Add(use with { Grams = grams });
            }
        }

        return taken;
    }

    /// <summary>Gives back what a step took.</summary>
    public static async Task GiveBackAsync(LedgerContext db, CanStepRow step, CancellationToken cancel)
    {
        foreach (var use in step.Taken)
        {
            // A lot weighed since then was weighed without what this step took.
            if (await db.Lots.FindAsync([use.LotId], cancel) is { } lot && lot.WeighedAt < step.DoneAt)
            {
                lot.GramsLeft += use.Grams;
            }
        }
    }

    private static async Task UntickAsync(LedgerContext db, CanStepUndone undone, CancellationToken cancel)
    {
        var step = await Projector.RequiredAsync<CanStepRow>(db, "step", cancel, undone.CanId, undone.Step);
        if (step.DoneFactId is null)
        {
            return;
        }

        await GiveBackAsync(db, step, cancel);
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, undone.CanId);
        can.StepsDone--;
        await TakeFromEarlierCanAsync(db, can, undone.Step, -1, step.DoneAt!.Value, cancel);
        (step.DoneFactId, step.DoneAt, step.Taken) = (null, null, []);
    }

    /// <summary>A topped can takes what was left in an earlier one.</summary>
    private static async Task TakeFromEarlierCanAsync(LedgerContext db, CanRow can, int number, int sign, long at, CancellationToken cancel)
    {
        var step = can.Card.Steps.First(step => step.Number == number);
        if (step.FromCanId is { } earlierId && await db.Cans.FindAsync([earlierId], cancel) is { } earlier)
        {
            CanDraws.Draw(earlier, sign * CanDraws.Microlitres(step.Amount), at);
        }
    }

    private static async Task ReadAsync(LedgerContext db, Fact fact, CanRead read, CancellationToken cancel)
    {
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, read.CanId);
        if (fact.Corrects is { } wrong)
        {
            (await Projector.RequiredAsync<ReadingRow>(db, "reading", cancel, wrong)).CorrectedBy = fact.Id;
        }

        db.Readings.Add(new ReadingRow
        {
            Id = fact.Id,
            CanId = read.CanId,
            AfterStep = read.AfterStep,
            EcMicrosiemensPerCm = read.EcMicrosiemensPerCm,
            PH = read.PH,
            TemperatureCelsius = read.TemperatureCelsius,
            Note = read.Note,
            RecordedMicroseconds = fact.RecordedMicroseconds,
            Position = fact.Position,
        });
        if (fact.Corrects is not null)
        {
            await WhatCountsAsync(db, read.CanId, cancel);
        }
        else if (read.AfterStep is null || read.AfterStep >= can.Card.Steps.Max(step => step.Number))
        {
            var content = await Projector.RequiredAsync<CanContentRow>(db, "can", cancel, read.CanId);
            (content.EcMicrosiemensPerCm, content.PH) = (read.EcMicrosiemensPerCm ?? content.EcMicrosiemensPerCm, read.PH ?? content.PH);
        }
    }

    /// <summary>A reading is taken back; one that it had put right counts again.</summary>
    public static async Task UnreadAsync(LedgerContext db, Fact by, Fact wrong, CanRead read, CancellationToken cancel)
    {
        (await Projector.RequiredAsync<ReadingRow>(db, "reading", cancel, wrong.Id)).CorrectedBy = by.Id;
        if (wrong.Corrects is { } earlier)
        {
            (await Projector.RequiredAsync<ReadingRow>(db, "reading", cancel, earlier)).CorrectedBy = null;
        }

        await WhatCountsAsync(db, read.CanId, cancel);
    }

    /// <summary>EC and pH that count for a can: the last that was read in the finished can as it is now, else what its card expects.</summary>
    public static async Task WhatCountsAsync(LedgerContext db, Guid canId, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, canId);
        var last = can.Card.Steps.Max(step => step.Number);
        var repairedAt = await db.CanSteps.Where(step => step.CanId == canId && step.Number > can.Steps && step.DoneAt != null).MaxAsync(step => step.DoneAt, cancel) ?? 0;
        var readings = await db.Readings.Where(reading => reading.CanId == canId && reading.CorrectedBy == null && (reading.AfterStep == null || reading.AfterStep >= last) && reading.Position > repairedAt)
            .OrderBy(reading => reading.Position).ToListAsync(cancel);
        var content = await Projector.RequiredAsync<CanContentRow>(db, "can", cancel, canId);
        content.EcMicrosiemensPerCm = readings.LastOrDefault(reading => reading.EcMicrosiemensPerCm is not null)?.EcMicrosiemensPerCm ?? can.Ec;
        content.PH = readings.LastOrDefault(reading => reading.PH is not null)?.PH ?? can.PH;
    }

    private static async Task PourAsync(LedgerContext db, Fact fact, CanPoured poured, CancellationToken cancel)
    {
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, poured.CanId);
        var day = fact.When.EarliestDay;
        CanDraws.Poured(can, fact.Id, fact.Position, day, poured.LitresLeft);
        // A plant that was forgotten since then has no row; nor has one that never was.
        foreach (var portion in poured.Poured)
        {
            if (await db.Stories.FindAsync(portion.PlantId, cancel) is not { } story)
            {
                continue;
            }

            var pot = story.PotOn(day)?.Id;
            db.AddOnce(new FeedingRow
            {
                FactId = fact.Id,
                PlantId = portion.PlantId,
                PotId = pot,
                What = Pouring.Feed,
                CanId = poured.CanId,
                Day = day,
                Millilitres = portion.Millilitres,
            });
            story.Gave(day, feed: true, pot);
            db.Stories.CardChanged(portion.PlantId);
        }
    }

    private static async Task UnpourAsync(LedgerContext db, CanPourUndone undone, CancellationToken cancel)
    {
        var can = await Projector.RequiredAsync<CanRow>(db, "can", cancel, undone.CanId);
        if (can.PouredFactId is not { } pouredId)
        {
            return;
        }

        await db.SendRowsAsync(cancel); // what follows asks the database, still inside the same transaction
        var taken = await db.Feedings.Where(feeding => feeding.FactId == pouredId).ToListAsync(cancel);
        db.Feedings.RemoveRange(taken);
        await db.SendRowsAsync(cancel);
        foreach (var plantId in taken.Select(feeding => feeding.PlantId).Distinct())
        {
            if (await db.Stories.FindAsync(plantId, cancel) is { } story)
            {
                await FeedingProjection.RecountAsync(db, story, cancel);
            }
        }

        CanDraws.NotPoured(can);
        await CanDraws.RecountFirstPouredAsync(db, can, cancel);
    }
}
