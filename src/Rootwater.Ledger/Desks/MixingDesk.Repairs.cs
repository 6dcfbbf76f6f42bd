using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// When the pens disagree: what to check, what would put the can right, and what was really done.
public sealed partial class MixingDesk
{
    public async Task<CanVerdict> JudgeAsync(Guid canId, CancellationToken cancel = default)
    {
        var (can, read) = await ReadCanAsync(canId, cancel);
        var tools = await database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Tools, cancel);
        return await ByHistoryAsync(CanCheck.Judge(can.Card, tools, read.Ec, read.PH, read.AfterStep), can, read.AfterStep, cancel);
    }

    public async Task<CanRepairResult> RepairAsync(Guid canId, CancellationToken cancel = default)
    {
        var (can, read) = await ReadFinishedAsync(canId, cancel);
        var means = await MeansAsync(can, cancel);
        return await Task.Run(() => CanRepair.Offer(NowIn(can), means, read.Ec, read.PH), cancel);
    }

    public async Task<SavedCan> SaveRepairAsync(NewCanRepair repair, CancellationToken cancel = default)
    {
        if (await database.ReadAsync(db => db.Facts.AnyAsync(fact => fact.Id == repair.Id, cancel), cancel))
        {
            return await RequiredAsync(repair.CanId, cancel);
        }

        if (repair.Added.Count == 0 || repair.Added.Select(each => each.Id).Distinct().Count() != repair.Added.Count)
        {
            throw new EntryException("added", repair.Added.Count.ToString(System.Globalization.CultureInfo.InvariantCulture), "what was added, each product or water once");
        }

        var (can, read) = await ReadFinishedAsync(repair.CanId, cancel);
        var means = await MeansAsync(can, cancel);
        try
        {
            var (after, additions, warnings) = await Task.Run(() => CanRepair.Done(NowIn(can), means, read.Ec, read.PH, [.. repair.Added.Select(each => (each.Id, each.Amount))]), cancel);
            // Litres of the whole card: what went into a topped can is not put back by water.
            after = after with { Litres = Math.Round(can.Card.Litres + after.Litres - NowIn(can).Litres, 6) };
            var number = can.Card.Steps.Count + can.Card.Repairs.Count + 1;
            var uses = additions.Where(each => each.ProductId is not null)
                .SelectMany(each => StepUses.Of(number, each.ProductId!.Value, each.Amount, each.Unit, means.Cupboard)).ToList();
            await log.AppendAsync(
                new NewFact
                {
                    Id = repair.Id,
                    SubjectId = can.Id,
                    Payload = new CanRepaired(can.Id, can.Card.Repairs.Count == 0 ? null : can.Card.Repairs[^1].Id, additions, warnings, after, uses),
                },
                cancel);
        }
        catch (ArgumentException refused)
        {
            throw new EntryException("added", null, refused.Message);
        }

        return await RequiredAsync(repair.CanId, cancel);
    }

    public async Task<SavedCan> UndoRepairAsync(Guid canId, Guid repairId, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var can = await RequiredAsync(canId, cancel);
        if (can.Card.Repairs.All(repair => repair.Id != repairId))
        {
            return can; // taken back already
        }

        if (can.Card.Repairs[^1].Id != repairId)
        {
            throw new EntryException("repair", repairId.ToString(), $"the latest repair of this can, {can.Card.Repairs[^1].Id}: take back the later one first");
        }

        await log.AppendAsync(new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = canId, Payload = new CanRepairUndone(canId), Corrects = repairId }, cancel);
        return await RequiredAsync(canId, cancel);
    }

    // Some of it may have gone into a topped can already: what is mended is what is left.
    private static CanPlan NowIn(SavedCan can) => can.LitresLeft > 0 && can.LitresLeft < can.Card.Litres ? can.Card with { Litres = can.LitresLeft } : can.Card;

    private async Task<RepairMeans> MeansAsync(SavedCan can, CancellationToken cancel)
    {
        var today = await GetBenchTodayAsync(null, cancel);
        return new RepairMeans
        {
            Cupboard = today.Cupboard,
            Waters = today.Waters,
            Tools = today.Tools,
            VesselLitres = today.Vessels.FirstOrDefault(vessel => vessel.Name == can.Card.Vessel)?.Litres,
        };
    }

    private async Task<(SavedCan Can, (double? Ec, double? PH) Read)> ReadFinishedAsync(Guid canId, CancellationToken cancel)
    {
        var (can, read) = await ReadCanAsync(canId, cancel);
        return read.AfterStep is { } step && step < can.Card.Steps.Max(last => last.Number)
            ? throw new EntryException("reading", $"after step {step}", "a reading of the finished can: a repair is for the whole of it")
            : (can, (read.Ec, read.PH));
    }

    private async Task<(SavedCan Can, (double? Ec, double? PH, int? AfterStep) Read)> ReadCanAsync(Guid canId, CancellationToken cancel)
    {
        var can = await RequiredAsync(canId, cancel);
        var readings = can.ReadingsOfNow;
        if (readings.Count == 0)
        {
            throw new EntryException("reading", null, can.Card.Repairs.Count > 0
                ? "what a pen reads in this can since it was put right, EC or pH, typed in first"
                : "what a pen reads in this can, EC or pH, typed in first");
        }

        // The two pens are often typed in one after the other: the newest of each, taken at the same step.
        var at = readings[^1].AfterStep;
        var same = readings.Where(reading => reading.AfterStep == at).ToList();
        return (can, (
            same.LastOrDefault(reading => reading.EcMicrosiemensPerCm is not null)?.EcMicrosiemensPerCm,
            same.LastOrDefault(reading => reading.PH is not null)?.PH,
            at));
    }
}
