using Microsoft.EntityFrameworkCore;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// What of a can's card says what went in and what was read: as planned where it was read before any repair, else as it is now. A card is some forty times as large, and years of them are kept.
/// </summary>
internal sealed record KeptCan(
    Guid Id, string Letter, string Vessel, double Litres, double CardCelsius, ComponentAmounts MolPerKgWater, IReadOnlyList<KeptStep> Steps, DateOnly MixedOn, long Position,
    IReadOnlyList<RepairAddition> Repairs, ReadInCan? Ec, ReadInCan? PH)
{
    /// <param name="card">As mixed.</param>
    /// <param name="mixedOn">When.</param>
    /// <param name="position">Its place in the ledger.</param>
    /// <param name="uses">What each step took from lots.</param>
    public static KeptCan Of(CanPlan card, DateOnly mixedOn, long position, ILookup<int, StepUse> uses) => new(
        card.Id, card.Letter, card.Vessel, card.Litres, card.TemperatureCelsius, card.MolPerKgWater, card.Steps.Select(step => KeptStep.Of(step, [.. uses[step.Number]])).ToArray(), mixedOn, position, [], null, null);

    /// <summary>When it was read, else the noon of the day it was mixed; a reading typed in days later is of the day of mixing.</summary>
    public DateTimeOffset At
    {
        get
        {
            var noon = new DateTimeOffset(MixedOn.ToDateTime(new TimeOnly(12, 0)), TimeSpan.Zero);
            var read = new[] { Ec?.At, PH?.At }.Max();
            return read is { } at && Math.Abs((at - noon).TotalDays) < 2 ? at : noon;
        }
    }
}

/// <summary>What a step took from: a water, an older can, a product of a lot. The same for hundreds of cans, and kept once.</summary>
internal sealed record StepSource(string What, string Unit, Guid? WaterId, Guid? FromCanId, Guid? ProductId, Guid? LotId);

/// <summary>What a step put in: a water, some of an older can, a dose, or of a concentrate its share of each lot that was weighed into the bottle.</summary>
internal readonly record struct KeptStep(StepSource Source, double Amount, IReadOnlyList<StepUse> OfConcentrate)
{
    public string What => Source.What;

    public string Unit => Source.Unit;

    public Guid? WaterId => Source.WaterId;

    public Guid? FromCanId => Source.FromCanId;

    public Guid? ProductId => Source.ProductId;

    public Guid? LotId => Source.LotId;

    public static KeptStep Of(MixStep step, IReadOnlyList<StepUse> uses) => new(
        new StepSource(step.What, step.Unit, step.WaterId, step.FromCanId, step.ProductId, step.LotId ?? (uses.Count > 0 ? uses[0].LotId : null)), step.Amount,
        step.ProductId is not null || step.Kind is MixStepKind.Water or MixStepKind.Leftover || uses.Count == 0 ? [] : uses);
}

/// <summary>A can as the reconciliation takes it, and what its EC pen shows of a true EC at 25 °C, as a factor.</summary>
internal sealed record BookedCan(CanRecord Record, double EcShown);

/// <summary>One pen's reading of a finished can.</summary>
internal sealed record ReadInCan(double Value, double? Celsius, Guid? PenId, DateTimeOffset At);

/// <summary>What cans are judged by besides their cards: products as they were understood then, waters' reports, tools, lots, pens.</summary>
internal sealed class CanWorld
{
    public required Tools Tools { get; init; }
    public required ILookup<Guid, (long Position, Product Product)> Products { get; init; }
    public required ILookup<Guid, WaterReportRow> Reports { get; init; }
    public required IReadOnlyDictionary<Guid, string> Waters { get; init; }
    public required IReadOnlyDictionary<Guid, Guid> ProductOfLot { get; init; }
    public required IReadOnlyDictionary<Guid, DateOnly?> LotBoughtOn { get; init; }
    public required PensInLedger Pens { get; init; }

