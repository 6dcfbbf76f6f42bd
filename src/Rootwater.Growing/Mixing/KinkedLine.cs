using Rootwater.Growing.Mixing.Solvers;

namespace Rootwater.Growing.Mixing;

/// <summary>What one measure costs: a convex line with a kink at every end and ideal of the bands that ask for it.</summary>
/// <remarks>
/// The cost of any number of bands of a measure is one such line again. So a program needs one row for a measure and one bounded unknown for each piece of its line,
/// where a row for each side of each band would be a thousand for a can of thirty-six groups.
/// </remarks>
internal sealed class KinkedLine
{
    private readonly double[] _at;

    // One more than kinks: to the left of the first, between them, to the right of the last.
    private readonly double[] _slopes;
    private readonly double[] _constants;
    private readonly int _lowest;

    private KinkedLine(Measure measure, SortedDictionary<double, (double Below, double Above)> hinges)
    {
        Measure = measure;
        _at = [.. hinges.Keys];
        (_slopes, _constants) = (new double[_at.Length + 1], new double[_at.Length + 1]);
        _slopes[0] = -hinges.Values.Sum(hinge => hinge.Below);
        _constants[0] = hinges.Sum(hinge => hinge.Value.Below * hinge.Key);
        foreach (var (hinge, k) in hinges.Select((hinge, k) => (hinge, k)))
        {
            _slopes[k + 1] = _slopes[k] + hinge.Value.Below + hinge.Value.Above;
            _constants[k + 1] = _constants[k] - (hinge.Value.Below + hinge.Value.Above) * hinge.Key;
        }

        while (_lowest < _at.Length - 1 && _slopes[_lowest + 1] < 0)
        {
            _lowest++;
        }
    }

    public Measure Measure { get; }

    /// <summary>The lines of every measure that a can's goals name, and of the minerals near to falling out.</summary>
    public static IReadOnlyList<KinkedLine> Of(CanGoal goal, Linearisation line)
    {
        var all = new Dictionary<Measure, SortedDictionary<double, (double Below, double Above)>>();
        foreach (var each in goal.Goals)
        {
            var outside = each.Weight * PlanWeights.OutsideFactor;
            if (each.IsPH)
            {
                var (below, above) = line.ProtonWidths(each);
                Add(Level(each.Band.Ideal), 0, each.Weight / below, each.Weight / above);
                Add(Level(each.Band.Low), 0, outside / below, 0);
                Add(Level(each.Band.High), 0, 0, outside / above);
                continue;
            }

            Add(each.Measure, each.Band.Ideal, each.Weight / each.WidthBelow, each.Weight / each.WidthAbove);
            Add(each.Measure, each.Band.High, 0, outside / each.WidthAbove);
            if (each.Band.Low > 0)
            {
                Add(each.Measure, each.Band.Low, outside / each.WidthBelow, 0);
            }
        }

        foreach (var measure in line.Measures.Keys.Where(measure => measure.Kind == MeasureKind.Saturation))
        {
            Add(measure, -CanModel.SaturationMargin, 0, PlanWeights.Saturation * goal.Share);
        }

        return [.. all.Select(each => new KinkedLine(each.Key, each.Value))];

        void Add(Measure measure, double at, double below, double above)
        {
            if (!all.TryGetValue(measure, out var hinges))
            {
                all[measure] = hinges = [];
            }

            var (hadBelow, hadAbove) = hinges.GetValueOrDefault(at);
            hinges[at] = (hadBelow + below, hadAbove + above);
        }

        static Measure Level(double level) => new(MeasureKind.ProtonsShort, 0, level);
    }

    /// <summary>What a value costs.</summary>
    public double At(double value)
    {
        var (k, end) = (0, _at.Length);
        while (k < end)
        {
            var middle = (k + end) / 2;
            (k, end) = value > _at[middle] ? (middle + 1, end) : (k, middle);
        }

        return _constants[k] + _slopes[k] * value;
    }

    /// <summary>Adds the row constant + Σ terms = where the line is lowest + pieces above it − pieces below it, each piece at its slope.</summary>
    /// <returns>What the line costs where it is lowest: to be added to the program's objective.</returns>
    public double AddTo(IntegerProgram program, double constant, IEnumerable<(int Unknown, double Coefficient)> measure)
    {
        List<(int, double)> terms = [.. measure];
        for (var k = _lowest; k < _at.Length; k++)
        {
            terms.Add((program.Add(0, k + 1 < _at.Length ? _at[k + 1] - _at[k] : double.PositiveInfinity, Math.Max(0, _slopes[k + 1])), -1));
        }

        for (var k = _lowest; k >= 0; k--)
        {
            terms.Add((program.Add(0, k > 0 ? _at[k] - _at[k - 1] : double.PositiveInfinity, Math.Max(0, -_slopes[k])), 1));
        }

        program.AddRow(_at[_lowest] - constant, _at[_lowest] - constant, terms);
        return Math.Max(0, At(_at[_lowest]));
    }
}
