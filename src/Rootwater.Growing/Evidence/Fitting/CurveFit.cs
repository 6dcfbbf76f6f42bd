using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Fitting;

/// <summary>Points and the curve to be fitted through them.</summary>
public sealed record CurveRequest
{
    /// <summary>The curve: parameters and columns by name.</summary>
    public required CurveFormula Formula { get; init; }

    /// <summary>Parameters with their starting values.</summary>
    public required IReadOnlyList<(string Name, double Start)> Parameters { get; init; }

    /// <summary>Every other name in the formula, one value per point.</summary>
    public required IReadOnlyDictionary<string, double[]> Columns { get; init; }

    /// <summary>What is to be fitted.</summary>
    public required double[] Values { get; init; }
}

/// <summary>A fitted curve.</summary>
public sealed record FittedCurve
{
    public required IReadOnlyList<string> Names { get; init; }

    public double[]? Coefficients { get; init; }

    public double[]? StandardErrors { get; init; }

    public double ResidualSumOfSquares { get; init; }

    /// <summary>With the divisor n - p.</summary>
    public double? ResidualDeviation { get; init; }

    public required int N { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Non-linear least squares: Levenberg–Marquardt (1944, 1963) on exact derivatives, until the residuals stand at right angles to the curve.</summary>
public static class CurveFit
{
    private static readonly double[] s_beside = [0.1, 0.3, 3, 10];

    public static FittedCurve Fit(CurveRequest request)
    {
        var model = new CurveModel(request);
        var p = request.Parameters.Count;
        var n = request.Values.Length;
        var empty = new FittedCurve { Names = [.. request.Parameters.Select(parameter => parameter.Name)], N = n };
        if (n < p)
        {
            return empty with { Cannot = $"{n} points cannot carry {p} parameters." };
        }

        var start = request.Parameters.Select(parameter => parameter.Start).ToArray();
        var found = Descend(request, model, start);
        if (!double.IsFinite(found.Rss))
        {
            throw new EvidenceInputException("start", string.Join(", ", request.Parameters.Select(q => FormattableString.Invariant($"{q.Name}={q.Start}"))), "starting values at which the curve is defined at every point");
        }

        if (Flat(found, n))
        {
            // It leapt to where the curve is flat and a parameter says nothing any more. From starts beside the one given the way may lead elsewhere; the best is kept.
            foreach (var (j, factor) in Enumerable.Range(0, p).SelectMany(j => s_beside.Select(factor => (j, factor))))
            {
                var other = Descend(request, model, [.. start.Select((x, i) => i == j ? factor * x : x)]);
                if (!Flat(other, n) && (Flat(found, n) || other.Rss < found.Rss))
                {
                    found = other;
                }
            }
        }

        if (found.Inverse is not { } inverse)
        {
            return empty with { Coefficients = found.At, ResidualSumOfSquares = found.Rss, Cannot = "The points do not fix all parameters of this curve: several sets fit equally well. More points where the curve bends would, or a simpler curve." };
        }

        var deviation = n > p ? Math.Sqrt(found.Rss / (n - p)) : (double?)null;
        return empty with
        {
            Coefficients = found.At,
            StandardErrors = deviation is null ? null : [.. Enumerable.Range(0, p).Select(j => deviation.Value * Math.Sqrt(inverse[j, j]))],
            ResidualSumOfSquares = found.Rss,
            ResidualDeviation = deviation,
            Cannot = deviation is null ? "As many parameters as points: the curve goes through them all and no error can be told." : null,
        };
    }

    private sealed record Found(double[] At, double Rss, double[,]? Inverse);

    /// <summary>True where some parameter could be anything: its error is a hundred times and more its size.</summary>
    private static bool Flat(Found found, int n) => found.Inverse is not { } inverse || n > found.At.Length && Enumerable.Range(0, found.At.Length).Any(j => Math.Sqrt(found.Rss / (n - found.At.Length) * inverse[j, j]) > 100 * Math.Abs(found.At[j]) + 1e-12);

    private static Found Descend(CurveRequest request, CurveModel model, double[] start)
    {
        var damping = 1e-3;
        var p = request.Parameters.Count;
        var n = request.Values.Length;
        var at = (double[])start.Clone();
        var jacobian = new double[n * p];
        var residuals = new double[n];
        var rss = model.Residuals(at, residuals, jacobian);
        if (!double.IsFinite(rss))
        {
            return new Found(at, double.PositiveInfinity, null);
        }

        var trial = new double[n];
        var trialJacobian = new double[n * p];
        for (var step = 0; step < 2000; step++)
        {
            var (normal, right) = Normal(jacobian, residuals, n, p);
            // Cosine of the angle between residuals and curve, the stopping rule of Bates and Watts 1988.
            if (rss <= 1e-28 * request.Values.Sum(y => y * y) || Converged(normal, right, rss))
            {
                break;
            }

            var moved = false;
            while (damping < 1e16)
            {
                var damped = (double[,])normal.Clone();
                for (var j = 0; j < p; j++)
                {
                    damped[j, j] += damping * Math.Max(normal[j, j], 1e-300);
                }

                if (SymmetricMatrix.Factor(damped, out var lower, 1e-15) < 0)
                {
                    var move = SymmetricMatrix.Solve(lower, right);
                    var to = at.Select((x, j) => x + move[j]).ToArray();
                    var there = model.Residuals(to, trial, trialJacobian);
                    if (there < rss)
                    {
                        (at, rss, moved) = (to, there, true);
                        (residuals, trial) = (trial, residuals);
                        (jacobian, trialJacobian) = (trialJacobian, jacobian);
                        damping = Math.Max(damping / 10, 1e-15);
                        break;
                    }
                }

                damping *= 10;
            }

            if (!moved)
            {
                break;
            }
        }

        // The sum of squares is flat to rounding before the parameters stand still: plain Gauss–Newton steps, as long as each is shorter than the last.
        var last = double.PositiveInfinity;
        for (var step = 0; step < 20; step++)
        {
            var (normal, right) = Normal(jacobian, residuals, n, p);
            if (SymmetricMatrix.Factor(normal, out var lower, 1e-15) >= 0)
            {
                break;
            }

            var move = SymmetricMatrix.Solve(lower, right);
            var length = move.Select((m, j) => Math.Abs(m / (Math.Abs(at[j]) + 1e-300))).Max();
            var to = at.Select((x, j) => x + move[j]).ToArray();
            var there = model.Residuals(to, trial, trialJacobian);
            if (length >= last || !(there <= rss * (1 + 1e-9)))
            {
                break;
            }

            (at, rss, last) = (to, there, length);
            (residuals, trial) = (trial, residuals);
            (jacobian, trialJacobian) = (trialJacobian, jacobian);
        }

        return new Found(at, rss, SymmetricMatrix.Inverse(Normal(jacobian, residuals, n, p).Normal, 1e-14));
    }

    private static bool Converged(double[,] normal, double[] right, double rss) =>
        SymmetricMatrix.Factor(normal, out var lower, 1e-15) < 0 && SymmetricMatrix.Solve(lower, right) is var move && move.Select((m, j) => m * right[j]).Sum() < 1e-22 * rss;

    private static (double[,] Normal, double[] Right) Normal(double[] jacobian, double[] residuals, int n, int p)
    {
        var normal = new double[p, p];
        var right = new double[p];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < p; j++)
            {
                right[j] += jacobian[i * p + j] * residuals[i];
                for (var l = 0; l <= j; l++)
                {
                    normal[j, l] += jacobian[i * p + j] * jacobian[i * p + l];
                    normal[l, j] = normal[j, l];
                }
            }
        }

        return (normal, right);
    }
}
