using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Pooling;

/// <summary>Values that hang together in groups (plants). Every column is given outright, the intercept too.</summary>
public sealed record MixedRequest
{
    public required double[] Values { get; init; }

    public required IReadOnlyList<string> Groups { get; init; }

    public required IReadOnlyList<string> FixedNames { get; init; }

    public required IReadOnlyList<double[]> Fixed { get; init; }

    public required IReadOnlyList<string> RandomNames { get; init; }

    public required IReadOnlyList<double[]> Random { get; init; }

    /// <summary>Restricted maximum likelihood; else maximum likelihood.</summary>
    public bool Restricted { get; init; } = true;

    /// <summary>A mean and a random intercept per group, with further fixed covariates.</summary>
    public static MixedRequest Intercepts(double[] values, IReadOnlyList<string> groups, IReadOnlyList<string>? names = null, IReadOnlyList<double[]>? covariates = null)
    {
        var ones = new double[values.Length];
        Array.Fill(ones, 1);
        return new MixedRequest { Values = values, Groups = groups, FixedNames = ["(Intercept)", .. names ?? []], Fixed = [ones, .. covariates ?? []], RandomNames = ["(Intercept)"], Random = [ones] };
    }
}

/// <summary>A fitted linear mixed model with one grouping.</summary>
public sealed record MixedFit
{
    public required IReadOnlyList<string> FixedNames { get; init; }

    public required IReadOnlyList<string> RandomNames { get; init; }

    /// <summary>In order of first appearance.</summary>
    public required IReadOnlyList<string> Groups { get; init; }

    public double[]? Coefficients { get; init; }

    public double[]? StandardErrors { get; init; }

    /// <summary>Standard deviation of each random effect over the groups.</summary>
    public double[]? RandomDeviations { get; init; }

    /// <summary>Correlations of the random effects.</summary>
    public double[,]? RandomCorrelations { get; init; }

    public double Residual { get; init; }

    public double LogLikelihood { get; init; }

