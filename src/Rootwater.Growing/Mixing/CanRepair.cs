using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Mixing;

/// <summary>One thing to add to put a can right.</summary>
/// <param name="What">Name of the product or water.</param>
/// <param name="ProductId">The product, or null.</param>
/// <param name="WaterId">The water, or null.</param>
/// <param name="Amount">In <paramref name="Unit"/>.</param>
/// <param name="Unit">"g", "mL" or "L".</param>
/// <param name="Reason">Why.</param>
/// <param name="Cautions">Short cautions for handling it.</param>
public sealed record RepairAddition(string What, Guid? ProductId, Guid? WaterId, double Amount, string Unit, string Reason, IReadOnlyList<string> Cautions);

/// <summary>A repair of this very can; no additions where none is needed or none is possible, <see cref="Words"/> says which.</summary>
public sealed record CanRepairResult
{
    public required IReadOnlyList<RepairAddition> Additions { get; init; }

    /// <summary>What the grower's pens should read after the repair (EC, µS/cm); null without additions.</summary>
    public required Expected? EcMicrosiemensPerCm { get; init; }
    public required Expected? PH { get; init; }

    /// <summary>In a sentence or two.</summary>
    public required string Words { get; init; }
}

/// <summary>What there is to repair with.</summary>
public sealed record RepairMeans
{
    public required IReadOnlyList<SupplyItem> Cupboard { get; init; }
    public required IReadOnlyList<WaterSource> Waters { get; init; }
    public Tools Tools { get; init; } = new();

    /// <summary>The most the vessel holds, litres; water can only be added up to it. Null: nothing above what is in it.</summary>
    public double? VesselLitres { get; init; }
}

/// <summary>Repairs a can that reads wrong.</summary>
/// <remarks>
/// Two readings cannot say which dose went wrong. The state taken for true is the card's, its strength scaled until the EC is what was read and
/// its protons shifted until the pH is: the dilution that explains the readings best. Its error is taken as 5 % of everything in it.
/// </remarks>
public static class CanRepair
{
    private const int MostAdditions = 3;
    private const int DilutionsTried = 6;

    // A pen that is off by more than this was not reading this can, or the can is not this card's.
    private const double MostFactor = 2.5;

    /// <summary>
    /// Finds what is most likely in the can from what the pens read, and plans the additions that bring it back into its bands without breaking a hard limit.
    /// </summary>
    /// <param name="plan">The can's card.</param>
    /// <param name="means">Cupboard, waters and tools.</param>
    /// <param name="measuredEcMicrosiemensPerCm">As the grower's own pen shows it; null where not read.</param>
    /// <param name="measuredPH">0 to 14; null where not read.</param>
    /// <exception cref="ArgumentOutOfRangeException">A reading no pen can show.</exception>
    public static CanRepairResult Offer(CanPlan plan, RepairMeans means, double? measuredEcMicrosiemensPerCm, double? measuredPH)
    {
        ArgumentNullException.ThrowIfNull(means);
        if (CanCheck.Judge(plan, means.Tools, measuredEcMicrosiemensPerCm, measuredPH).Agrees)
        {
            return Only("The pens agree with the card within their errors: nothing to repair.");
        }

        var chemistry = new CanChemistry(Temperature.FromCelsius(plan.TemperatureCelsius));
        var factor = CanCheck.PenFactor(plan, means.Tools);
        var target = measuredEcMicrosiemensPerCm / factor;
        if (StateFrom(plan, chemistry, target, measuredPH) is not { } state)
        {
            return Only("No dilution of this card explains the readings. Check the pens in their standards first; if they hold, something else is in the can: keep it off the plants and use it up outdoors on what bears it, diluted.");
        }

        var goal = GoalOf(plan);
        var here = new CanOptimiser(chemistry, [StateColumn(plan, state, means.Tools)], goal, plan.Litres, 0.01).Verify([Math.Round(plan.Litres / means.Tools.WaterStepLitres)]);
        if (here is { IsAllowed: true } && AllMet(plan, here))
        {
            return Only("The can is not what the card says, but every band is still met: pour it as it is, and find out why before the next one.");
        }

        var best = Best(plan, means, chemistry, state, goal);
        return best is null ? Advice(plan, means, chemistry, state) : Result(plan, means, best, factor);
    }

