using System.Globalization;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing;

/// <summary>A bottle of concentrate with the column that doses it.</summary>
/// <param name="Recipe">What to weigh.</param>
/// <param name="Column">Dosed by syringe.</param>
internal sealed record Bottle(ConcentrateRecipe Recipe, Column Column);

/// <summary>
/// Designs stock solutions for doses too small to weigh: as few bottles as the chemistry allows, products together only where nothing
/// falls out at the bottle's strength and each stays well inside its solubility.
/// </summary>
internal sealed class ConcentrateDesigner(CanChemistry chemistry, Tools tools)
{
    // Of each dose from the bottle, and of each weighing into it.
    private const double WellMeasured = 0.02;

    // A bottle keeps this far from any mineral's saturation and from a salt's solubility; a cold cupboard takes some of both.
    private const double SaturationMargin = 0.2;
    private const double SolubilityShare = 0.5;

    // Where the table knows no solubility: what nearly every feed salt bears in cold water.
    private const double UnknownSolubilityGramsPerLitre = 50;
    private static readonly double[] s_bottleLitres = [0.1, 0.25, 0.5, 1, 2];

    /// <summary>Makes bottles for some products.</summary>
    /// <param name="wanted">Each product with the grams one can wants of it.</param>
    /// <param name="firstLetter">Name of the first bottle.</param>
    public IReadOnlyList<Bottle> Design(IReadOnlyList<(Column Column, double Grams)> wanted, char firstLetter)
    {
        var groups = new List<List<(Column Column, double Grams)>>();
        foreach (var each in wanted.OrderByDescending(each => each.Grams))
        {
            var group = groups.FirstOrDefault(group => MayJoin(group, each));
            if (group is null)
            {
                groups.Add([each]);
            }
            else
            {
                group.Add(each);
            }
        }

        return [.. groups.Select((group, i) => Make(group, (char)(firstLetter + i), groups)).OfType<Bottle>()];
    }

    // Acids and bases keep their own bottle: the pH is trimmed from it.
    private bool MayJoin(List<(Column Column, double Grams)> group, (Column Column, double Grams) other)
    {
        if (group.Append(other).Any(each => each.Column.Product!.Kind is ProductKind.Acid or ProductKind.Base or ProductKind.Silicate))
        {
            return false;
        }

        List<(Column, double)> together = [.. group, other];
        return Dose(together) is { } millilitres && Worst(together, millilitres).Index < -SaturationMargin;
    }

    // The millilitres that bring the wanted grams: as few as the syringe measures well, more where solubility asks for it.
    private double? Dose(IReadOnlyList<(Column Column, double Grams)> group)
    {
        var least = tools.SyringeErrorMillilitres / WellMeasured;
        foreach (var (column, grams) in group)
        {
            var solubility = column.Product!.IsLiquid ? 500 : SolubilityShare * (column.Product.SolubilityGramsPerLitre ?? UnknownSolubilityGramsPerLitre / SolubilityShare);
            least = Math.Max(least, grams / solubility * 1000);
        }

        return least <= 200 ? Math.Ceiling(least * 2) / 2 : null;
    }

    /// <summary>The nearest mineral in a bottle, and its index at the bottle's strength.</summary>
    private Moment Worst(IReadOnlyList<(Column Column, double Grams)> group, double millilitres)
    {
        var totals = group.Aggregate(ComponentAmounts.Zero, (sum, each) => sum.PlusScaled(each.Column.Product!.MolPerKg, each.Grams / millilitres / chemistry.KgWaterPerLitre));
        return CanChemistry.Run(totals, new() { Temperature = chemistry.Temperature }) is not { } solution
            ? new Moment(null, 10)
            : CanChemistry.ClosestIn(solution) is { } closest ? new Moment(closest.Mineral, closest.Index) : Moment.Clear;
    }

    private Bottle? Make(List<(Column Column, double Grams)> group, char letter, List<List<(Column Column, double Grams)>> all)
    {
        if (Dose(group) is not { } millilitres)
        {
            return null;
        }

        var worst = Worst(group, millilitres);
        while (worst.Index > -SaturationMargin && millilitres < 200)
        {
            millilitres *= 1.5;
            worst = Worst(group, millilitres);
        }

        // The bottle is as large as it takes to weigh each product well, and no larger than the supply.
        foreach (var litres in s_bottleLitres)
        {
            var weigh = group.Select(each => (each.Column, Grams: RoundTo(each.Grams / millilitres * litres * 1000, each.Column))).ToList();
            var measuredWell = weigh.All(each => each.Column.MeasuringError * each.Column.GramsPerUnit <= WellMeasured * each.Grams);
            var inSupply = weigh.All(each => each.Grams <= each.Column.MostSteps * each.Column.Step * each.Column.GramsPerUnit);
            if (!inSupply)
            {
                return null;
            }

            if (measuredWell && litres * 1000 >= 2 * millilitres)
            {
                return new Bottle(Recipe(weigh, letter, litres, worst, all), ColumnOf(weigh, letter, litres));
            }
        }

        return null;
    }

