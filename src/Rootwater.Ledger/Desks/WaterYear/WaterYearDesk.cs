using Microsoft.EntityFrameworkCore;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Water through the year, over the ledger.</summary>
public sealed partial class WaterYearDesk(BenchDatabase database, IFactDesk facts, IWaterDesk waters, ICanHistoryDesk cans, BenchTime time, TimeProvider clock) : IWaterYearDesk, IDisposable
{
    private const double ToPH = 5.8;
    private const int MonthsBack = 13;

    private readonly SheetInHand<WaterYearLook> _sheet = new(
        async cancel => (await database.ReadAsync(db => NewestFact.OfAsync(db, cancel), cancel), await time.TodayAsync(cancel)),
        async (day, cancel) => new WaterYearLook(await SheetAsync(database, waters, cans, day, cancel), await RainAsync(database, waters, day, RainSheet.UsualDays, cancel)));

    public async Task<WaterYearSheet> GetAsync(CancellationToken cancel = default) => (await _sheet.WaitAsync(cancel)).Year;

    public Task<InHand<WaterYearLook>> LookAsync(CancellationToken cancel = default) => _sheet.LookAsync(cancel);

    public Task SetRoofAsync(RoofEntry roof, Guid? idempotencyKey = null, CancellationToken cancel = default) =>
        WriteAsync(roof.WaterId, new WaterRoof(roof.WaterId, roof.RoofSquareMetres, roof.BarrelLitres, roof.RunOffShare), idempotencyKey, cancel);

    public Task SetLevelAsync(Guid waterId, double litres, Guid? idempotencyKey = null, CancellationToken cancel = default) => WriteAsync(waterId, new WaterLevelSeen(waterId, litres), idempotencyKey, cancel);

    public async Task<RainImport> ImportRainAsync(string csv, string? from = null, bool write = false, CancellationToken cancel = default)
    {
        var (days, problems) = RainFile.Read(csv);
        if (write)
        {
            await WriteAsync(Guid.Empty, new RainRecorded(days, string.IsNullOrWhiteSpace(from) ? null : from.Trim()), null, cancel);
        }

        return new RainImport(days.Count, days[0].Day, days[^1].Day, days.Average(day => day.Millimetres) * 365.25, problems, write);
    }

    public void Dispose() => _sheet.Dispose();

    private Task WriteAsync(Guid subject, FactPayload payload, Guid? id, CancellationToken cancel) =>
        facts.WriteAsync([new NewFact { Id = id ?? Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = subject, Payload = payload }], cancel: cancel);

    private static async Task<WaterYearSheet> SheetAsync(BenchDatabase database, IWaterDesk waters, ICanHistoryDesk cans, DateOnly today, CancellationToken cancel)
    {
        var all = await waters.ListAsync(cancel);
        var since = new DateOnly(today.Year, today.Month, 1).AddMonths(1 - MonthsBack);
        var mixed = await database.ReadAsync(
            async db => (await db.Cans.Where(can => can.MixedOn >= since && can.MixedOn <= today && can.StepsDone > 0).Select(can => new { can.MixedOn, can.Card }).ToListAsync(cancel)).Select(can => (can.MixedOn, can.Card)).ToList(),
            cancel);
        var products = await database.ReadAsync(db => BenchReader.CupboardAsync(db, cancel), cancel);
        var corrections = await cans.CorrectionsAsync(cancel);
        return await Task.Run(
            () =>
            {
                var over = all.Select(water => Over(water, corrections)).ToList();
                var adjusters = products.Where(item => item.Product.Kind is ProductKind.Acid or ProductKind.Base).ToDictionary(item => item.Product.Id, item => item.Product);
                var months = mixed.GroupBy(can => new DateOnly(can.MixedOn.Year, can.MixedOn.Month, 1)).OrderBy(month => month.Key).Select(month => Month(month.Key, month.Select(can => can.Card), all, adjusters)).OfType<WaterMonth>().ToList();
                return new WaterYearSheet { AsOf = today, ToPH = ToPH, Waters = over, Months = months, Words = [.. Words(over, months)] };
            },
            cancel);
    }

    private static WaterOverTime Over(WaterView water, IReadOnlyList<CorrectionLine> corrections) => new()
    {
        Id = water.Id,
        Name = water.Name,
        Reports = [.. water.Reports.Reverse().Select(report => new ReportPoint(report.Entry.SampledOn, report.Read.EcMicrosiemensPerCm, report.Read.AlkalinityMeqPerLitre, report.Read.PH, report.Entry.From))],
        AcidMeqPerLitre = water.Source is { } source ? AcidFor(source.MolPerKgWater) : null,
        Drift =
        [
            .. corrections.Where(line => line.Kind is ErrorSourceKind.WaterStrength or ErrorSourceKind.WaterAlkalinity && line.Id.Equals(water.Id.ToString(), StringComparison.OrdinalIgnoreCase))
                .Select(line => new WaterDrift(line.Kind == ErrorSourceKind.WaterStrength ? "strength" : "alkalinity", line.Value, line.Unit, line.Cans, line.IsTold, line.Words)),
        ],
    };

