namespace Rootwater.Growing.Mixing;

/// <summary>
/// Rounds a relaxed can to whole steps: descent by single steps, pairs of steps, and products put in or left out, on the same straight lines and
/// the same objective as <see cref="CanModel"/>. It gives the integer program a good point to start from; it proves nothing.
/// </summary>
/// <remarks>Evaluating a point takes a fraction of a microsecond, so thousands are tried in the time one node of the integer program takes.</remarks>
internal sealed class StepSearch
{
    private const double Forbidden = 1e6;
    private static readonly double[] s_jumps = [1, -1, 2, -2, 5, -5, 20, -20];
    private readonly IReadOnlyList<Column> _columns;
    private readonly double[][] _slopes;
    private readonly double[] _constants;
    private readonly (int Measure, KinkedLine Line)[] _lines;
    private readonly (int Measure, double Most)[] _caps;
    private readonly (int Part, int Whole, double Factor, double Share)[] _shares;
    private readonly double[] _costPerStep;
    private readonly double[] _costUsed;
    private readonly double[] _most;
    private readonly double[] _least;
    private readonly int[] _products;
    private readonly int[] _waters;
    private readonly int _mostProducts;
    private readonly int[] _acids;
    private readonly int[] _bases;
    private readonly WorkClock _work;
    private long _points;

    // Every measure at the steps last loaded, at those being tried, and what the doses themselves cost.
    private readonly double[] _at;
    private readonly double[] _tried;
    private double _costAt;

    public StepSearch(IReadOnlyList<Column> columns, CanGoal goal, double litres, double kgWaterPerLitre, Linearisation line, EdgeFactors edges, WorkClock work, int? mostProducts = null)
    {
        _work = work;
        _columns = columns;
        _mostProducts = mostProducts ?? int.MaxValue;
        var index = new Dictionary<Measure, int>();
        var limits = HardLimit.All(goal.Limits);
        _lines = [.. KinkedLine.Of(goal, line).Select(each => (Index(each.Measure), each))];
        _caps = [.. limits.Where(limit => limit.ShareOfNitrogen is null).Select(limit => (Index(limit.Measure), limit.Limit / edges[limit.Name]))];
        _shares = [.. limits.Where(limit => limit.ShareOfNitrogen is not null).Select(limit => (Index(limit.Measure), Index(new Measure(MeasureKind.TotalNitrogen)), edges[limit.Name], limit.Limit))];
        var measures = index.OrderBy(pair => pair.Value).Select(pair => line.Measures[pair.Key]).ToList();
        _constants = [.. measures.Select(measure => measure.Constant)];
        _slopes = [.. columns.Select(column => measures.Select(measure => measure.Slope(column.MolPerStep) / CanContents.Divisor(column, litres, kgWaterPerLitre)).ToArray())];
        (_at, _tried) = (new double[measures.Count], new double[measures.Count]);
        _most = [.. columns.Select(column => CanModel.MostSteps(column, goal, litres, kgWaterPerLitre, line))];
        _least = [.. columns.Select(column => Math.Max(1, column.LeastStepsWhenUsed))];
        _costPerStep = [.. columns.Select(column => CanModel.CostPerStep(column, litres))];
        _costUsed = [.. columns.Select(column => column.Kind == ColumnKind.Product ? CanModel.CostWhenUsed(column) : 0)];
        _products = [.. Enumerable.Range(0, columns.Count).Where(j => columns[j].Kind == ColumnKind.Product && _most[j] >= _least[j])];
        _waters = [.. Enumerable.Range(0, columns.Count).Where(j => columns[j] is { IsLiquidVolume: true, MustBeAllUsed: false })];
        _acids = [.. _products.Where(j => AdjusterCost.IsAcid(columns[j]))];
        _bases = [.. _products.Where(j => AdjusterCost.IsBase(columns[j]))];

        int Index(Measure measure)
        {
            if (!index.TryGetValue(measure, out var known))
            {
                index[measure] = known = index.Count;
            }

            return known;
        }
    }