    private static double RoundTo(double grams, Column column)
    {
        var step = column.Step * column.GramsPerUnit;
        return Math.Max(step, Math.Round(grams / step) * step);
    }

    private static ConcentrateRecipe Recipe(List<(Column Column, double Grams)> weigh, char letter, double litres, Moment worst, List<List<(Column Column, double Grams)>> all)
    {
        var products = weigh.Select(each => each.Column.Product!).ToList();
        var apart = all.Count > 1 ? "; kept apart from the other bottle because together at this strength something would fall out or the pH could not be trimmed alone" : "";
        var index = double.IsFinite(worst.Index) ? string.Create(CultureInfo.InvariantCulture, $"; at this strength {worst.Mineral.ToString()!.ToLowerInvariant()} stands at {worst.Index:+0.0;-0.0}") : "";
        return new ConcentrateRecipe
        {
            Name = letter.ToString(),
            Litres = litres,
            Weigh = [.. weigh.Select(each => (each.Column.Id, each.Column.Name, Math.Round(each.Grams, 4)))],
            WorstSaturationIndex = double.IsFinite(worst.Index) ? worst.Index : null,
            Reason = string.Create(CultureInfo.InvariantCulture, $"the can wants less of {string.Join(" and ", products.Select(product => product.Name))} than is measured to within {Columns.MostMeasuringError:0 %}; dissolve in the softest water and fill up to {litres:0.##} L") + index + apart,
            Cautions = SafetyTexts.ShortForConcentrate(products),
        };
    }

    private Column ColumnOf(List<(Column Column, double Grams)> weigh, char letter, double litres)
    {
        // Solids take up roughly 0.4 mL a gram; the millilitres are dosed, so the density only shows in the books.
        var gramsPerLitre = weigh.Sum(each => each.Grams) / litres;
        var density = chemistry.KgWaterPerLitre + 0.0006 * gramsPerLitre;
        var molPerMillilitre = weigh.Aggregate(ComponentAmounts.Zero, (sum, each) => sum.PlusScaled(each.Column.Product!.MolPerKg, each.Grams / litres / 1e6));
        var product = new Product
        {
            Id = Guid.CreateVersion7(),
            Name = $"concentrate {letter}",
            Kind = weigh[0].Column.Product!.Kind is ProductKind.Acid or ProductKind.Base ? weigh[0].Column.Product!.Kind : ProductKind.Concentrate,
            MolPerKg = molPerMillilitre.Scaled(1000 / density),
            DensityKgPerLitre = density,
            RelativeUncertainty = Math.Sqrt(weigh.Max(each => Math.Pow(each.Column.RelativeUncertainty, 2) + Math.Pow(each.Column.MeasuringError * each.Column.GramsPerUnit / each.Grams, 2)) + 1e-4),
            PHUncertainty = weigh.Max(each => each.Column.Product!.PHUncertainty),
            // Of a gram of concentrate in a litre: each product's own, for the share of it that is there.
            EcUncertaintyMicrosiemensPerCm = Math.Sqrt(weigh.Sum(each => Math.Pow(each.Column.Product!.EcUncertaintyMicrosiemensPerCm * each.Grams / (litres * density * 1000), 2))),
            BiuretPercent = weigh.Any(each => each.Column.Product!.BiuretPercent > 0) ? weigh.Sum(each => (each.Column.Product!.BiuretPercent ?? 0) * each.Grams) / (litres * density * 1000) : null,
            Hazards = weigh.Aggregate(Hazards.None, (sum, each) => sum | each.Column.Product!.Hazards),
        };
        var cost = weigh.Sum(each => each.Column.CostPerStep * each.Grams / (each.Column.Step * each.Column.GramsPerUnit)) / (litres * 1000);
        return Columns.MeasuredWell(new Column
        {
            Kind = ColumnKind.Product,
            Id = product.Id,
            Name = product.Name,
            Product = product,
            Step = tools.SyringeStepMillilitres,
            Unit = "mL",
            GramsPerUnit = density,
            MolPerStep = molPerMillilitre.Scaled(tools.SyringeStepMillilitres),
            MostSteps = Math.Floor(litres * 1000 / tools.SyringeStepMillilitres),
            CostPerStep = cost * tools.SyringeStepMillilitres,
            MeasuringError = tools.SyringeErrorMillilitres,
            RelativeUncertainty = product.RelativeUncertainty,
            ExtraWhenUsed = PlanWeights.Concentrate,
        });
    }
}
