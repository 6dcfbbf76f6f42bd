using Rootwater.Growing.Mixing.Solvers;

namespace Rootwater.Growing.Mixing;

/// <summary>How far the upper error edge of a measure stands above its value: edge = value × factor. Held from the last full solve.</summary>
internal sealed class EdgeFactors(double unknown = EdgeFactors.Unknown)
{
    // Before anything was solved: 10 % is more than a card followed with kitchen tools leaves.
    public const double Unknown = 1.1;
    private readonly Dictionary<string, double> _factors = [];

    public double this[string name]
    {
        get => _factors.GetValueOrDefault(name, unknown);
        set => _factors[name] = value;
    }
}

/// <summary>Doses a program found.</summary>
/// <param name="Steps">Steps of each column; fractions where relaxed. Empty without a point.</param>
/// <param name="Objective">Of the linearised program.</param>
/// <param name="Bound">No doses can do better, within the linearisation.</param>
/// <param name="Proven">Whether the search finished.</param>
internal sealed record Doses(IReadOnlyList<double> Steps, double Objective, double Bound, bool Proven);

/// <summary>One can as a mixed-integer linear program: steps of every column as whole numbers, bands with weighted slacks, hard limits as bounds.</summary>
internal sealed class CanModel
{
    // A mineral is kept this far below saturation, so that the linearisation's own error does not carry it over.
    public const double SaturationMargin = 0.02;

    // No feed needs more of one product than this, and without a cap the binaries mean nothing.
    public const double MostGramsPerLitre = 10;

    private readonly IReadOnlyList<Column> _columns;
    private readonly CanGoal _goal;
    private readonly double _litres;
    private readonly double _kgWaterPerLitre;
    private readonly Linearisation _line;
    private readonly EdgeFactors _edges;
    private readonly IntegerProgram _program = new();
    private readonly Dictionary<Measure, int> _values = [];
    private readonly int[] _steps;
    private readonly int?[] _used;

    // What the bands cost where each is lowest: no unknown of the program.
    private readonly double _least;

    /// <param name="columns">What can go in.</param>
    /// <param name="goal">Bands and limits.</param>
    /// <param name="litres">Volume of the can.</param>
    /// <param name="kgWaterPerLitre">Of the finished can.</param>
    /// <param name="line">The chemistry as straight lines.</param>
    /// <param name="edges">Error edges of the hard limits.</param>
    /// <param name="mostProducts">The most products that may be used; null for as many as there are.</param>
    public CanModel(IReadOnlyList<Column> columns, CanGoal goal, double litres, double kgWaterPerLitre, Linearisation line, EdgeFactors edges, int? mostProducts = null)
    {
        (_columns, _goal, _litres, _kgWaterPerLitre, _line, _edges) = (columns, goal, litres, kgWaterPerLitre, line, edges);
        _steps = new int[columns.Count];
        _used = new int?[columns.Count];
        AddColumns(mostProducts);
        AddLimits();
        _least = KinkedLine.Of(goal, line).Sum(each => each.AddTo(_program, 0, [(Value(each.Measure), 1)]));
    }

    /// <summary>Solves in whole steps, from a point already known.</summary>
    public Doses? Solve(WorkClock work, TimeSpan limit, double relativeGap, IReadOnlyList<double> start) => Read(ProgramSolver.Solve(_program, work, limit, relativeGap, Complete(start, work)));

    // A start is taken up only when every unknown has a value: with the steps fixed, the others follow from a linear program.
    private IReadOnlyList<double>? Complete(IReadOnlyList<double> steps, WorkClock work)
    {
        var fixedTo = new Dictionary<int, double>();
        for (var j = 0; j < _steps.Length; j++)
        {
            fixedTo[_steps[j]] = steps[j];
            if (_used[j] is { } used)
            {
                fixedTo[used] = steps[j] > 0 ? 1 : 0;
            }
        }

        var answer = ProgramSolver.Relax(_program.With(fixedTo), work);
        return answer.HasPoint ? answer.Values : null;
    }

    public Doses? Relax(WorkClock work) => Read(ProgramSolver.Relax(_program, work));

    private Doses? Read(ProgramAnswer answer) => answer.HasPoint
        ? new Doses([.. _steps.Select(unknown => answer.Values[unknown])], answer.Objective + _least, answer.Bound + _least, answer.Status == ProgramStatus.Optimal)
        : null;

    private void AddColumns(int? mostProducts)
    {
        var fill = new List<(int, double)>();
        var products = new List<(int, double)>();
        for (var j = 0; j < _columns.Count; j++)
        {
            var column = _columns[j];
            if (column.Kind != ColumnKind.Product)
            {
                var least = column.MustBeAllUsed ? column.MostSteps : 0;
                _steps[j] = _program.Add(least, Math.Min(column.MostSteps, Math.Round(_litres / column.Step)), CostPerStep(column, _litres), isInteger: true);
                fill.Add((_steps[j], column.Step));
                continue;
            }

            var cap = MostSteps(column, _goal, _litres, _kgWaterPerLitre, _line);
            _steps[j] = _program.Add(0, cap, CostPerStep(column, _litres), isInteger: true);
            if (cap > 0)
            {
                var used = _program.Add(0, 1, CostWhenUsed(column), isInteger: true);
                _used[j] = used;
                _program.AddRow(double.NegativeInfinity, 0, [(_steps[j], 1), (used, -cap)]);
                if (column.LeastStepsWhenUsed > 1)
                {
                    _program.AddRow(0, double.PositiveInfinity, [(_steps[j], 1), (used, -column.LeastStepsWhenUsed)]);
                }

                products.Add((used, 1));
            }
        }

        AddAdjusters();
        _program.AddRow(_litres, _litres, fill);
        if (mostProducts is { } limit && products.Count > 0)
        {
            _program.AddRow(0, limit, products);
        }
    }