    /// <summary>A product as it was understood when a can was planned.</summary>
    public Product? ProductAt(Guid id, long position)
    {
        var all = Products[id];
        return all.LastOrDefault(each => each.Position <= position).Product ?? all.FirstOrDefault().Product;
    }

    /// <summary>A water by the newest report that was there when a can was planned, else its first.</summary>
    public WaterSource? WaterAt(Guid id, long position) => (BenchReader.Newest(Reports[id].Where(report => report.Position <= position)) ?? Reports[id].OrderBy(report => report.SampledOn).FirstOrDefault())?.Source;
}

/// <summary>From kept cans to what the reconciliation takes in.</summary>
internal static class CanRecords
{
    /// <summary>Cans from the database.</summary>
    /// <param name="db">The bench.</param>
    /// <param name="only">These alone; all when null.</param>
    /// <param name="cancel">Stops reading.</param>
    public static async Task<List<KeptCan>> ReadAsync(LedgerContext db, IReadOnlyCollection<Guid>? only, CancellationToken cancel)
    {
        var (cans, steps, readings) = (db.Cans.AsQueryable(), db.CanSteps.AsQueryable(), db.Readings.Where(reading => reading.CorrectedBy == null));
        if (only is not null)
        {
            (cans, steps, readings) = (cans.Where(can => only.Contains(can.Id)), steps.Where(step => only.Contains(step.CanId)), readings.Where(reading => only.Contains(reading.CanId)));
        }

        // Row by row: the cards of ten years together are hundreds of megabytes.
        var stepsOf = new Dictionary<Guid, List<(int Number, long? DoneAt, IReadOnlyList<StepUse> Uses)>>();
        await foreach (var step in steps.Select(step => new { step.CanId, step.Number, step.DoneAt, step.Uses }).AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (!stepsOf.TryGetValue(step.CanId, out var list))
            {
                stepsOf[step.CanId] = list = [];
            }

            list.Add((step.Number, step.DoneAt, step.Uses));
        }

        var readingsOf = new Dictionary<Guid, List<(long Position, DateTimeOffset At, CanRead Said)>>();
        var said = from reading in readings join fact in db.Facts on reading.Id equals fact.Id orderby reading.Position select new { reading.CanId, reading.Position, reading.RecordedMicroseconds, fact.Kind, fact.Version, fact.Payload };
        await foreach (var each in said.AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (!readingsOf.TryGetValue(each.CanId, out var list))
            {
                readingsOf[each.CanId] = list = [];
            }

            list.Add((each.Position, DateTimeOffset.UnixEpoch.AddTicks(each.RecordedMicroseconds * TimeSpan.TicksPerMicrosecond), (CanRead)FactKinds.Read(each.Kind, each.Version, each.Payload)));
        }

        var (kept, words, sources) = (new List<KeptCan>(), new HashSet<string>(StringComparer.Ordinal), new HashSet<StepSource>());
        await foreach (var can in cans.AsAsyncEnumerable().WithCancellation(cancel))
        {
            kept.Add(Shared(Kept(can, stepsOf.GetValueOrDefault(can.Id, []), readingsOf.GetValueOrDefault(can.Id, [])), words, sources));
        }

        return kept;
    }