    /// <summary>
    /// What is in a can once the grower has added something, whatever was offered: the state that explains what the pens read, and on top of it what
    /// went in. Nothing is refused for breaking a limit, for it is in the can already; that is said.
    /// </summary>
    /// <param name="plan">The can's card.</param>
    /// <param name="means">Cupboard, waters and tools.</param>
    /// <param name="measuredEcMicrosiemensPerCm">What the pens read before the repair.</param>
    /// <param name="measuredPH">0 to 14; null where not read.</param>
    /// <param name="added">Products and waters by id, with amounts in their own unit (g, mL or L).</param>
    /// <exception cref="ArgumentException">Something added is not there to add, or an amount cannot be; the message says what would be accepted.</exception>
    public static (CanFigures After, IReadOnlyList<RepairAddition> Additions, IReadOnlyList<string> Warnings) Done(
        CanPlan plan, RepairMeans means, double? measuredEcMicrosiemensPerCm, double? measuredPH, IReadOnlyList<(Guid Id, double Amount)> added)
    {
        var chemistry = new CanChemistry(Temperature.FromCelsius(plan.TemperatureCelsius));
        if (StateFrom(plan, chemistry, measuredEcMicrosiemensPerCm / CanCheck.PenFactor(plan, means.Tools), measuredPH) is not { } state)
        {
            throw new ArgumentException("The readings cannot be those of this can, so what it holds after a repair cannot be computed: check the pens and read again.");
        }

        var present = StateColumn(plan, state, means.Tools) with { MostSteps = plan.Litres / means.Tools.WaterStepLitres };
        List<(Column Column, double Amount)> doses = [.. added.Select(each => (ColumnOf(each.Id, means), each.Amount))];
        var litres = plan.Litres + doses.Where(dose => dose.Column.Kind == ColumnKind.Water).Sum(dose => dose.Amount);
        foreach (var (column, amount) in doses)
        {
            var most = column.Kind == ColumnKind.Water ? Math.Max(0, (means.VesselLitres ?? double.PositiveInfinity) - plan.Litres) : MostPerLitre * litres;
            if (!(amount > 0 && amount <= most + 1e-9))
            {
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"{column.Name} is {amount:0.###} {column.Unit}; accepted: above 0 and at most {most:0.###} {column.Unit}."));
            }
        }

        IReadOnlyList<Column> columns = [present, .. doses.Select(dose => dose.Column)];
        double[] steps = [present.MostSteps, .. doses.Select(dose => dose.Amount / dose.Column.Step)];
        var goal = GoalOf(plan);
        var can = new CanOptimiser(chemistry, columns, goal, Math.Round(litres, 6), 0.01).Verify(steps) ?? throw new ArgumentException("What these amounts would make of the can is beyond the chemistry: look at the amounts again.");
        var cost = doses.Sum(dose => (decimal)(dose.Column.CostPerStep * dose.Amount / dose.Column.Step));
        var after = RepairedCan.FiguresOf(plan, can, chemistry, means.Tools, Math.Round(cost, 4));
        return (after, Additions(can, because: "added to put the can right"), Warnings(after, can));
    }

    // Ten times what any feed takes: more than that is a slip of the point.
    private const double MostPerLitre = 20;

    private static Column ColumnOf(Guid id, RepairMeans means) =>
        means.Waters.FirstOrDefault(water => water.Id == id) is { } water ? Columns.OfWater(water, means.Tools)
        : means.Cupboard.FirstOrDefault(item => item.Product.Id == id) is { } item ? Columns.OfProduct(item, means.Tools)
        : throw new ArgumentException($"{id} is neither a product in the cupboard nor a water of this bench.");

    private static List<string> Warnings(CanFigures after, VerifiedCan can)
    {
        var warnings = can.Edges.Where(edge => edge.Broken)
            .Select(edge => string.Create(CultureInfo.InvariantCulture, $"{edge.Limit.Name} stands at {edge.Value:0.##} (up to {edge.Edge:0.##}), over its limit of {edge.Limit.Limit:0.##}: not for these plants as it is")).ToList();
        warnings.AddRange(after.Serves.SelectMany(served => served.Bands.Where(band => !band.Met).Select(band =>
            string.Create(CultureInfo.InvariantCulture, $"{served.Group}: {band.What} is {band.Value:0.##} {band.Unit}, wanted {band.Band.Low:0.##} to {band.Band.High:0.##}"))));
        if (after.WorstSaturationIndex > 0)
        {
            warnings.Add(string.Create(CultureInfo.InvariantCulture, $"{after.ClosestMineral} may fall out (index {after.WorstSaturationIndex:+0.0})"));
        }

        return warnings;
    }

    // Strength by bisection on the EC, then protons at the measured pH.
    private static ComponentAmounts? StateFrom(CanPlan plan, CanChemistry chemistry, double? ec25, double? ph)
    {
        var state = plan.MolPerKgWater;
        if (ec25 is { } wanted)
        {
            double low = 1 / MostFactor, high = MostFactor;
            if (Ec(low) > wanted || Ec(high) < wanted)
            {
                return null;
            }

            for (var i = 0; i < 40; i++)
            {
                var middle = (low + high) / 2;
                (low, high) = Ec(middle) < wanted ? (middle, high) : (low, middle);
            }

            state = plan.MolPerKgWater.Scaled((low + high) / 2);
        }

        return ph is { } fixedPH
            ? CanChemistry.Run(state, new SolveConditions { Temperature = chemistry.Temperature, FixedPH = fixedPH })?.TotalsMolPerKgWater
            : state;

        double Ec(double strength) => chemistry.Solve(plan.MolPerKgWater.Scaled(strength))?.EcMicrosiemensPerCm ?? double.NaN;
    }

    // The card's bands, with what the card planned as the ideal: a repair goes back to the plan, not to a new one.
    private static CanGoal GoalOf(CanPlan plan)
    {
        var goals = new List<Goal>();
        foreach (var served in plan.Serves)
        {
            foreach (var result in served.Bands)
            {
                if (CanGoal.MeasureOf(result.What) is { } measure)
                {
                    var ideal = Math.Clamp(result.Value, result.Band.Low, result.Band.High);
                    goals.Add(new Goal(measure, new Band(result.Band.Low, ideal, result.Band.High), CanGoal.WeightOf(measure) / plan.Serves.Count));
                }
            }
        }

        return new CanGoal([.. goals.GroupBy(goal => (goal.Measure, goal.Band)).Select(same => new Goal(same.Key.Measure, same.Key.Band, same.Sum(goal => goal.Weight)))], plan.Limits);
    }

    private static Column StateColumn(CanPlan plan, ComponentAmounts state, Tools tools) =>
        Columns.OfLeftover(new Leftover(plan.Id, $"can {plan.Letter} as it is", plan.Litres + 1e-6, state, 0) { BiuretMgPerLitre = plan.BiuretMgPerLitre * Strength(plan, state) }, tools) with { MustBeAllUsed = true };

    // Of the state against the card: what is not a proton was scaled by it.
    private static double Strength(CanPlan plan, ComponentAmounts state)
    {
        var most = Enum.GetValues<Component>().Where(component => component != Component.Hydrogen).MaxBy(component => plan.MolPerKgWater[component]);
        return plan.MolPerKgWater[most] > 0 ? state[most] / plan.MolPerKgWater[most] : 1;
    }

    private static VerifiedCan? Best(CanPlan plan, RepairMeans means, CanChemistry chemistry, ComponentAmounts state, CanGoal goal)
    {
        var step = means.Tools.WaterStepLitres;
        var room = Math.Max(0, Math.Floor(((means.VesselLitres ?? plan.Litres) - plan.Litres) / step + 1e-6));
        var present = StateColumn(plan, state, means.Tools);
        VerifiedCan? best = null;
        for (var additions = 1; additions <= MostAdditions && best is null; additions++)
        {
            foreach (var water in Enumerable.Range(0, DilutionsTried + 1).Select(i => Math.Round(room * i / DilutionsTried)).Distinct())
            {
                IReadOnlyList<Column> columns =
                [
                    present, .. means.Waters.Select(each => Columns.OfWater(each, means.Tools)),
                    .. means.Cupboard.Where(item => item.GramsLeft > 0).Select(item => Columns.MeasuredWell(Columns.OfProduct(item, means.Tools))),
                ];
                var litres = present.MostSteps * step + water * step;
                var search = new CanOptimiser(chemistry, BiuretCap.On(columns, litres, goal.Limits), goal, litres, 0.01, additions).Search(state, TimeSpan.FromMilliseconds(400), 0.01, CancellationToken.None);
                if (search.Best is { } can && AllMet(plan, can) && (best is null || can.Objective < best.Objective))
                {
                    best = can;
                }
            }
        }

        return best;
    }

    private static bool AllMet(CanPlan plan, VerifiedCan can) => plan.Serves.SelectMany(served => served.Bands)
        .All(band => !band.Met || CanGoal.MeasureOf(band.What) is not { } measure || band.Band.Holds(CanGoal.Value(measure, can.Solved)));

    private static CanRepairResult Result(CanPlan plan, RepairMeans means, VerifiedCan can, double factor)
    {
        var additions = Additions(can);
        var (ec, ph) = (can.Solved.EcMicrosiemensPerCm * factor, can.Solved.PH);
        var ecError = ErrorSpread.Interval * Math.Sqrt(Math.Pow(can.Spread.EcSd * factor, 2) + Math.Pow(means.Tools.EcPenRelativeError * ec, 2));
        var phError = ErrorSpread.Interval * Math.Sqrt(can.Spread.PHSd * can.Spread.PHSd + means.Tools.PHPenError * means.Tools.PHPenError);
        return new CanRepairResult
        {
            Additions = additions,
            EcMicrosiemensPerCm = new Expected(Math.Max(0, ec - ecError), ec, ec + ecError),
            PH = new Expected(ph - phError, ph, ph + phError),
            Words = string.Create(CultureInfo.InvariantCulture, $"If the cheap checks find nothing, this can is put right with {string.Join(" and ", additions.Select(each => string.Create(CultureInfo.InvariantCulture, $"{each.Amount:0.###} {each.Unit} {each.What}")))}; can {plan.Letter} then reads {ec / 1000:0.00} mS/cm and pH {ph:0.0}."),
        };
    }

    private static List<RepairAddition> Additions(VerifiedCan can, string? because = null)
    {
        var additions = new List<RepairAddition>();
        for (var j = 0; j < can.Columns.Count; j++)
        {
            var (column, steps) = (can.Columns[j], can.Contents.Steps[j]);
            if (steps <= 0 || column.MustBeAllUsed)
            {
                continue;
            }

            var reason = because ?? (column.Kind == ColumnKind.Water ? "thins what is too strong" : column.Product!.Kind switch
            {
                ProductKind.Acid => "brings the pH down to its band",
                ProductKind.Base => "brings the pH up to its band",
                _ => "brings back what is short",
            });
            additions.Add(new RepairAddition(column.Name, column.Product?.Id, column.Water?.Id, Math.Round(steps * column.Step, 6), column.Unit, reason, column.Product is { } product ? SafetyTexts.ShortFor(product) : []));
        }

        return additions;
    }

    // Nothing in the cupboard puts it right in its vessel. What is too strong can still be poured thinner.
    private static CanRepairResult Advice(CanPlan plan, RepairMeans means, CanChemistry chemistry, ComponentAmounts state)
    {
        foreach (var water in means.Waters)
        {
            for (var share = 0.1; share <= 2; share += 0.1)
            {
                var mixed = state.Scaled(1 / (1 + share)).PlusScaled(water.MolPerKgWater, share / (1 + share));
                if (chemistry.Solve(mixed) is { } thinner && plan.Serves.SelectMany(served => served.Bands).All(band =>
                    !band.Met || CanGoal.MeasureOf(band.What) is not { } measure || band.Band.Holds(CanGoal.Value(measure, thinner))))
                {
                    return Only(string.Create(CultureInfo.InvariantCulture, $"Nothing from the cupboard puts it right in this vessel. Pour nothing away: thin each litre of it with {share:0.0} L of {water.Name} in a second can and every band is met."));
                }
            }
        }

        return Only("Nothing from the cupboard puts every band right. Pour nothing away: keep it closed and cool, use it as the leftover of the next can, and let the planner top it up.");
    }

    private static CanRepairResult Only(string words) => new() { Additions = [], EcMicrosiemensPerCm = null, PH = null, Words = words };
}
