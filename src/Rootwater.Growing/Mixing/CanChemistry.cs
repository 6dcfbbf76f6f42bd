using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Saturation;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>What the full chemistry says of a can.</summary>
internal sealed record SolvedCan(ComponentAmounts Totals, Solution Solution, double EcMicrosiemensPerCm, NutrientAmounts MgPerLitre)
{
    public double PH => Solution.PH;

    /// <summary>The mineral closest to falling out and its index; hydroxyapatite, slow and nearly always oversaturated, is a warning elsewhere.</summary>
    public (Mineral Mineral, double Index)? Closest { get; } = CanChemistry.ClosestIn(Solution);
}

/// <summary>Full solves of cans, and the straight lines through them that the integer program works with.</summary>
internal sealed class CanChemistry
{
    /// <summary>What may not fall out of a can. Anhydrite is never closer than gypsum below 40 °C.</summary>
    public static readonly IReadOnlyList<Mineral> Watched =
        [Mineral.Gypsum, Mineral.Calcite, Mineral.Brushite, Mineral.Struvite, Mineral.Ferrihydrite, Mineral.Strengite, Mineral.Silica];

    // Kept below saturation by straight lines. Iron's minerals are not: what a chelate leaves free is so small a difference of large amounts that
    // a line through it says nothing a step away; the full chemistry judges them afterwards.
    private static readonly IReadOnlyList<Mineral> s_guided = [Mineral.Gypsum, Mineral.Calcite, Mineral.Brushite, Mineral.Struvite, Mineral.Silica];

    private const double SmallestStepMol = 1e-5;
    private readonly SolveConditions _closed;

    /// <param name="temperature">Of the can.</param>
    /// <param name="work">Told of every solve; without one nobody waits and nobody counts.</param>
    public CanChemistry(Temperature temperature, WorkClock? work = null)
    {
        (Temperature, Work) = (temperature, work ?? new WorkClock());
        _closed = new SolveConditions { Temperature = temperature };
        KgWaterPerLitre = 1 / EquilibriumSolver.Solve(ComponentAmounts.Zero, _closed).Required().LitresPerKgWater;
    }

    public Temperature Temperature { get; }

    /// <summary>What the search that solves here has done.</summary>
    public WorkClock Work { get; }

    /// <summary>Of water at the can's temperature. A feed of 1 g/L differs by less than 0.1 %, a tenth of what filling to a mark does.</summary>
    public double KgWaterPerLitre { get; }

    /// <summary>Solves a can closed to the air; null when the chemistry does not converge or the totals are beyond it.</summary>
    public SolvedCan? Solve(ComponentAmounts totals)
    {
        Work.Solves(1);
        if (Run(totals, _closed) is not { } solution)
        {
            return null;
        }

        return new SolvedCan(totals, solution, solution.ConductivityAt25MicrosiemensPerCm(), Nutrients.MilligramsIn(totals.Scaled(KgWaterPerLitre)));
    }

    /// <summary>The mineral with the highest saturation index among <see cref="Watched"/>; null where no ingredient is there.</summary>
    public static (Mineral Mineral, double Index)? ClosestIn(Solution solution) => ClosestOf(Watched, solution);

    /// <summary>The same among those that fall out in the minutes a can is being mixed: iron leaves its chelate over hours and days.</summary>
    public static (Mineral Mineral, double Index)? ClosestWhileMixing(Solution solution) => ClosestOf(s_guided, solution);

    private static (Mineral Mineral, double Index)? ClosestOf(IReadOnlyList<Mineral> minerals, Solution solution)
    {
        (Mineral, double)? closest = null;
        foreach (var mineral in minerals)
        {
            if (solution.SaturationIndex(mineral) is { } index && (closest is null || index > closest.Value.Item2))
            {
                closest = (mineral, index);
            }
        }

        return closest;
    }

    /// <summary>
    /// Straight lines through a state: nutrients are exact; the proton condition is exact at each asked pH but for activity coefficients and
    /// ion pairs held from here; EC and saturation indices by numeric derivatives at the working pH.
    /// </summary>
    /// <param name="at">Totals, mol per kg of water; hydrogen does not matter.</param>
    /// <param name="workingPH">Where EC and saturation are taken.</param>
    /// <param name="levels">Every pH that a band names.</param>
    /// <param name="movable">The components that some column can bring.</param>
    /// <returns>Null where the chemistry does not converge.</returns>
    public Linearisation? Linearise(ComponentAmounts at, double workingPH, IEnumerable<double> levels, IReadOnlyList<Component> movable)
    {
        var asked = levels.Distinct().ToList();
        Work.Solves(1 + asked.Count + movable.Count);
        var working = _closed with { FixedPH = workingPH };
        if (Run(at, working) is not { } here)
        {
            return null;
        }

        var measures = Linearisation.ExactMeasures(KgWaterPerLitre);
        foreach (var level in asked)
        {
            if (Run(at, _closed with { FixedPH = level }) is not { } fixedAt)
            {
                return null;
            }

            measures[new Measure(MeasureKind.ProtonsShort, 0, level)] = ProtonsShort(fixedAt);
        }

        var ecHere = here.ConductivityAt25MicrosiemensPerCm();
        var ec = new double[ComponentAmounts.Count];
        var near = s_guided.Where(mineral => here.SaturationIndex(mineral) is > -2).ToList();
        var indices = near.ToDictionary(mineral => mineral, _ => new double[ComponentAmounts.Count]);
        foreach (var component in movable)
        {
            if (component == Component.Hydrogen)
            {
                continue;
            }

            var step = Math.Max(SmallestStepMol, 0.02 * at[component]);
            if (Run(at.With(component, at[component] + step), working) is not { } moved)
            {
                return null;
            }

            ec[(int)component] = (moved.ConductivityAt25MicrosiemensPerCm() - ecHere) / step;
            foreach (var mineral in near)
            {
                indices[mineral][(int)component] = ((moved.SaturationIndex(mineral) ?? 0) - here.SaturationIndex(mineral)!.Value) / step;
            }
        }

        measures[new Measure(MeasureKind.Ec)] = Through(at, ecHere, ec);
        foreach (var mineral in near)
        {
            measures[new Measure(MeasureKind.Saturation, (int)mineral)] = Through(at, here.SaturationIndex(mineral)!.Value, indices[mineral]);
        }

        return new Linearisation(at, workingPH, measures);
    }

