using MathNet.Numerics.LinearAlgebra;
using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Series;

/// <summary>A series to be regressed: equally spaced, in order of time. The intercept is added.</summary>
public sealed record SeriesRequest
{
    public required double[] Values { get; init; }

    public required IReadOnlyList<string> Names { get; init; }

    public required IReadOnlyList<double[]> Covariates { get; init; }

    /// <summary>The three covariates of an interrupted series: time, a step after the change, and the change of slope since.</summary>
    /// <param name="values">The series.</param>
    /// <param name="lastBefore">How many values lie before the change.</param>
    public static SeriesRequest Interrupted(double[] values, int lastBefore) => new()
    {
        Values = values,
        Names = ["t", "step", "t_after"],
        Covariates =
        [
            [.. values.Select((_, i) => i + 1.0)],
            [.. values.Select((_, i) => i + 1 > lastBefore ? 1.0 : 0)],
            [.. values.Select((_, i) => Math.Max(0.0, i + 1 - lastBefore))],
        ],
    };
}

/// <summary>Ordinary least squares of a series, with what tells whether its errors hang together.</summary>
public sealed record LinearFit
{
    /// <summary>"(Intercept)" and the covariates.</summary>
    public required IReadOnlyList<string> Names { get; init; }

    public double[]? Coefficients { get; init; }

    public double[]? StandardErrors { get; init; }

    public double[]? P { get; init; }

    public Interval95[]? Intervals { get; init; }

    public double Sigma { get; init; }

    public double RSquared { get; init; }

    public double ResidualSumOfSquares { get; init; }

    public double DurbinWatson { get; init; }

    public double Lag1Autocorrelation { get; init; }

    public double[]? Residuals { get; init; }

