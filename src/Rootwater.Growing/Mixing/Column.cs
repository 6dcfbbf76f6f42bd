using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Mixing;

/// <summary>Where a column of the can comes from.</summary>
internal enum ColumnKind
{
    Water,
    Leftover,
    Product,
}

/// <summary>One thing that can go into a can, in whole steps of the tool that measures it.</summary>
internal sealed record Column
{
    public required ColumnKind Kind { get; init; }
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public Product? Product { get; init; }
    public WaterSource? Water { get; init; }

    /// <summary>Amount of one step in <see cref="Unit"/>.</summary>
    public required double Step { get; init; }

    /// <summary>"g", "mL" or "L".</summary>
    public required string Unit { get; init; }

    /// <summary>Grams (or litres of water) in one <see cref="Unit"/>.</summary>
    public required double GramsPerUnit { get; init; }

    /// <summary>Moles brought by one step; for waters per kg of water in one litre of can, see <see cref="CanContents"/>.</summary>
    public required ComponentAmounts MolPerStep { get; init; }

    /// <summary>Most steps there is supply for.</summary>
    public required double MostSteps { get; init; }
    public required double CostPerStep { get; init; }

    /// <summary>One standard deviation of measuring it once, in <see cref="Unit"/>.</summary>
    public required double MeasuringError { get; init; }

    /// <summary>One standard deviation of its contents against what is declared, relative.</summary>
    public required double RelativeUncertainty { get; init; }

    /// <summary>Where more is known than one relative figure: what each cause of doubt does to one step's contents at one standard deviation, moles.</summary>
    public IReadOnlyList<ComponentAmounts> Doubts { get; init; } = [];

    /// <summary>0 for the oldest lot in the cupboard, 1 for the newest.</summary>
    public double LotAge { get; init; }

    /// <summary>The lots it is drawn from, oldest first.</summary>
    public IReadOnlyList<Lot> Lots { get; init; } = [];

    /// <summary>A dose smaller than this many steps cannot be measured well enough; 0 or at least this many.</summary>
    public double LeastStepsWhenUsed { get; init; }

    /// <summary>What using it at all costs beyond any product: a bottle must be made first.</summary>
    public double ExtraWhenUsed { get; init; }

    /// <summary>All of it is in the can already: a can that is being repaired.</summary>
    public bool MustBeAllUsed { get; init; }

    /// <summary>Of the rest of an older can.</summary>
    public double LeftoverBiuretMgPerLitre { get; init; }

    /// <summary>Milligrams of declared biuret in one <see cref="Unit"/>.</summary>
    public double BiuretMgPerUnit => Product is { } product ? GramsPerUnit * (product.BiuretPercent ?? 0) * 10 : LeftoverBiuretMgPerLitre;

    public bool IsLiquidVolume => Kind is not ColumnKind.Product;
}

/// <summary>Builds the columns of a request.</summary>
internal static class Columns
{
    /// <summary>Waters first, then leftovers, then products.</summary>
    public static IReadOnlyList<Column> Of(PlanRequest request) =>
        [.. request.Waters.Select(water => OfWater(water, request.Tools)),
         .. request.Leftovers.Where(leftover => leftover.Litres > 0).Select(leftover => OfLeftover(leftover, request.Tools)),
         .. OfCupboard(request.Cupboard, request.Tools)];

    public static Column OfWater(WaterSource water, Tools tools) => new()
    {
        Kind = ColumnKind.Water,
        Id = water.Id,
        Name = water.Name,
        Water = water,
        Step = tools.WaterStepLitres,
        Unit = "L",
        GramsPerUnit = 1,
        MolPerStep = water.MolPerKgWater.Scaled(tools.WaterStepLitres),
        MostSteps = Math.Floor((water.AvailableLitres ?? 1e6) / tools.WaterStepLitres + 1e-9),
        CostPerStep = (double)water.PricePerLitre * tools.WaterStepLitres,
        MeasuringError = tools.WaterStepLitres / Math.Sqrt(12),
        RelativeUncertainty = water.RelativeUncertainty,
        Doubts = [.. water.Doubts.Select(doubt => doubt.Scaled(tools.WaterStepLitres))],
    };

    // What is in an older can is known no better than it was mixed: 5 % covers a card followed with kitchen tools.
    public static Column OfLeftover(Leftover leftover, Tools tools) => new()
    {
        Kind = ColumnKind.Leftover,
        Id = leftover.CanId,
        Name = leftover.Name,
        Step = tools.WaterStepLitres,
        Unit = "L",
        GramsPerUnit = 1,
        MolPerStep = leftover.MolPerKgWater.Scaled(tools.WaterStepLitres),
        MostSteps = Math.Floor(leftover.Litres / tools.WaterStepLitres + 1e-9),
        CostPerStep = 0,
        MeasuringError = tools.WaterStepLitres / Math.Sqrt(12),
        RelativeUncertainty = 0.05,
        LeftoverBiuretMgPerLitre = leftover.BiuretMgPerLitre,
    };