    private static LinearMeasure ProtonsShort(Solution fixedAt)
    {
        var perMol = new double[ComponentAmounts.Count];
        for (var c = 0; c < perMol.Length; c++)
        {
            var component = (Component)c;
            perMol[c] = component == Component.Hydrogen ? -1000 : 1000 * fixedAt.ProtonsPerMole(component);
        }

        return new LinearMeasure(1000 * fixedAt.FreeProtonsMolPerKgWater, perMol);
    }

    private static LinearMeasure Through(ComponentAmounts at, double value, double[] perMol)
    {
        var line = new LinearMeasure(0, perMol);
        return line with { Constant = value - line.At(at) };
    }

    /// <summary>One solve; null when it fails or the totals are out of range.</summary>
    public static Solution? Run(ComponentAmounts totals, SolveConditions conditions)
    {
        try
        {
            return EquilibriumSolver.Solve(totals, conditions).Solution;
        }
        catch (ArgumentException)
        {
            return null;
        }
    }
}

/// <summary>Every measure as a straight line near one state.</summary>
internal sealed record Linearisation(ComponentAmounts At, double WorkingPH, IReadOnlyDictionary<Measure, LinearMeasure> Measures)
{
    /// <summary>What a goal costs at some totals, by the straight lines.</summary>
    public double Penalty(Goal goal, ComponentAmounts totals) => goal.IsPH
        ? goal.Weight * (Protons(goal, totals).Deviation + PlanWeights.OutsideFactor * Outside(goal, totals))
        : goal.Penalty(Measures[goal.Measure].At(totals));

    /// <summary>Half-widths outside its band at some totals, by the straight lines.</summary>
    public double Outside(Goal goal, ComponentAmounts totals) =>
        goal.IsPH ? Protons(goal, totals).Outside : goal.Outside(Measures[goal.Measure].At(totals));

    /// <summary>The protons between the ideal and the ends of a pH band, mmol/kg: with them a pH band is as wide as any other.</summary>
    public (double Below, double Above) ProtonWidths(Goal goal)
    {
        const double Least = 1e-3;
        var (low, ideal, high) = ProtonsAt(goal, At);
        return (Math.Max(low - ideal, Least), Math.Max(ideal - high, Least));
    }

    private (double Deviation, double Outside) Protons(Goal goal, ComponentAmounts totals)
    {
        var (low, ideal, high) = ProtonsAt(goal, totals);
        var (below, above) = ProtonWidths(goal);
        return (Math.Max(ideal / above, -ideal / below), Math.Max(0, Math.Max(high / above, -low / below)));
    }

    private (double Low, double Ideal, double High) ProtonsAt(Goal goal, ComponentAmounts totals)
    {
        return (Level(goal.Band.Low), Level(goal.Band.Ideal), Level(goal.Band.High));

        double Level(double level) => Measures[new Measure(MeasureKind.ProtonsShort, 0, level)].At(totals);
    }

    /// <summary>The measures that need no solve: mg/L are linear in the totals.</summary>
    public static Dictionary<Measure, LinearMeasure> ExactMeasures(double kgWaterPerLitre)
    {
        var measures = new Dictionary<Measure, LinearMeasure>();
        var nitrogen = new double[ComponentAmounts.Count];
        var byNutrient = Enum.GetValues<Nutrient>().ToDictionary(nutrient => nutrient, _ => new double[ComponentAmounts.Count]);
        for (var c = 0; c < ComponentAmounts.Count; c++)
        {
            var mg = Nutrients.MilligramsIn(ComponentAmounts.Zero.With((Component)c, kgWaterPerLitre));
            nitrogen[c] = mg.TotalNitrogen;
            foreach (var (nutrient, perMol) in byNutrient)
            {
                perMol[c] = mg[nutrient];
            }
        }

        foreach (var (nutrient, perMol) in byNutrient)
        {
            measures[Measure.Of(nutrient)] = new LinearMeasure(0, perMol);
        }

        measures[new Measure(MeasureKind.TotalNitrogen)] = new LinearMeasure(0, nitrogen);
        return measures;
    }
}
