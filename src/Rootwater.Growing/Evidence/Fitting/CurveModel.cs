namespace Rootwater.Growing.Evidence.Fitting;

/// <summary>A curve bound to its points: values and derivatives at any parameters.</summary>
internal sealed class CurveModel
{
    private readonly CurveFormula _formula;
    private readonly double[] _values;
    private readonly double[][] _columns;
    private readonly int _p;

    public CurveModel(CurveRequest request)
    {
        var names = request.Parameters.Select(parameter => parameter.Name).ToArray();
        foreach (var name in names)
        {
            if (!request.Formula.Names.Contains(name))
            {
                throw new EvidenceInputException("start", name, "parameters that stand in the formula: " + string.Join(", ", request.Formula.Names));
            }
        }

        _formula = request.Formula.With(names);
        _p = names.Length;
        _values = request.Values;
        _columns = [.. _formula.Names.Skip(_p).Select(name => request.Columns.TryGetValue(name, out var column)
            ? column
            : throw new EvidenceInputException("formula", name, "parameters with a starting value, or columns of the table"))];
    }

    public int N => _values.Length;

    /// <summary>Value minus curve at each point, with the derivatives of the curve; returns the sum of squares.</summary>
    public double Residuals(double[] parameters, double[] residuals, double[] jacobian)
    {
        var sum = 0.0;
        Span<double> all = stackalloc double[_p + _columns.Length];
        parameters.CopyTo(all);
        for (var i = 0; i < N; i++)
        {
            for (var c = 0; c < _columns.Length; c++)
            {
                all[_p + c] = _columns[c][i];
            }

            residuals[i] = _values[i] - _formula.Evaluate(all, jacobian.AsSpan(i * _p, _p));
            sum += residuals[i] * residuals[i];
        }

        return sum;
    }

    /// <summary>Value minus curve at one point, with the derivatives of the curve.</summary>
    public double Residual(int point, ReadOnlySpan<double> parameters, Span<double> gradient)
    {
        Span<double> all = stackalloc double[_p + _columns.Length];
        parameters.CopyTo(all);
        for (var c = 0; c < _columns.Length; c++)
        {
            all[_p + c] = _columns[c][point];
        }

        return _values[point] - _formula.Evaluate(all, gradient);
    }
}
