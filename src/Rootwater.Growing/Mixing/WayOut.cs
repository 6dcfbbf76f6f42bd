using System.Globalization;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Mixing;

/// <summary>Finds what would meet a want that a plan does not meet, by planning again with one thing more.</summary>
/// <remarks>Each try is the relaxed can (fractions of steps) at the chemistry of the plan's own can: what that cannot meet, no weighing can.</remarks>
/// <param name="chemistry">At the can's temperature.</param>
/// <param name="request">What was asked.</param>
/// <param name="timeIsUp">From then on only the rounding and the supply are looked at, and the answer says so.</param>
internal sealed class WayOut(CanChemistry chemistry, PlanRequest request, Func<bool> timeIsUp)
{
    // What a grower can buy, a few to a class; plain salts by formula, liquids by formula and strength.
    private static readonly (string Class, string Name, string Formula, double Percent)[] s_classes =
    [
        ("a calcium product", "calcium nitrate", "Ca(NO3)2·4H2O", 100), ("a potassium product", "potassium nitrate", "KNO3", 100),
        ("a potassium product without nitrogen", "potassium sulfate", "K2SO4", 100), ("a phosphate", "monopotassium phosphate", "KH2PO4", 100),
        ("a magnesium product", "magnesium sulfate heptahydrate", "MgSO4·7H2O", 100), ("a magnesium product with nitrate", "magnesium nitrate", "Mg(NO3)2·6H2O", 100),
        ("an ammonium product", "ammonium nitrate", "NH4NO3", 100), ("urea", "urea", "CO(NH2)2", 100), ("a calcium product without nitrogen", "calcium chloride", "CaCl2·2H2O", 100),
        ("an acid", "phosphoric acid", "H3PO4", 24), ("an acid without phosphorus", "nitric acid", "HNO3", 10), ("a base", "potassium hydroxide", "KOH", 10),
        ("an iron chelate", "iron EDTA", "NaFeEDTA", 100), ("a boron product", "boric acid", "H3BO3", 100), ("a manganese product", "manganese sulfate", "MnSO4·H2O", 100),
        ("a zinc product", "zinc sulfate", "ZnSO4·7H2O", 100), ("a copper product", "copper sulfate", "CuSO4·5H2O", 100), ("a molybdate", "sodium molybdate", "Na2MoO4·2H2O", 100),
        ("a silicate", "potassium silicate", "K2SiO3", 30),
    ];

    private static readonly Lazy<IReadOnlyList<(string Class, Column Column)>> s_products = new(() =>
        [.. s_classes.Select(each =>
        {
            var formula = Formula.Parse(each.Formula);
            var product = new Product { Id = Guid.CreateVersion7(), Name = each.Name, Kind = ProductKind.Salt, MolPerKg = formula.ComponentsPerMole.Scaled(10 * each.Percent / formula.GramsPerMole) };
            return ($"{each.Class} (such as {each.Name})", Columns.OfProduct(new SupplyItem(product, [new Lot { Id = Guid.CreateVersion7(), ProductId = product.Id, GramsLeft = 1e6 }]), new Tools()));
        })]);

    private readonly Dictionary<PlannedCan, Linearisation?> _lines = new(ReferenceEqualityComparer.Instance);

    private static readonly WaterSource s_pure = new() { Id = Guid.CreateVersion7(), Name = "rain or reverse osmosis water", MolPerKgWater = ComponentAmounts.Zero };

    /// <summary>Every want the cans leave unmet, with what would meet it.</summary>
    /// <param name="cans">The plan's cans.</param>
    /// <param name="alone">Whether a serving's want would be met in a can of its own, were there one more.</param>
    public IReadOnlyList<UnmetWant> Of(IReadOnlyList<PlannedCan> cans, Func<int, bool> alone)
    {
        var unmet = new List<UnmetWant>();
        foreach (var can in cans)
        {
            for (var i = 0; i < can.Groups.Count; i++)
            {
                var group = can.Groups[i];
                foreach (var goal in CanGoal.For([(group, 1)]).Goals)
                {
                    var value = CanGoal.Value(goal.Measure, can.Can.Solved);
                    if (!goal.Band.Holds(value))
                    {
                        var (what, unit) = CanGoal.Words(goal.Measure);
                        unmet.Add(new UnmetWant(group.Name, what, value, goal.Band.Low, goal.Band.High, unit, For(can, goal, value, can.Block.Count > 1 && alone(can.Block[i]))));
                    }
                }
            }
        }

        // A group split over cans says it once.
        return [.. unmet.DistinctBy(each => (each.Group, each.What, Math.Round(each.Reached, 3)))];
    }