    private static KeptCan Kept(CanRow can, List<(int Number, long? DoneAt, IReadOnlyList<StepUse> Uses)> steps, List<(long Position, DateTimeOffset At, CanRead Said)> readings)
    {
        var last = can.Card.Steps.Count == 0 ? 0 : can.Card.Steps.Max(step => step.Number);
        var finished = readings.Where(reading => reading.Said.AfterStep is null || reading.Said.AfterStep >= last).ToList();
        var repairedAt = steps.Where(step => step.Number > last).Min(step => step.DoneAt);

        // What was read before a repair is what tells of the card; a can read only once it was mended tells of all that went in.
        var before = finished.Where(reading => !(reading.Position > repairedAt)).ToList();
        var asPlanned = before.Count > 0 || can.Card.Repairs.Count == 0;
        var counted = asPlanned ? before : finished;
        ReadInCan? Last(Func<CanRead, double?> of, Func<CanRead, Guid?> pen) => counted.LastOrDefault(reading => of(reading.Said) is not null) is { Said: not null } found
            ? new ReadInCan(of(found.Said)!.Value, found.Said.TemperatureCelsius, pen(found.Said), found.At)
            : null;
        var uses = steps.SelectMany(step => step.Uses.Select(use => (step.Number, use))).ToLookup(each => each.Number, each => each.use);
        return KeptCan.Of(asPlanned ? RepairedCan.AsPlanned(can.Card) : can.Card, can.MixedOn, can.Position, uses) with
        {
            Repairs = asPlanned ? [] : [.. can.Card.Repairs.SelectMany(repair => repair.Additions)],
            Ec = Last(said => said.EcMicrosiemensPerCm, said => said.EcPenId),
            PH = Last(said => said.PH, said => said.PHPenId),
        };
    }

    // The same few letters, vessels and names in every can: one text of each.
    private static KeptCan Shared(KeptCan can, HashSet<string> words, HashSet<StepSource> sources) => can with
    {
        Letter = One(words, can.Letter),
        Vessel = One(words, can.Vessel),
        Steps = can.Steps.Select(step => step with { Source = One(sources, step.Source) }).ToArray(),
    };

    private static T One<T>(HashSet<T> kept, T each)
    {
        if (kept.TryGetValue(each, out var known))
        {
            return known;
        }

        kept.Add(each);
        return each;
    }

    /// <summary>The record of a can; null where nothing that it was filled with is known any more.</summary>
    public static BookedCan? Of(KeptCan can, CanWorld world, IReadOnlyDictionary<Guid, KeptCan> cans)
    {
        var waters = Waters(can, world, cans).GroupBy(water => water.WaterId).Select(group => group.First() with { Litres = group.Sum(water => water.Litres) }).Where(water => water.Litres > 0).ToList();
        if (waters.Count == 0 || !(can.Litres is > 0 and <= 1000))
        {
            return null;
        }

        var celsius = can.Ec?.Celsius ?? can.PH?.Celsius ?? can.CardCelsius;
        var (ecPen, phPen) = (world.Pens.Used(PenKind.Ec, can.Ec?.PenId, can.At), world.Pens.Used(PenKind.PH, can.PH?.PenId, can.At));
        // In terms of a perfect pen at 25 °C; what no pen reads in a feed is left out rather than believed.
        var shown = ShownShare(can.MolPerKgWater, celsius, ecPen, world.Tools);
        var ec = can.Ec?.Value / shown;
        var record = new CanRecord
        {
            CanId = can.Id,
            MixedAt = can.At,
            Litres = can.Litres,
            VesselId = can.Vessel,
            Doses = [.. Doses(can, world).Where(dose => dose.Grams > 0)],
            Waters = waters,
            Celsius = Math.Clamp(celsius, 1, 45),
            MeasuredEcMicrosiemensPerCm = ec is >= 2 and <= 20000 ? ec : null,
            EcPenId = ecPen?.Id.ToString() ?? PensInLedger.NoEcPen,
            EcPenName = ecPen?.Name,
            MeasuredPH = can.PH is { Value: >= 2 and <= 12 } ph ? ph.Value : null,
            PHPenId = phPen?.Id.ToString() ?? PensInLedger.NoPHPen,
            PHPenName = phPen?.Name,
        };
        return new BookedCan(record, shown);
    }

    /// <summary>What a pen without error shows of a true EC at 25 °C, as a factor.</summary>
    public static double ShownShare(ComponentAmounts molPerKgWater, double celsius, Pen? pen, Tools tools) =>
        Pen.ShownShare(molPerKgWater, Math.Clamp(celsius, 1, 45), pen?.CompensationPerCelsius ?? tools.EcPenCompensationPerCelsius, pen?.ReferenceCelsius ?? 25);