    // both ≥ acid used + base used - 1, for any acid and any base.
    private void AddAdjusters()
    {
        var acids = Used(AdjusterCost.IsAcid);
        var bases = Used(AdjusterCost.IsBase);
        if (acids.Count == 0 || bases.Count == 0)
        {
            return;
        }

        var (acid, lye) = (Any(acids), Any(bases));
        var both = _program.Add(0, 1, PlanWeights.AcidAndBase);
        _program.AddRow(double.NegativeInfinity, 1, [(acid, 1), (lye, 1), (both, -1)]);

        List<int> Used(Func<Column, bool> what) => [.. Enumerable.Range(0, _columns.Count).Where(j => what(_columns[j])).Select(j => _used[j]).OfType<int>()];

        int Any(List<int> used)
        {
            var any = _program.Add(0, 1, 0);
            foreach (var each in used)
            {
                _program.AddRow(double.NegativeInfinity, 0, [(each, 1), (any, -1)]);
            }

            return any;
        }
    }

    /// <summary>What one step costs in the objective. Using up an older can is worth a little; pouring it away costs nothing else.</summary>
    public static double CostPerStep(Column column, double litres)
    {
        var most = Math.Min(column.MostSteps, Math.Round(litres / column.Step));
        var gain = column.Kind == ColumnKind.Leftover && !column.MustBeAllUsed && most > 0 ? PlanWeights.LeftoverUnused / most : 0;
        return PlanWeights.Cost * column.CostPerStep / (PlanWeights.TypicalCostPerLitre * litres) - gain;
    }

    public static double CostWhenUsed(Column column) => PlanWeights.ProductUsed + PlanWeights.NewestLot * column.LotAge + AdjusterCost.Ageing(column) + column.ExtraWhenUsed;

    /// <summary>
    /// The most steps worth looking at: the supply, 10 g/L, three times the highest band of a nutrient it brings, one and a half times the EC limit.
    /// </summary>
    public static double MostSteps(Column column, CanGoal goal, double litres, double kgWaterPerLitre, Linearisation line)
    {
        if (column.Kind != ColumnKind.Product)
        {
            return Math.Min(column.MostSteps, Math.Round(litres / column.Step));
        }

        var most = Math.Min(column.MostSteps, MostGramsPerLitre * litres / (column.Step * column.GramsPerUnit));
        var divisor = CanContents.Divisor(column, litres, kgWaterPerLitre);
        foreach (var goals in goal.Goals.Where(each => each.Measure.Kind is MeasureKind.Nutrient or MeasureKind.TotalNitrogen).GroupBy(each => each.Measure))
        {
            var slope = line.Measures[goals.Key].Slope(column.MolPerStep) / divisor;
            most = slope > 1e-9 ? Math.Min(most, Math.Max(1, 3 * goals.Max(each => each.Band.High)) / slope) : most;
        }

        var ec = line.Measures[new Measure(MeasureKind.Ec)].Slope(column.MolPerStep) / divisor;
        most = Math.Floor(ec > 1e-9 ? Math.Min(most, 1.5 * goal.Limits.EcMicrosiemensPerCm / ec) : most);
        return most < Math.Max(1, column.LeastStepsWhenUsed) ? 0 : most;
    }

    private void AddLimits()
    {
        foreach (var limit in HardLimit.All(_goal.Limits))
        {
            var factor = _edges[limit.Name];
            if (limit.ShareOfNitrogen is null)
            {
                Cap(limit.Measure, limit.Limit / factor);
                continue;
            }

            var (part, whole) = (Value(limit.Measure), Value(new Measure(MeasureKind.TotalNitrogen)));
            _program.AddRow(double.NegativeInfinity, 0, [(part, factor), (whole, -limit.Limit)]);
        }
    }

    private void Cap(Measure measure, double most) => _program.AddRow(double.NegativeInfinity, most, [(Value(measure), 1)]);

    private int Value(Measure measure)
    {
        if (_values.TryGetValue(measure, out var known))
        {
            return known;
        }

        var line = _line.Measures[measure];
        var value = _program.Add(double.NegativeInfinity, double.PositiveInfinity);
        var terms = new List<(int, double)> { (value, -1) };
        for (var j = 0; j < _columns.Count; j++)
        {
            var slope = line.Slope(_columns[j].MolPerStep) / CanContents.Divisor(_columns[j], _litres, _kgWaterPerLitre);
            if (Math.Abs(slope) > 1e-12)
            {
                terms.Add((_steps[j], slope));
            }
        }

        _program.AddRow(-line.Constant, -line.Constant, terms);
        _values[measure] = value;
        return value;
    }
}