    /// <summary>Per group and random effect: how far the group lies from the fixed effect, shrunk.</summary>
    public double[][]? Deviations { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Linear mixed model by (restricted) profiled likelihood: Bates, Mächler, Bolker and Walker 2015 (from memory) for the profile in the relative factor of the random effects.</summary>
public static class MixedModel
{
    public static MixedFit Fit(MixedRequest request)
    {
        var (cells, names) = Cells.From(request);
        var n = request.Values.Length;
        var p = request.Fixed.Count;
        var q = request.Random.Count;
        var empty = new MixedFit { FixedNames = request.FixedNames, RandomNames = request.RandomNames, Groups = names };
        if (names.Count < 2)
        {
            return empty with { Cannot = "All values are of one group, so how groups differ cannot be told." };
        }

        if (names.Count == n)
        {
            return empty with { Cannot = "Each group has one value, so differences between groups cannot be told from scatter within." };
        }

        if (n <= p + 1 || cells.Dependent)
        {
            return empty with { Cannot = n <= p + 1 ? $"{n} values cannot carry {p} coefficients and two spreads." : "One fixed covariate follows from the others (or never varies); leave it out." };
        }

        double[] theta;
        if (q == 1)
        {
            // The relative deviation, mapped from 0..infinity to 0..1; at 0 the groups do not differ at all.
            double Profile(double s) => cells.Evaluate([s / (1 - s)], request.Restricted).LogLikelihood;
            var best = Roots.Maximise(Profile, 0, 0.9999, 100);
            theta = [Profile(0) >= Profile(best) || best < 1e-5 ? 0 : best / (1 - best)];
        }
        else
        {
            var start = new double[q * (q + 1) / 2];
            for (int j = 0, k = 0; j < q; k += q - j, j++)
            {
                start[k] = Math.Sqrt(n / Math.Max(1e-300, request.Random[j].Sum(z => z * z)));
            }

            var step = start.Select(s => s == 0 ? start.Max() / 2 : s / 2).ToArray();
            theta = Maximiser.Find(t => cells.Evaluate(t, request.Restricted).LogLikelihood, start, step);
        }

        var fit = cells.Evaluate(theta, request.Restricted);
        return Report(empty, cells, theta, fit);
    }

    private static MixedFit Report(MixedFit empty, Cells cells, double[] theta, Cells.Found fit)
    {
        var q = empty.RandomNames.Count;
        var lambda = Cells.Lambda(theta, q);
        var deviations = new double[q];
        var correlations = new double[q, q];
        for (var a = 0; a < q; a++)
        {
            for (var b = 0; b < q; b++)
            {
                for (var k = 0; k < q; k++)
                {
                    correlations[a, b] += lambda[a, k] * lambda[b, k];
                }
            }

            deviations[a] = fit.Sigma * Math.Sqrt(correlations[a, a]);
        }

        var scales = Enumerable.Range(0, q).Select(a => Math.Sqrt(correlations[a, a])).ToArray();
        for (var a = 0; a < q; a++)
        {
            for (var b = 0; b < q; b++)
            {
                correlations[a, b] = scales[a] > 0 && scales[b] > 0 ? correlations[a, b] / (scales[a] * scales[b]) : a == b ? 1 : 0;
            }
        }

        return empty with
        {
            Coefficients = fit.Beta,
            StandardErrors = [.. Enumerable.Range(0, fit.Beta.Length).Select(j => fit.Sigma * Math.Sqrt(fit.Inverse[j, j]))],
            RandomDeviations = deviations,
            RandomCorrelations = correlations,
            Residual = fit.Sigma,
            LogLikelihood = fit.LogLikelihood,
            Deviations = cells.Deviations(lambda, fit.Beta),
        };
    }

    /// <summary>Cross products per group, on values from which the least squares fit is taken away first (no digits are lost to a large mean).</summary>
    private sealed class Cells
    {
        private readonly List<(double[,] ZZ, double[,] ZX, double[] ZY)> _groups = [];
        private readonly double[,] _xx;
        private readonly double[] _xy;
        private readonly double[] _ordinary;
        private readonly double _yy;
        private readonly int _n;
        private readonly int _p;
        private readonly int _q;

        private Cells(MixedRequest request, List<string> names)
        {
            (_n, _p, _q) = (request.Values.Length, request.Fixed.Count, request.Random.Count);
            _xx = new double[_p, _p];
            _xy = new double[_p];
            for (var a = 0; a < _p; a++)
            {
                _xy[a] = Dot(request.Fixed[a], request.Values);
                for (var b = 0; b < _p; b++)
                {
                    _xx[a, b] = Dot(request.Fixed[a], request.Fixed[b]);
                }
            }

            Dependent = SymmetricMatrix.Factor(_xx, out var lower, 1e-11) >= 0;
            _ordinary = Dependent ? new double[_p] : SymmetricMatrix.Solve(lower, _xy);
            var residual = request.Values.Select((y, i) => y - request.Fixed.Select((x, j) => x[i] * _ordinary[j]).Sum()).ToArray();
            for (var a = 0; a < _p; a++)
            {
                _xy[a] = Dot(request.Fixed[a], residual);
            }

            _yy = Dot(residual, residual);
            foreach (var name in names)
            {
                var rows = Enumerable.Range(0, _n).Where(i => request.Groups[i] == name).ToArray();
                var zz = new double[_q, _q];
                var zx = new double[_q, _p];
                var zy = new double[_q];
                foreach (var i in rows)
                {
                    for (var a = 0; a < _q; a++)
                    {
                        zy[a] += request.Random[a][i] * residual[i];
                        for (var b = 0; b < _q; b++)
                        {
                            zz[a, b] += request.Random[a][i] * request.Random[b][i];
                        }

                        for (var b = 0; b < _p; b++)
                        {
                            zx[a, b] += request.Random[a][i] * request.Fixed[b][i];
                        }
                    }
                }

                _groups.Add((zz, zx, zy));
            }
        }

        public bool Dependent { get; }

        public sealed record Found(double LogLikelihood, double[] Beta, double[,] Inverse, double Sigma);

        public static (Cells Cells, List<string> Names) From(MixedRequest request)
        {
            var names = request.Groups.Distinct().ToList();
            return (new Cells(request, names), names);
        }

        public static double[,] Lambda(double[] theta, int q)
        {
            var lambda = new double[q, q];
            for (int j = 0, k = 0; j < q; j++)
            {
                for (var i = j; i < q; i++, k++)
                {
                    lambda[i, j] = theta[k];
                }
            }

            return lambda;
        }

        public Found Evaluate(double[] theta, bool restricted)
        {
            var lambda = Lambda(theta, _q);
            var xx = (double[,])_xx.Clone();
            var xy = (double[])_xy.Clone();
            var yy = _yy;
            var logDet = 0.0;
            foreach (var (zz, zx, zy) in _groups)
            {
                var lower = Inner(lambda, zz);
                logDet += SymmetricMatrix.LogDeterminant(lower);
                var u = Half(lambda, zy);
                var su = SymmetricMatrix.Solve(lower, u);
                yy -= Dot(u, su);
                for (var a = 0; a < _p; a++)
                {
                    var column = new double[_q];
                    for (var k = 0; k < _q; k++)
                    {
                        column[k] = zx[k, a];
                    }

                    var c = Half(lambda, column);
                    var sc = SymmetricMatrix.Solve(lower, c);
                    xy[a] -= Dot(c, su);
                    for (var b = 0; b < _p; b++)
                    {
                        for (var k = 0; k < _q; k++)
                        {
                            column[k] = zx[k, b];
                        }

                        xx[b, a] -= Dot(Half(lambda, column), sc);
                    }
                }
            }

            if (SymmetricMatrix.Factor(xx, out var factor, 1e-14) >= 0)
            {
                return new Found(double.NegativeInfinity, _ordinary, new double[_p, _p], 0);
            }

            var beta = SymmetricMatrix.Solve(factor, xy);
            var rss = yy - Dot(beta, xy);
            var df = restricted ? _n - _p : _n;
            var sigma2 = rss / df;
            var log = -0.5 * (df * (Math.Log(2 * Math.PI * sigma2) + 1) + logDet + (restricted ? SymmetricMatrix.LogDeterminant(factor) : 0));
            return new Found(log, [.. beta.Select((b, j) => b + _ordinary[j])], SymmetricMatrix.Inverse(xx, 1e-14)!, Math.Sqrt(sigma2));
        }

        public double[][] Deviations(double[,] lambda, double[] beta)
        {
            var result = new double[_groups.Count][];
            for (var g = 0; g < result.Length; g++)
            {
                var (zz, zx, zy) = _groups[g];
                var residual = new double[_q];
                for (var a = 0; a < _q; a++)
                {
                    residual[a] = zy[a];
                    for (var b = 0; b < _p; b++)
                    {
                        residual[a] -= zx[a, b] * (beta[b] - _ordinary[b]);
                    }
                }

                var u = SymmetricMatrix.Solve(Inner(lambda, zz), Half(lambda, residual));
                result[g] = new double[_q];
                for (var a = 0; a < _q; a++)
                {
                    for (var k = 0; k < _q; k++)
                    {
                        result[g][a] += lambda[a, k] * u[k];
                    }
                }
            }

            return result;
        }

        private double[,] Inner(double[,] lambda, double[,] zz)
        {
            var inner = new double[_q, _q];
            for (var a = 0; a < _q; a++)
            {
                for (var b = 0; b < _q; b++)
                {
                    inner[a, b] = a == b ? 1 : 0;
                    for (var k = 0; k < _q; k++)
                    {
                        for (var l = 0; l < _q; l++)
                        {
                            inner[a, b] += lambda[k, a] * zz[k, l] * lambda[l, b];
                        }
                    }
                }
            }

            SymmetricMatrix.Factor(inner, out var lower, 0);
            return lower;
        }

        private double[] Half(double[,] lambda, double[] x)
        {
            var result = new double[_q];
            for (var a = 0; a < _q; a++)
            {
                for (var k = 0; k < _q; k++)
                {
                    result[a] += lambda[k, a] * x[k];
                }
            }

            return result;
        }

        private static double Dot(double[] a, double[] b)
        {
            var sum = 0.0;
            for (var i = 0; i < a.Length; i++)
            {
                sum += a[i] * b[i];
            }

            return sum;
        }
    }
}