    /// <summary>Whole steps near a relaxed can.</summary>
    /// <param name="relaxed">Steps with fractions; waters fill the can.</param>
    /// <param name="limit">Work after which to stop in any case.</param>
    public IReadOnlyList<double> Round(IReadOnlyList<double> relaxed, TimeSpan limit)
    {
        var end = _work.Elapsed + limit;
        var steps = new double[relaxed.Count];
        foreach (var j in _products)
        {
            steps[j] = relaxed[j] < _least[j] / 2 ? 0 : Math.Clamp(Math.Round(relaxed[j]), _least[j], _most[j]);
        }

        RoundWaters(relaxed, steps);
        while (_products.Count(j => steps[j] > 0) > _mostProducts)
        {
            steps[_products.Where(j => steps[j] > 0).MinBy(j => steps[j] * _columns[j].Step)] = 0;
        }

        Improve(steps, end);
        return steps;
    }

    /// <summary>Whole steps from others that were good on lines drawn a little elsewhere.</summary>
    public IReadOnlyList<double> From(IReadOnlyList<double> others, TimeSpan limit)
    {
        double[] steps = [.. others];
        Improve(steps, _work.Elapsed + limit);
        return steps;
    }

    private void Improve(double[] steps, TimeSpan end)
    {
        var best = Evaluate(steps);
        best = Descend(steps, best, end);
        for (var improved = true; improved && Elapsed() < end;)
        {
            improved = false;
            foreach (var j in _products)
            {
                // In or out, and the rest rearranged around it.
                var trial = (double[])steps.Clone();
                trial[j] = steps[j] > 0 ? 0 : _least[j];
                if (trial[j] > 0 && _products.Count(k => trial[k] > 0) > _mostProducts)
                {
                    continue;
                }

                var value = Descend(trial, Evaluate(trial), end);
                if (value < best - 1e-9)
                {
                    (best, improved) = (value, true);
                    trial.CopyTo(steps, 0);
                }
            }
        }

    }

    // The points looked at since it was last asked are counted then.
    private TimeSpan Elapsed()
    {
        _work.Points(_points, _at.Length);
        _points = 0;
        return _work.Elapsed;
    }

    private void RoundWaters(IReadOnlyList<double> relaxed, double[] steps)
    {
        var sum = 0.0;
        for (var j = 0; j < relaxed.Count; j++)
        {
            if (_columns[j].IsLiquidVolume)
            {
                steps[j] = _columns[j].MustBeAllUsed ? _columns[j].MostSteps : Math.Floor(relaxed[j] + 1e-6);
                sum += relaxed[j] - steps[j];
            }
        }

        for (var left = (int)Math.Round(sum); left > 0; left--)
        {
            var to = _waters.Where(j => steps[j] + 1 <= _most[j] + 1e-9).OrderByDescending(j => relaxed[j] - steps[j]).Cast<int?>().FirstOrDefault();
            if (to is { } water)
            {
                steps[water]++;
            }
        }
    }

    private double Descend(double[] steps, double best, TimeSpan end)
    {
        Load(steps);
        for (var improved = true; improved && Elapsed() < end;)
        {
            improved = false;
            foreach (var j in _products)
            {
                foreach (var jump in s_jumps)
                {
                    improved |= Try(steps, ref best, (j, jump));
                }
            }

            foreach (var j in _waters)
            {
                foreach (var k in _waters)
                {
                    foreach (var jump in s_jumps)
                    {
                        improved |= j != k && jump > 0 && Try(steps, ref best, (j, jump), (k, -jump));
                    }
                }
            }

            if (improved)
            {
                continue;
            }

            for (var a = 0; a < _products.Length; a++)
            {
                for (var b = 0; b < _products.Length; b++)
                {
                    if (a != b && (steps[_products[a]] > 0 || steps[_products[b]] > 0))
                    {
                        improved |= Try(steps, ref best, (_products[a], 1), (_products[b], -1)) || Try(steps, ref best, (_products[a], 1), (_products[b], 1))
                            || Try(steps, ref best, (_products[a], -1), (_products[b], -1)) || Try(steps, ref best, (_products[a], 2), (_products[b], -1))
                            || Try(steps, ref best, (_products[a], -2), (_products[b], 1)) || Try(steps, ref best, (_products[a], 5), (_products[b], -5));
                    }
                }
            }
        }

        return best;
    }