    private string For(PlannedCan can, Goal goal, double value, bool aloneWouldDo)
    {
        var waysOut = new List<string>();
        var columns = can.Can.Columns;
        if (Met(can, goal, columns, withSupply: true))
        {
            waysOut.Add("only the steps of scale, syringe and water stand in the way: a finer scale, a fuller can, or a weaker bottle of the acid or base");
        }
        else if (Met(can, goal, columns, withSupply: false))
        {
            waysOut.Add("there is not enough left of " + string.Join(" or ", Enumerable.Range(0, columns.Count).Where(j => columns[j].Kind == ColumnKind.Product && can.Can.Contents.Steps[j] >= columns[j].MostSteps - 1).Select(j => columns[j].Name).DefaultIfEmpty("one of the products")));
        }
        else
        {
            if (Met(can, goal, [.. columns, Columns.OfWater(s_pure, request.Tools)], withSupply: false))
            {
                waysOut.Add($"blend in {s_pure.Name}");
            }

            waysOut.AddRange(s_products.Value
                .Where(each => !timeIsUp() && Helps(can, goal, value, each.Column) && columns.All(column => column.Name != each.Column.Name) && Met(can, goal, [.. columns, each.Column], withSupply: false))
                .Select(each => each.Class).Take(2));
        }

        if (aloneWouldDo)
        {
            waysOut.Add("one more can, so that this group does not share");
        }

        return waysOut.Count == 0
            ? timeIsUp() ? "the time was up before anything that would meet it was found; plan again with more time" : "no other water and no single product meets it beside the other wants and hard limits: look at whether its band and theirs can hold together"
            : "What would meet it: " + string.Join("; or ", waysOut) + ".";
    }

    private bool Met(PlannedCan can, Goal goal, IReadOnlyList<Column> columns, bool withSupply)
    {
        // The want in question weighs most here: the question is whether it can be met at all without leaving another band.
        var goals = new CanGoal([goal with { Weight = 100 }, .. can.Goal.Goals.Where(each => each.Measure != goal.Measure || each.Band != goal.Band)], can.Goal.Limits);
        IReadOnlyList<Column> capped = [.. columns.Select(column => Columns.Unrounded(withSupply || column.Kind == ColumnKind.Leftover ? column : column with { MostSteps = 1e9 }))];
        var litres = can.Can.Contents.Litres;
        if (LineOf(can) is not { } line || new CanModel(capped, goals, litres, chemistry.KgWaterPerLitre, line, new EdgeFactors()).Relax(chemistry.Work) is not { } doses)
        {
            return false;
        }

        var totals = new CanContents(litres, chemistry.KgWaterPerLitre, doses.Steps).Totals(capped);
        var others = can.Goal.Goals.Sum(each => line.Outside(each, totals));
        var before = can.Goal.Goals.Sum(each => each.Outside(CanGoal.Value(each.Measure, can.Can.Solved)));
        return line.Outside(goal, totals) < 1e-4 && others < before - 1e-4;
    }

    // One linearisation per can for everything that could be tried in it.
    private Linearisation? LineOf(PlannedCan can)
    {
        if (!_lines.TryGetValue(can, out var line))
        {
            line = chemistry.Linearise(can.Can.Solved.Totals, can.Goal.WorkingPH, can.Goal.PHLevels, CanOptimiser.Movable([.. can.Can.Columns, .. s_products.Value.Select(each => each.Column)]));
            _lines[can] = line;
        }

        return line;
    }

    // What does not move the want the right way need not be tried: more of a nutrient that is short, protons for a pH that is high.
    private bool Helps(PlannedCan can, Goal goal, double value, Column column)
    {
        var measure = goal.IsPH ? new Measure(MeasureKind.ProtonsShort, 0, goal.Band.Ideal) : goal.Measure;
        var slope = LineOf(can)?.Measures[measure].Slope(column.MolPerStep) ?? 0;
        return value < goal.Band.Low ? slope > 1e-9 : slope < -1e-9;
    }

    /// <summary>Why not even an empty can keeps the hard limits, and what would.</summary>
    public string Limits(VerifiedCan? nearest)
    {
        if (nearest is null)
        {
            return "no can keeps the hard limits with these waters; blend in rain or reverse osmosis water";
        }

        var words = nearest.Edges.Where(edge => edge.Broken).Select(edge => edge.Limit.Limit <= 0
            ? $"{edge.Limit.Name} is not allowed at all and cannot be kept out"
            : string.Create(CultureInfo.InvariantCulture, $"{edge.Limit.Name} stands at {edge.Edge:0.##} at its upper error edge, {edge.Edge / edge.Limit.Limit:0.0} times the limit of {edge.Limit.Limit:0.##}; rain or reverse osmosis water for at least {Math.Ceiling(100 * (1 - edge.Limit.Limit / edge.Edge)):0} % of the can would bring it in"));
        var text = string.Join("; ", words);
        return text.Length > 0 ? text : "the search found no can within the hard limits in the time it had; give it longer, or blend in rain or reverse osmosis water";
    }
}
