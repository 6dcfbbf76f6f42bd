namespace Rootwater.Growing.Labels;

/// <summary>Least squares with no unknown below zero: min ½ xᵀGx − hᵀx, x ≥ 0, for a small dense G = AᵀA and h = Aᵀb.</summary>
/// <remarks>
/// Active-set method of Lawson and Hanson, Solving Least Squares Problems (1974), chapter 23, on the normal equations as in Bro and de Jong, J.
/// Chemometrics 11 (1997) 393. Columns are scaled to unit length and a ridge of 1e-9 keeps G regular where columns repeat one another (KNO3 + NH4Cl is
/// KCl + NH4NO3); the caller's weights keep everything that matters far above it. The answer meets the conditions of Karush, Kuhn and Tucker, which a
/// test checks.
/// </remarks>
internal sealed class NonNegativeLeastSquares
{
    private const double Ridge = 1e-9;
    private const double Tolerance = 1e-9;

    private readonly double[,] _gram;
    private readonly double[] _right;
    private readonly double[] _scale;
    private readonly int _count;

    /// <summary>From rows of A and b.</summary>
    public NonNegativeLeastSquares(double[,] rows, double[] right)
    {
        var rowCount = rows.GetLength(0);
        _count = rows.GetLength(1);
        _gram = new double[_count, _count];
        _right = new double[_count];
        _scale = new double[_count];
        for (var j = 0; j < _count; j++)
        {
            var square = 0.0;
            for (var i = 0; i < rowCount; i++)
            {
                square += rows[i, j] * rows[i, j];
            }

            _scale[j] = square > 0 ? 1 / Math.Sqrt(square) : 1;
        }

        for (var j = 0; j < _count; j++)
        {
            for (var k = 0; k <= j; k++)
            {
                var dot = 0.0;
                for (var i = 0; i < rowCount; i++)
                {
                    dot += rows[i, j] * rows[i, k];
                }

                _gram[j, k] = _gram[k, j] = dot * _scale[j] * _scale[k];
            }

            _gram[j, j] += Ridge;
            for (var i = 0; i < rowCount; i++)
            {
                _right[j] += rows[i, j] * right[i];
            }

            _right[j] *= _scale[j];
        }
    }

    /// <summary>Solves over the allowed unknowns; the others stay zero.</summary>
    /// <param name="allowed">Which unknowns may be above zero.</param>
    /// <param name="cost">A price per unit of each unknown, taken off h; null for none.</param>
    public double[] Solve(ReadOnlySpan<bool> allowed, ReadOnlySpan<double> cost = default)
    {
        var h = (double[])_right.Clone();
        for (var j = 0; j < cost.Length; j++)
        {
            h[j] -= cost[j] * _scale[j];
        }

        var x = new double[_count];
        var passive = new bool[_count];
        var blocked = new bool[_count];
        for (var step = 0; step < 10 * _count; step++)
        {
            var enter = MostWanted(x, h, passive, allowed, blocked);
            if (enter < 0)
            {
                break;
            }

            passive[enter] = true;
            var trial = SolvePassive(passive, h);
            if (trial[enter] <= 0)
            {
                // Roundoff, not a descent direction: leave it out until something else has moved.
                passive[enter] = false;
                blocked[enter] = true;
                continue;
            }

            Array.Clear(blocked);
            while (Lowest(trial, passive) <= 0)
            {
                var alpha = 1.0;
                for (var j = 0; j < _count; j++)
                {
                    if (passive[j] && trial[j] <= 0)
                    {
                        alpha = Math.Min(alpha, x[j] / (x[j] - trial[j]));
                    }
                }

                for (var j = 0; j < _count; j++)
                {
                    if (passive[j])
                    {
                        x[j] += alpha * (trial[j] - x[j]);
                        passive[j] = x[j] > 1e-14;
                        x[j] = passive[j] ? x[j] : 0;
                    }
                }

                trial = SolvePassive(passive, h);
            }

            x = trial;
        }

        for (var j = 0; j < _count; j++)
        {
            x[j] *= _scale[j];
        }

        return x;
    }

    private int MostWanted(double[] x, double[] h, bool[] passive, ReadOnlySpan<bool> allowed, bool[] blocked)
    {
        var (best, bestGradient) = (-1, Tolerance);
        for (var j = 0; j < _count; j++)
        {
            if (passive[j] || blocked[j] || !allowed[j])
            {
                continue;
            }

            var gradient = h[j];
            for (var k = 0; k < _count; k++)
            {
                if (passive[k])
                {
                    gradient -= _gram[j, k] * x[k];
                }
            }

            if (gradient > bestGradient)
            {
                (best, bestGradient) = (j, gradient);
            }
        }

        return best;
    }

    private static double Lowest(double[] trial, bool[] passive)
    {
        var lowest = double.PositiveInfinity;
        for (var j = 0; j < trial.Length; j++)
        {
            if (passive[j])
            {
                lowest = Math.Min(lowest, trial[j]);
            }
        }

        return lowest;
    }

    /// <summary>Cholesky on the passive columns.</summary>
    private double[] SolvePassive(bool[] passive, double[] h)
    {
        var size = 0;
        Span<int> index = stackalloc int[_count];
        for (var j = 0; j < _count; j++)
        {
            if (passive[j])
            {
                index[size++] = j;
            }
        }

        var factor = new double[size * size];
        var y = new double[size];
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = _gram[index[i], index[j]];
                for (var k = 0; k < j; k++)
                {
                    sum -= factor[i * size + k] * factor[j * size + k];
                }

                factor[i * size + j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-12)) : sum / factor[j * size + j];
            }

            var rest = h[index[i]];
            for (var k = 0; k < i; k++)
            {
                rest -= factor[i * size + k] * y[k];
            }

            y[i] = rest / factor[i * size + i];
        }

        var x = new double[_count];
        for (var i = size - 1; i >= 0; i--)
        {
            var rest = y[i];
            for (var k = i + 1; k < size; k++)
            {
                rest -= factor[k * size + i] * x[index[k]];
            }

            x[index[i]] = rest / factor[i * size + i];
        }

        return x;
    }
}