    public required int N { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>A 95 % interval.</summary>
public readonly record struct Interval95(double Lower, double Upper);

/// <summary>Generalised least squares with errors of which each hangs on the one before.</summary>
public sealed record AutoregressiveFit
{
    public required IReadOnlyList<string> Names { get; init; }

    public double[]? Coefficients { get; init; }

    /// <summary>With the divisor n - p, for maximum likelihood too.</summary>
    public double[]? StandardErrors { get; init; }

    /// <summary>Correlation of neighbours.</summary>
    public double Rho { get; init; }

    /// <summary>Standard deviation of the errors themselves.</summary>
    public double Sigma { get; init; }

    /// <summary>Standard deviation of one step given the one before.</summary>
    public double InnovationSigma { get; init; }

    /// <summary>Of maximum likelihood; null for the restricted one.</summary>
    public double? LogLikelihood { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Regression of a series before and after a change: least squares, errors that bear autocorrelation (Newey and West 1987), and generalised least squares with AR(1) errors (Prais and Winsten 1954).</summary>
public static class LinearSeries
{
    public static LinearFit Ordinary(SeriesRequest request)
    {
        var (empty, x) = Prepare(request);
        if (empty.Cannot is not null)
        {
            return empty;
        }

        var (beta, inverse, residuals) = Solve(x, request.Values);
        var n = residuals.Length;
        var df = n - x.ColumnCount;
        var rss = residuals.Sum(e => e * e);
        var sigma = Math.Sqrt(rss / df);
        var mean = request.Values.Average();
        double steps = 0, products = 0;
        for (var i = 1; i < n; i++)
        {
            steps += (residuals[i] - residuals[i - 1]) * (residuals[i] - residuals[i - 1]);
            products += residuals[i] * residuals[i - 1];
        }

        var errors = beta.Select((_, j) => sigma * Math.Sqrt(inverse[j, j])).ToArray();
        var t = Tails.StudentFor(0.95, df);
        if (rss <= 1e-20 * request.Values.Sum(y => y * y))
        {
            return empty with { Coefficients = beta, Cannot = "The line goes through every point, so there is no scatter from which an error could be told." };
        }

        return empty with
        {
            Coefficients = beta,
            StandardErrors = errors,
            P = [.. beta.Select((b, j) => Tails.StudentTwoSided(b / errors[j], df))],
            Intervals = [.. beta.Select((b, j) => new Interval95(b - t * errors[j], b + t * errors[j]))],
            Sigma = sigma,
            ResidualSumOfSquares = rss,
            RSquared = 1 - rss / request.Values.Sum(y => (y - mean) * (y - mean)),
            DurbinWatson = steps / rss,
            Lag1Autocorrelation = products / rss,
            Residuals = residuals,
        };
    }

    /// <summary>Newey–West standard errors: Bartlett weights 1 - l/(L+1), no prewhitening, no small-sample factor.</summary>
    public static double[] NeweyWest(SeriesRequest request, int lags)
    {
        var (empty, x) = Prepare(request);
        if (empty.Cannot is not null)
        {
            throw new EvidenceInputException("series", request.Values.Length, empty.Cannot);
        }

        if (lags < 0 || lags >= request.Values.Length)
        {
            throw new EvidenceInputException("lags", lags, $"0 to {request.Values.Length - 1}");
        }

        var (_, inverse, residuals) = Solve(x, request.Values);
        var p = x.ColumnCount;
        var meat = Matrix<double>.Build.Dense(p, p);
        for (var l = 0; l <= lags; l++)
        {
            var weight = 1 - l / (lags + 1.0);
            for (var t = l; t < residuals.Length; t++)
            {
                for (var a = 0; a < p; a++)
                {
                    for (var b = 0; b < p; b++)
                    {
                        var term = residuals[t] * residuals[t - l] * x[t, a] * x[t - l, b] * weight;
                        meat[a, b] += term;
                        if (l > 0)
                        {
                            meat[b, a] += term;
                        }
                    }
                }
            }
        }

        var covariance = inverse * meat * inverse;
        return [.. Enumerable.Range(0, p).Select(j => Math.Sqrt(covariance[j, j]))];
    }

    /// <summary>AR(1) errors by maximum likelihood, or by restricted maximum likelihood (less biased with few values).</summary>
    public static AutoregressiveFit Autoregressive(SeriesRequest request, bool restricted)
    {
        var (empty, x) = Prepare(request);
        if (empty.Cannot is not null)
        {
            return new AutoregressiveFit { Names = empty.Names, Cannot = empty.Cannot };
        }

        var n = request.Values.Length;
        var p = x.ColumnCount;
        var y = request.Values;
        double Profile(double rho)
        {
            var (rss, logDet) = Transformed(x, y, rho).Summary;
            var df = restricted ? n - p : n;
            return -0.5 * df * Math.Log(rss) + 0.5 * Math.Log(1 - rho * rho) - (restricted ? 0.5 * logDet : 0);
        }

        var rho = Roots.Maximise(Profile, -0.999, 0.999, 200);
        if (Math.Abs(rho) > 0.997)
        {
            return new AutoregressiveFit { Names = empty.Names, Cannot = "Each value follows the one before so closely that level and drift cannot be told apart; look at the steps from one value to the next instead." };
        }

        var fit = Transformed(x, y, rho);
        var scale = Math.Sqrt(1 - rho * rho);
        var innovation = Math.Sqrt(fit.Summary.Rss / (restricted ? n - p : n));
        return new AutoregressiveFit
        {
            Names = empty.Names,
            Coefficients = fit.Beta,
            StandardErrors = [.. Enumerable.Range(0, p).Select(j => Math.Sqrt(fit.Summary.Rss / (n - p) * fit.Inverse[j, j]))],
            Rho = rho,
            InnovationSigma = innovation,
            Sigma = innovation / scale,
            LogLikelihood = restricted ? null : -0.5 * n * (Math.Log(2 * Math.PI * fit.Summary.Rss / n) + 1) + 0.5 * Math.Log(1 - rho * rho),
        };
    }

    private static (double[] Beta, Matrix<double> Inverse, (double Rss, double LogDet) Summary) Transformed(Matrix<double> x, double[] y, double rho)
    {
        var first = Math.Sqrt(1 - rho * rho);
        var z = Matrix<double>.Build.Dense(x.RowCount, x.ColumnCount, (i, j) => i == 0 ? first * x[0, j] : x[i, j] - rho * x[i - 1, j]);
        var w = y.Select((value, i) => i == 0 ? first * value : value - rho * y[i - 1]).ToArray();
        var (beta, inverse, residuals) = Solve(z, w);
        return (beta, inverse, (residuals.Sum(e => e * e), -Math.Log(inverse.Determinant())));
    }

    private static (double[] Beta, Matrix<double> Inverse, double[] Residuals) Solve(Matrix<double> x, double[] y)
    {
        var qr = x.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
        var vector = Vector<double>.Build.Dense(y);
        var beta = qr.Solve(vector);
        var inverseR = qr.R.Inverse();
        return (beta.ToArray(), inverseR * inverseR.Transpose(), (vector - x * beta).ToArray());
    }

    private static (LinearFit Empty, Matrix<double> X) Prepare(SeriesRequest request)
    {
        var n = request.Values.Length;
        if (Array.Exists(request.Values, value => !double.IsFinite(value)))
        {
            throw new EvidenceInputException("value", "a value that is no number", "a number at every time");
        }

        var x = Matrix<double>.Build.Dense(n, request.Names.Count + 1, (i, j) => j == 0 ? 1 : request.Covariates[j - 1][i]);
        var empty = new LinearFit { Names = ["(Intercept)", .. request.Names], N = n };
        for (var j = 0; j < request.Names.Count; j++)
        {
            if (request.Covariates[j].Length > 0 && request.Covariates[j].All(value => value == request.Covariates[j][0]))
            {
                return (empty with { Cannot = $"{request.Names[j]} never varies in this series, so the series says nothing about it." }, x);
            }
        }

        if (n < x.ColumnCount + 2)
        {
            return (empty with { Cannot = $"{n} values are too few for {x.ColumnCount} coefficients and an error: {x.ColumnCount + 2} are the least, and some 20 before anything can be told." }, x);
        }

        if (request.Values.All(value => value == request.Values[0]))
        {
            return (empty with { Cannot = "The value never changes, so there is nothing to explain." }, x);
        }

        // A column that the ones before it make up: judged on columns of unit length.
        var lengths = x.EnumerateColumns().Select(column => column.L2Norm()).ToArray();
        var qr = Matrix<double>.Build.Dense(n, x.ColumnCount, (i, j) => x[i, j] / lengths[j]).QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
        for (var j = 0; j < x.ColumnCount; j++)
        {
            if (Math.Abs(qr.R[j, j]) < 1e-9)
            {
                return (empty with { Cannot = $"{empty.Names[j]} follows from the covariates before it and cannot be told apart from them." }, x);
            }
        }

        return (empty, x);
    }
}