    private static IEnumerable<Column> OfCupboard(IReadOnlyList<SupplyItem> cupboard, Tools tools)
    {
        var dates = cupboard.SelectMany(item => item.Lots).Select(AgeOf).Where(day => day != DateOnly.MaxValue).Distinct().Order().ToList();
        return cupboard.Select(item => OfProduct(item, tools) with { LotAge = LotAge(item, dates) });
    }

    private static double LotAge(SupplyItem item, List<DateOnly> dates)
    {
        var oldest = item.Lots.Count == 0 ? DateOnly.MaxValue : item.Lots.Min(AgeOf);
        var rank = dates.IndexOf(oldest);
        return rank < 0 || dates.Count < 2 ? 0.5 : rank / (double)(dates.Count - 1);
    }

    private static DateOnly AgeOf(Lot lot) => lot.OpenedOn ?? lot.BoughtOn ?? DateOnly.MaxValue;

    /// <summary>
    /// The same column, dosed only where its measuring error stays within <see cref="MostMeasuringError"/>. A liquid acid or base is left as it
    /// is: it goes in by drops with the pH pen in the can, and the pen, not the syringe, says how much.
    /// </summary>
    public static Column MeasuredWell(Column column) => column.Kind == ColumnKind.Product && !IsTrimmedByPen(column)
        ? column with { LeastStepsWhenUsed = Math.Ceiling(column.MeasuringError / (MostMeasuringError * column.Step) - 1e-9) }
        : column;

    private static bool IsTrimmedByPen(Column column) => column.Product is { Kind: ProductKind.Acid or ProductKind.Base, IsLiquid: true };

    /// <summary>Largest relative measuring error of a dose (one standard deviation); a smaller dose becomes a concentrate or a fuller can.</summary>
    public const double MostMeasuringError = 0.05;

    /// <summary>How many times finer <see cref="Unrounded"/> steps are.</summary>
    public const int Finer = 1000;

    /// <summary>The same product as if it could be measured a thousand times as finely: less than one step of the scale may be wanted.</summary>
    public static Column Unrounded(Column column) => column.Kind != ColumnKind.Product ? column : column with
    {
        Step = column.Step / Finer,
        MolPerStep = column.MolPerStep.Scaled(1.0 / Finer),
        MostSteps = column.MostSteps * Finer,
        CostPerStep = column.CostPerStep / Finer,
        LeastStepsWhenUsed = 0,
        ExtraWhenUsed = 0,
    };

    public static Column OfProduct(SupplyItem item, Tools tools)
    {
        var product = item.Product;
        var (unit, step, error) = product.IsLiquid
            ? ("mL", tools.SyringeStepMillilitres, tools.SyringeErrorMillilitres)
            : ("g", tools.ScaleStepGrams, tools.ScaleErrorGrams);
        var gramsPerUnit = product.DensityKgPerLitre ?? 1;
        var lots = item.Lots.Where(lot => lot.GramsLeft > 0).OrderBy(AgeOf).ToList();
        return new Column
        {
            Kind = ColumnKind.Product,
            Id = product.Id,
            Name = product.Name,
            Product = product,
            Step = step,
            Unit = unit,
            GramsPerUnit = gramsPerUnit,
            MolPerStep = product.MolPerKg.Scaled(step * gramsPerUnit / 1000),
            MostSteps = Math.Floor(item.GramsLeft / (step * gramsPerUnit) + 1e-9),
            CostPerStep = (double)(product.PricePerKg ?? 0) * step * gramsPerUnit / 1000,
            MeasuringError = error,
            RelativeUncertainty = product.RelativeUncertainty,
            Lots = lots,
        };
    }
}

/// <summary>How many steps of each column are in a can of a volume; the totals follow.</summary>
/// <param name="Litres">Filled to this mark.</param>
/// <param name="KgWaterPerLitre">Of the finished can; one figure for a dilute feed at its temperature.</param>
/// <param name="Steps">One for each column.</param>
internal sealed record CanContents(double Litres, double KgWaterPerLitre, IReadOnlyList<double> Steps)
{
    /// <summary>Totals of the can, mol per kg of water. Litres of water count by volume: the last goes in up to the mark.</summary>
    public ComponentAmounts Totals(IReadOnlyList<Column> columns)
    {
        Span<double> totals = stackalloc double[ComponentAmounts.Count];
        for (var j = 0; j < columns.Count; j++)
        {
            if (Steps[j] == 0)
            {
                continue;
            }

            var scale = Steps[j] / Divisor(columns[j], Litres, KgWaterPerLitre);
            var brought = columns[j].MolPerStep.AsSpan();
            for (var c = 0; c < totals.Length; c++)
            {
                totals[c] += brought[c] * scale;
            }
        }

        return ComponentAmounts.FromSpan(totals);
    }

    /// <summary>What a step is divided by to give mol per kg of water in the can.</summary>
    public static double Divisor(Column column, double litres, double kgWaterPerLitre) => column.IsLiquidVolume ? litres : litres * kgWaterPerLitre;
}