    private bool Try(double[] steps, ref double best, params ReadOnlySpan<(int Column, double Change)> moves)
    {
        Span<double> before = stackalloc double[2];
        var allowed = true;
        for (var i = 0; i < moves.Length; i++)
        {
            var (j, change) = moves[i];
            before[i] = steps[j];
            var moved = steps[j] + change;
            if (_columns[j].Kind == ColumnKind.Product && moved > 0 && moved < _least[j])
            {
                moved = change > 0 ? _least[j] : 0;
            }

            allowed &= moved >= 0 && moved <= _most[j] && moved != steps[j];
            steps[j] = moved;
        }

        if (allowed && (_mostProducts == int.MaxValue || _products.Count(k => steps[k] > 0) <= _mostProducts))
        {
            _points++;
            var value = Move(steps, moves, before, best - 1e-9);
            if (value < best - 1e-9)
            {
                best = value;
                Load(steps);
                return true;
            }
        }

        for (var i = moves.Length - 1; i >= 0; i--)
        {
            steps[moves[i].Column] = before[i];
        }

        return false;
    }

    /// <summary>The objective of the integer program at whole steps; a broken limit costs far more than any band.</summary>
    public double Evaluate(IReadOnlyList<double> steps)
    {
        _points++;
        var cost = Fill(steps, _tried);
        return Price(_tried, cost + Together(steps), double.PositiveInfinity);
    }

    private void Load(double[] steps) => _costAt = Fill(steps, _at);

    private double Fill(IReadOnlyList<double> steps, double[] values)
    {
        _constants.CopyTo(values, 0);
        var cost = 0.0;
        for (var j = 0; j < _slopes.Length; j++)
        {
            if (steps[j] != 0)
            {
                cost += _costPerStep[j] * steps[j] + _costUsed[j];
                Add(values, _slopes[j], steps[j]);
            }
        }

        return cost;
    }

    // From the steps last loaded only what was moved is added up; what cannot get below the best any more is not looked at further.
    private double Move(double[] steps, ReadOnlySpan<(int Column, double Change)> moves, ReadOnlySpan<double> before, double enough)
    {
        _at.AsSpan().CopyTo(_tried);
        var cost = _costAt;
        for (var i = 0; i < moves.Length; i++)
        {
            var j = moves[i].Column;
            cost += _costPerStep[j] * (steps[j] - before[i]) + (steps[j] > 0 ? _costUsed[j] : 0) - (before[i] > 0 ? _costUsed[j] : 0);
            Add(_tried, _slopes[j], steps[j] - before[i]);
        }

        return Price(_tried, cost + Together(steps), enough);
    }

    private static void Add(double[] values, double[] slopes, double steps)
    {
        for (var m = 0; m < values.Length; m++)
        {
            values[m] += slopes[m] * steps;
        }
    }

    private double Together(IReadOnlyList<double> steps) => Any(_acids, steps) && Any(_bases, steps) ? PlanWeights.AcidAndBase : 0;

    private static bool Any(int[] columns, IReadOnlyList<double> steps)
    {
        foreach (var j in columns)
        {
            if (steps[j] > 0)
            {
                return true;
            }
        }

        return false;
    }

    // Every term is above zero: once the sum is more than enough, the rest does not matter.
    private double Price(double[] values, double sum, double enough)
    {
        foreach (var (measure, most) in _caps)
        {
            sum += values[measure] > most ? Forbidden * (values[measure] - most) / Math.Max(most, 1e-3) + Forbidden / 100 : 0;
        }

        foreach (var (part, whole, factor, share) in _shares)
        {
            var excess = factor * values[part] - share * values[whole];
            sum += excess > 1e-9 ? Forbidden * excess + Forbidden / 100 : 0;
        }

        foreach (var (measure, line) in _lines)
        {
            if (sum > enough)
            {
                return sum;
            }

            sum += line.At(values[measure]);
        }

        return sum;
    }
}
