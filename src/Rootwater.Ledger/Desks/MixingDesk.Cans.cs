using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

// Keeping a can: its card, the ticks, what was read, the pouring.
public sealed partial class MixingDesk
{
    public async Task<SavedCan> SaveCanAsync(CanPlan can, CancellationToken cancel = default)
    {
        if (can.Steps.Count == 0)
        {
            throw new EntryException("steps", null, "a card with at least one step");
        }

        // Saved twice, the card is the same but the lots it would draw on may have moved on: the first save stands.
        if (await GetCanAsync(can.Id, cancel) is { } kept && FactJson.Write(kept.Card) == FactJson.Write(can))
        {
            return kept;
        }

        var uses = await database.ReadAsync(db => UsesAsync(db, can, cancel), cancel);
        await log.AppendAsync(new NewFact { Id = can.Id, SubjectId = can.Id, Payload = new CanSaved(can, uses) }, cancel);
        return await RequiredAsync(can.Id, cancel);
    }

    public Task<SavedCan?> GetCanAsync(Guid canId, CancellationToken cancel = default) => database.ReadAsync(async db =>
    {
        var can = await db.Cans.FirstOrDefaultAsync(row => row.Id == canId, cancel);
        if (can is null)
        {
            return null;
        }

        var done = await db.CanSteps.Where(step => step.CanId == canId && step.DoneFactId != null).OrderBy(step => step.Number).Select(step => step.Number).ToListAsync(cancel);
        var readings = await db.Readings.Where(reading => reading.CanId == canId && reading.CorrectedBy == null).OrderBy(reading => reading.Position).ToListAsync(cancel);
        return new SavedCan
        {
            Id = can.Id,
            Card = can.Card,
            State = can.State,
            MixedOn = can.MixedOn,
            DoneSteps = done,
            Readings = [.. readings.Select(reading => reading.ToReading())],
            LitresLeft = Math.Max(0, can.LitresLeft),
        };
    }, cancel);

    public Task<IReadOnlyList<CanSummary>> ListCansAsync(int most = 50, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<CanSummary>>(async db =>
    {
        // The cards stay in the database: a list needs none of them.
        var cans = await db.Cans.OrderByDescending(can => can.Position).Take(Math.Clamp(most, 1, 1000))
            .Select(can => new
            {
                can.Id,
                can.Letter,
                can.Vessel,
                can.Litres,
                can.MixedOn,
                can.PouredOn,
                can.LitresLeft,
                can.Steps,
                can.StepsDone,
                can.Plants,
                can.Cost,
                can.EcLow,
                can.Ec,
                can.EcHigh,
                can.PHLow,
                can.PH,
                can.PHHigh,
            }).ToListAsync(cancel);
        var ids = cans.Select(can => can.Id).ToList();
        var readings = (await db.Readings.Where(reading => ids.Contains(reading.CanId) && reading.CorrectedBy == null && reading.AfterStep == null)
            .OrderBy(reading => reading.Position).ToListAsync(cancel)).ToLookup(reading => reading.CanId);
        return
        [
            .. cans.Select(can => new CanSummary
            {
                Id = can.Id,
                Letter = can.Letter,
                Vessel = can.Vessel,
                Litres = can.Litres,
                MixedOn = can.MixedOn,
                State = CanRow.StateOf(can.PouredOn, can.LitresLeft, can.StepsDone, can.Steps),
                Steps = can.Steps,
                StepsDone = can.StepsDone,
                Plants = can.Plants,
                EcMicrosiemensPerCm = new Expected(can.EcLow, can.Ec, can.EcHigh),
                PH = new Expected(can.PHLow, can.PH, can.PHHigh),
                ReadEcMicrosiemensPerCm = readings[can.Id].LastOrDefault(reading => reading.EcMicrosiemensPerCm is not null)?.EcMicrosiemensPerCm,
                ReadPH = readings[can.Id].LastOrDefault(reading => reading.PH is not null)?.PH,
                Cost = can.Cost,
                LitresLeft = can.LitresLeft,
            }),
        ];
    }, cancel);

    public async Task<SavedCan> TickStepAsync(Guid canId, int stepNumber, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var step = await StepAsync(canId, stepNumber, cancel);
        if (step.DoneFactId is null)
        {
            await log.AppendAsync(new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = canId, Payload = new CanStepDone(canId, stepNumber) }, cancel);
        }

        return await RequiredAsync(canId, cancel);
    }

    public async Task<SavedCan> UndoStepAsync(Guid canId, int stepNumber, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var step = await StepAsync(canId, stepNumber, cancel);
        if (step.DoneFactId is { } ticked)
        {
            await log.AppendAsync(
                new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = canId, Payload = new CanStepUndone(canId, stepNumber), Corrects = ticked }, cancel);
        }