    /// <summary>Strong acid that brings a water to the pH, sealed, meq/kg; null where the chemistry finds no answer.</summary>
    private static double? AcidFor(ComponentAmounts water)
    {
        var conditions = new SolveConditions { Temperature = Temperature.FromCelsius(20) };
        return EquilibriumSolver.Solve(water, conditions).Solution is { } now && EquilibriumSolver.Solve(water, conditions with { FixedPH = ToPH }).Solution is { } then
            ? (then.HydrogenMolPerKgWater - now.HydrogenMolPerKgWater) * 1000
            : null;
    }

    private static WaterMonth? Month(DateOnly month, IEnumerable<CanPlan> cards, IReadOnlyList<WaterView> all, Dictionary<Guid, Product> adjusters)
    {
        var (litres, taken) = (new Dictionary<Guid, double>(), 0.0);
        foreach (var step in cards.SelectMany(card => card.Steps))
        {
            if (step is { Kind: MixStepKind.Water, WaterId: { } id })
            {
                litres[id] = litres.GetValueOrDefault(id) + step.Amount;
            }
            else if (step.ProductId is { } used && adjusters.TryGetValue(used, out var product))
            {
                var grams = step.Unit == "mL" ? step.Amount * (product.DensityKgPerLitre ?? 1) : step.Amount;
                taken -= AcidEffect.AlkalinityEquivalents(product.MolPerKg) * grams;
            }
        }

        // By the report in force in the middle of the month; before the first, the first.
        var middle = month.AddDays(14);
        var parts = litres.Select(pair => (Water: all.FirstOrDefault(water => water.Id == pair.Key), Litres: pair.Value))
            .Select(pair => (pair.Water, Source: pair.Water?.Reports.FirstOrDefault(report => report.Entry.SampledOn <= middle)?.Read.Source ?? (pair.Water is { Reports.Count: > 0 } known ? known.Reports[^1].Read.Source : null), pair.Litres))
            .Where(part => part.Source is not null).ToList();
        var total = parts.Sum(part => part.Litres);
        if (total <= 0)
        {
            return null;
        }

        var blend = parts.Aggregate(ComponentAmounts.Zero, (sum, part) => sum.PlusScaled(part.Source!.MolPerKgWater, part.Litres / total));
        return new WaterMonth(
            month, total, [.. parts.OrderByDescending(part => part.Litres).Select(part => new WaterShare(part.Water!.Name, part.Litres / total))],
            AcidEffect.AlkalinityEquivalents(blend) * 1000, AcidFor(blend) ?? 0, taken / total);
    }

    private static IEnumerable<string> Words(List<WaterOverTime> over, List<WaterMonth> months)
    {
        foreach (var water in over.Where(water => water.AcidMeqPerLitre is not null))
        {
            yield return water.AcidMeqPerLitre is > 0.02
                ? FactWords.Say($"A litre of {water.Name} takes {water.AcidMeqPerLitre:0.00} meq of acid to come to pH {ToPH:0.0}, before anything else is in it.")
                : FactWords.Say($"{water.Name} needs no acid to come to pH {ToPH:0.0}.");
        }

        if (months.Count > 2)
        {
            var (most, least) = (months.MaxBy(month => month.AcidNeedMeqPerLitre)!, months.MinBy(month => month.AcidNeedMeqPerLitre)!);
            yield return most.AcidNeedMeqPerLitre - least.AcidNeedMeqPerLitre < 0.1
                ? FactWords.Say($"The blend needed much the same acid all year, {most.AcidNeedMeqPerLitre:0.0} meq/L.")
                : FactWords.Say($"The blend needed most acid in {most.Month:MMMM yyyy} ({most.AcidNeedMeqPerLitre:0.0} meq/L) and least in {least.Month:MMMM yyyy} ({least.AcidNeedMeqPerLitre:0.0}).");
        }

        foreach (var water in over.Where(water => water.Reports.Count > 1))
        {
            var (first, last) = (water.Reports[^2], water.Reports[^1]);
            if (first.AlkalinityMeqPerLitre is { } before && last.AlkalinityMeqPerLitre is { } now && Math.Abs(now - before) > Math.Max(0.1, 0.1 * before))
            {
                yield return FactWords.Say($"{water.Name} reports {now:0.0} meq/L of alkalinity since {last.On:yyyy-MM-dd}, {before:0.0} before.");
            }
        }
    }
}