    private static IEnumerable<CanWater> Waters(KeptCan can, CanWorld world, IReadOnlyDictionary<Guid, KeptCan> cans)
    {
        foreach (var step in can.Steps)
        {
            if (step.WaterId is { } water && world.WaterAt(water, can.Position) is { } source)
            {
                yield return new CanWater(water.ToString(), world.Waters.GetValueOrDefault(water, step.What), step.Amount, source.MolPerKgWater, source.RelativeUncertainty);
            }
            else if (step.FromCanId is { } earlier && cans.GetValueOrDefault(earlier) is { } from)
            {
                // What is in an older can is known no better than it was mixed.
                yield return new CanWater(earlier.ToString(), step.What, step.Amount, from.MolPerKgWater, 0.05);
            }
        }

        foreach (var added in can.Repairs)
        {
            if (added.WaterId is { } water && world.WaterAt(water, can.Position) is { } source)
            {
                yield return new CanWater(water.ToString(), world.Waters.GetValueOrDefault(water, added.What), added.Amount, source.MolPerKgWater, source.RelativeUncertainty);
            }
        }
    }

    private static IEnumerable<CanDose> Doses(KeptCan can, CanWorld world)
    {
        foreach (var step in can.Steps)
        {
            if (step.ProductId is { } productId && world.ProductAt(productId, can.Position) is { } product)
            {
                yield return Dose(product, step.LotId, step.Amount, step.Unit, world.Tools);
                continue;
            }

            // A dose of concentrate takes its share of everything that was weighed into the bottle; the syringe measures them all.
            foreach (var use in step.OfConcentrate)
            {
                if (world.ProductOfLot.TryGetValue(use.LotId, out var of) && world.ProductAt(of, can.Position) is { } part)
                {
                    yield return Dose(part, use.LotId, use.Grams, "g", world.Tools) with
                    {
                        ToolId = Syringe,
                        ByVolume = true,
                        MeasuringErrorGrams = use.Grams * Math.Min(0.1, world.Tools.SyringeErrorMillilitres / Math.Max(0.1, step.Amount)),
                    };
                }
            }
        }

        foreach (var added in can.Repairs)
        {
            if (added.ProductId is { } productId && world.ProductAt(productId, can.Position) is { } product)
            {
                yield return Dose(product, null, added.Amount, added.Unit, world.Tools);
            }
        }
    }

    private const string Scale = "scale", Syringe = "syringe";

    private static CanDose Dose(Product product, Guid? lot, double amount, string unit, Tools tools)
    {
        var (byVolume, density) = (unit == "mL", product.DensityKgPerLitre ?? 1);
        return new CanDose
        {
            ProductId = product.Id,
            LotId = lot ?? product.Id,
            Name = product.Name,
            Grams = byVolume ? amount * density : amount,
            MolPerKg = product.MolPerKg,
            ToolId = byVolume ? Syringe : Scale,
            ByVolume = byVolume,
            MeasuringErrorGrams = byVolume ? tools.SyringeErrorMillilitres * density : tools.ScaleErrorGrams,
            RelativeUncertainty = Math.Sqrt(Math.Pow(product.RelativeUncertainty, 2) + Math.Pow(OpenSalts(product), 2)),
            PHUncertainty = product.PHUncertainty,
            Hygroscopic = Hygroscopy.IsHygroscopic(product),
        };
    }

    private static readonly System.Runtime.CompilerServices.ConditionalWeakTable<Product, object> s_openSalts = [];

    // What a label leaves open of the EC, because it does not say which salts bring what it declares, as a share of what a gram of it conducts.
    private static double OpenSalts(Product product) => product.EcUncertaintyMicrosiemensPerCm <= 0 ? 0 : (double)s_openSalts.GetValue(product, each =>
        EquilibriumSolver.Solve(each.MolPerKg.Scaled(1e-3), SolveConditions.Default).Solution is { } gram && gram.ConductivityAt25MicrosiemensPerCm() > 1
            ? each.EcUncertaintyMicrosiemensPerCm / gram.ConductivityAt25MicrosiemensPerCm()
            : 0.0);
}