        return await RequiredAsync(canId, cancel);
    }

    public async Task<SavedCan> SaveReadingAsync(NewCanReading reading, CancellationToken cancel = default)
    {
        var can = await RequiredAsync(reading.CanId, cancel);
        ReadingCheck.Refuse(reading, can.Card);
        await log.AppendAsync(
            new NewFact
            {
                Id = reading.Id,
                SubjectId = reading.CanId,
                Payload = new CanRead(reading.CanId, reading.AfterStep, reading.EcMicrosiemensPerCm, reading.PH, reading.TemperatureCelsius, reading.Note),
                Corrects = reading.Corrects,
            },
            cancel);
        return await RequiredAsync(reading.CanId, cancel);
    }

    public async Task<SavedCan> PourAsync(Guid canId, double? litresLeft = null, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var can = await RequiredAsync(canId, cancel);
        if (can.State is CanState.Poured or CanState.Finished)
        {
            return can;
        }

        var poured = can.Card.Serves.SelectMany(served => served.Portions).Select(portion => new Poured(portion.PlantId, portion.Millilitres)).ToList();
        // What a topped can took of it is gone already.
        var left = litresLeft ?? Math.Max(0, can.LitresLeft - poured.Sum(portion => portion.Millilitres) / 1000);
        if (!(left >= 0 && left <= can.Card.Litres))
        {
            throw new EntryException("litres left", Entered(left), FormattableString.Invariant($"0 to the {can.Card.Litres:0.##} L that were mixed"));
        }

        await log.AppendAsync(new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = canId, Payload = new CanPoured(canId, poured, left) }, cancel);
        return await RequiredAsync(canId, cancel);
    }

    public async Task<SavedCan> UndoPourAsync(Guid canId, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var poured = await database.ReadAsync(db => db.Cans.Where(row => row.Id == canId).Select(row => row.PouredFactId).FirstOrDefaultAsync(cancel), cancel);
        if (poured is not null)
        {
            await log.AppendAsync(new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = canId, Payload = new CanPourUndone(canId), Corrects = poured }, cancel);
        }

        return await RequiredAsync(canId, cancel);
    }

    public async Task<CanVerdict> JudgeAsync(Guid canId, CancellationToken cancel = default)
    {
        var (can, read) = await ReadCanAsync(canId, cancel);
        var tools = await database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Tools, cancel);
        return CanCheck.Judge(can.Card, tools, read.Ec, read.PH, read.AfterStep);
    }

    public async Task<CanRepairResult> RepairAsync(Guid canId, CancellationToken cancel = default)
    {
        var (can, read) = await ReadCanAsync(canId, cancel);
        if (read.AfterStep is { } step && step < can.Card.Steps.Max(last => last.Number))
        {
            throw new EntryException("reading", $"after step {step}", "a reading of the finished can: a repair is for the whole of it");
        }

        var today = await GetBenchTodayAsync(null, cancel);
        var means = new RepairMeans
        {
            Cupboard = today.Cupboard,
            Waters = today.Waters,
            Tools = today.Tools,
            VesselLitres = today.Vessels.FirstOrDefault(vessel => vessel.Name == can.Card.Vessel)?.Litres,
        };
        return await Task.Run(() => CanRepair.Offer(can.Card, means, read.Ec, read.PH), cancel);
    }

    private async Task<(SavedCan Can, (double? Ec, double? PH, int? AfterStep) Read)> ReadCanAsync(Guid canId, CancellationToken cancel)
    {
        var can = await RequiredAsync(canId, cancel);
        if (can.Readings.Count == 0)
        {
            throw new EntryException("reading", null, "what a pen reads in this can, EC or pH, typed in first");
        }

        // The two pens are often typed in one after the other: the newest of each, taken at the same step.
        var at = can.Readings[^1].AfterStep;
        var same = can.Readings.Where(reading => reading.AfterStep == at).ToList();
        return (can, (
            same.LastOrDefault(reading => reading.EcMicrosiemensPerCm is not null)?.EcMicrosiemensPerCm,
            same.LastOrDefault(reading => reading.PH is not null)?.PH,
            at));
    }

    private async Task<SavedCan> RequiredAsync(Guid canId, CancellationToken cancel) =>
        await GetCanAsync(canId, cancel) ?? throw new EntryException("can", canId.ToString(), "a can that was saved on this bench");

    private async Task<CanStepRow> StepAsync(Guid canId, int number, CancellationToken cancel) =>
        await database.ReadAsync(db => db.CanSteps.FirstOrDefaultAsync(step => step.CanId == canId && step.Number == number, cancel), cancel)
        ?? throw new EntryException("step", Entered(number), $"a step on the card of can {canId}");

    private static async Task<IReadOnlyList<StepUse>> UsesAsync(LedgerContext db, CanPlan can, CancellationToken cancel) =>
        StepUses.Of(can, await BenchReader.CupboardAsync(db, cancel));

    private static string Entered(IFormattable value) => value.ToString(null, System.Globalization.CultureInfo.InvariantCulture);
}
