using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Reconciliation;
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
        if (await GetCanAsync(can.Id, cancel) is { } kept && FactJson.Write(RepairedCan.AsPlanned(kept.Card)) == FactJson.Write(can))
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

        var done = await db.CanSteps.Where(step => step.CanId == canId && step.DoneFactId != null).OrderBy(step => step.Number).Select(step => new { step.Number, step.DoneAt }).ToListAsync(cancel);
        var repairedAt = done.Where(step => step.Number > can.Steps).Max(step => step.DoneAt);
        var readings = await db.Readings.Where(reading => reading.CanId == canId && reading.CorrectedBy == null).OrderBy(reading => reading.Position).ToListAsync(cancel);
        return new SavedCan
        {
            Id = can.Id,
            Card = can.Card,
            State = can.State,
            MixedOn = can.MixedOn,
            DoneSteps = [.. done.Where(step => step.Number <= can.Steps).Select(step => step.Number)],
            Readings = [.. readings.Select(reading => reading.ToReading())],
            ReadBeforeRepair = readings.Count(reading => reading.Position < repairedAt),
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
        var repaired = (await db.CanSteps.Where(step => ids.Contains(step.CanId) && step.DoneFactId != null && db.Cans.Any(can => can.Id == step.CanId && can.Steps < step.Number))
            .Select(step => new { step.CanId, step.DoneAt }).ToListAsync(cancel)).ToLookup(step => step.CanId, step => step.DoneAt);
        // What was read before a repair says nothing of the can as it is.
        double? Last(Guid can, Func<ReadingRow, double?> of) => readings[can].Where(reading => !(reading.Position < repaired[can].Max())).Select(of).LastOrDefault(value => value is not null);
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
                ReadEcMicrosiemensPerCm = Last(can.Id, reading => reading.EcMicrosiemensPerCm),
                ReadPH = Last(can.Id, reading => reading.PH),
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
        await PensThereAsync(reading, cancel);
        await log.AppendAsync(
            new NewFact
            {
                Id = reading.Id,
                SubjectId = reading.CanId,
                Payload = new CanRead(reading.CanId, reading.AfterStep, reading.EcMicrosiemensPerCm, reading.PH, reading.TemperatureCelsius, reading.Note, reading.EcPenId, reading.PHPenId),
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

        var id = idempotencyKey ?? NewId();
        var pots = await database.ReadAsync(
            async db => (Said: await db.Facts.AnyAsync(fact => fact.Id == id, cancel), Standing: (await BenchReader.StandingAsync(db, cancel)).ToDictionary(standing => standing.Plant.Id, standing => standing.Pot)), cancel);
        if (pots.Said)
        {
            return can; // a late repeat of a pouring that was taken back
        }

        // What is believed of the roots is worked out before anything is locked, and written with the pouring or not at all.
        var fed = poured.Where(portion => pots.Standing.ContainsKey(portion.PlantId)).Select(portion => (portion.PlantId, pots.Standing[portion.PlantId].ToPot())).ToList();
        var forecasts = await BelievedForecasts.OfBenchAsync(database, clock, cancel);
        var believed = await Task.Run(() => forecasts.Of(fed, can.Card.MolPerKgWater, canId, id), cancel);
        await log.AppendAsync(
            [
                new NewFact { Id = id, SubjectId = canId, Payload = new CanPoured(canId, poured, left) },
                .. believed.Select(forecast => new NewFact { Id = NewId(), SubjectId = forecast.PlantId, Payload = forecast }),
            ],
            cancel);
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

    private async Task PensThereAsync(NewCanReading reading, CancellationToken cancel)
    {
        if (reading.EcPenId is null && reading.PHPenId is null)
        {
            return;
        }

        var pens = await database.ReadAsync(db => PensInLedger.ReadAsync(db, cancel), cancel);
        foreach (var (id, kind, field) in new[] { (reading.EcPenId, PenKind.Ec, "EC pen"), (reading.PHPenId, PenKind.PH, "pH pen") })
        {
            if (id is { } named && pens.Find(named)?.Kind != kind)
            {
                var known = pens.Pens.Where(pen => pen.Kind == kind).Select(pen => pen.Name).ToList();
                throw new EntryException(field, named.ToString(), known.Count > 0 ? $"one of {string.Join(", ", known)}" : "none: no such pen is kept yet");
            }
        }
    }

    private async Task<SavedCan> RequiredAsync(Guid canId, CancellationToken cancel) =>
        await GetCanAsync(canId, cancel) ?? throw new EntryException("can", canId.ToString(), "a can that was saved on this bench");

    private async Task<CanStepRow> StepAsync(Guid canId, int number, CancellationToken cancel) =>
        await database.ReadAsync(db => db.CanSteps.FirstOrDefaultAsync(step => step.CanId == canId && step.Number == number && db.Cans.Any(can => can.Id == canId && number <= can.Steps), cancel), cancel)
        ?? throw new EntryException("step", Entered(number), $"a step on the card of can {canId}");

    private static async Task<IReadOnlyList<StepUse>> UsesAsync(LedgerContext db, CanPlan can, CancellationToken cancel) =>
        StepUses.Of(can, await BenchReader.CupboardAsync(db, cancel));

    private static string Entered(IFormattable value) => value.ToString(null, System.Globalization.CultureInfo.InvariantCulture);
}
