using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Pooling;

namespace Rootwater.Growing.Evidence.Fitting;

/// <summary>A curve fitted to several plants at once, one parameter of which differs from plant to plant by a normal deviation.</summary>
public sealed record GroupedCurve
{
    public required IReadOnlyList<string> Names { get; init; }

    public double[]? Coefficients { get; init; }

    /// <summary>Null for the exact likelihood, whose errors are not asked for.</summary>
    public double[]? StandardErrors { get; init; }

    /// <summary>Standard deviation of the random parameter over the groups.</summary>
    public double GroupDeviation { get; init; }

    public double ResidualDeviation { get; init; }

    public double LogLikelihood { get; init; }

    /// <summary>In order of first appearance.</summary>
    public required IReadOnlyList<string> Groups { get; init; }

    /// <summary>How far each group's parameter lies from the common one, shrunk.</summary>
    public double[]? Deviations { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Non-linear mixed models with one random parameter: the exact marginal likelihood, and the alternation of Lindstrom and Bates 1990 that approximates it.</summary>
public static class GroupedCurveFit
{
    /// <summary>Maximum of the exact marginal likelihood. Where the curve is linear in the random parameter the integral over it has a closed form; elsewhere it is taken by adaptive Gauss–Hermite quadrature.</summary>
    public static GroupedCurve Exact(CurveRequest request, IReadOnlyList<string> groups, string random)
    {
        var (model, cells, names, r, empty) = Prepare(request, groups, random);
        if (empty.Cannot is not null)
        {
            return empty;
        }

        var start = Approximate(request, groups, random);
        if (start.Coefficients is not { } beta)
        {
            return start;
        }

        var p = names.Length;
        var likelihood = new GroupedLikelihood(model, cells, r, p);
        double[] at = [.. beta, Math.Log(start.ResidualDeviation), Math.Log(Math.Max(start.GroupDeviation, start.ResidualDeviation * 1e-2))];
        double[] step = [.. start.StandardErrors!.Select((se, j) => double.IsFinite(se) && se > 0 ? se : Math.Abs(beta[j]) * 0.05 + 1e-6), 0.15, 0.3];
        var found = Maximiser.Find(likelihood.Evaluate, at, step);
        return empty with
        {
            Coefficients = found[..p],
            ResidualDeviation = Math.Exp(found[p]),
            GroupDeviation = Math.Exp(found[p + 1]),
            LogLikelihood = likelihood.Evaluate(found),
            Deviations = likelihood.Modes(found),
        };
    }

    /// <summary>Lindstrom and Bates 1990, maximum likelihood: penalised least squares for the curve, then a linear mixed model of the curve's tangent for the spreads, in turn until neither moves. Errors with the divisor n.</summary>
    public static GroupedCurve Approximate(CurveRequest request, IReadOnlyList<string> groups, string random)
    {
        var (model, cells, names, r, empty) = Prepare(request, groups, random);
        if (empty.Cannot is not null)
        {
            return empty;
        }

        var single = CurveFit.Fit(request);
        if (single.Coefficients is null || single.StandardErrors is null)
        {
            return empty with { Cannot = single.Cannot };
        }

        var p = names.Length;
        var n = model.N;
        var beta = (double[])single.Coefficients.Clone();
        var b = new double[cells.Count];
        var ratio = 1.0;
        MixedFit? mixed = null;
        for (var round = 0; round < 200; round++)
        {
            Penalised(model, cells, r, beta, b, ratio <= 0 ? 1e-6 : ratio);
            var (tangent, slopes, response) = Tangent(model, cells, r, p, beta, b);
            mixed = MixedModel.Fit(new MixedRequest { Values = response, Groups = groups, FixedNames = names, Fixed = slopes, RandomNames = [random], Random = [tangent], Restricted = false });
            if (mixed.Cannot is not null)
            {
                return empty with { Cannot = mixed.Cannot };
            }

            var next = mixed.RandomDeviations![0] / mixed.Residual;
            var done = Math.Abs(next - ratio) < 1e-8 * (1 + ratio);
            ratio = next;
            if (done)
            {
                break;
            }
        }

        return empty with
        {
            Coefficients = beta,
            StandardErrors = mixed!.StandardErrors,
            GroupDeviation = mixed.RandomDeviations![0],
            ResidualDeviation = mixed.Residual,
            LogLikelihood = mixed.LogLikelihood,
            Deviations = b,
        };
    }

    private static (CurveModel Model, List<int[]> Cells, string[] Names, int Random, GroupedCurve Empty) Prepare(CurveRequest request, IReadOnlyList<string> groups, string random)
    {
        var names = request.Parameters.Select(parameter => parameter.Name).ToArray();
        var r = Array.IndexOf(names, random);
        if (r < 0)
        {
            throw new EvidenceInputException("random", random, "one of the parameters " + string.Join(", ", names));
        }

        var order = groups.Distinct().ToList();
        var cells = order.Select(group => Enumerable.Range(0, groups.Count).Where(i => groups[i] == group).ToArray()).ToList();
        return (new CurveModel(request), cells, names, r, new GroupedCurve
        {
            Names = names,
            Groups = order,
            Cannot = order.Count < 3 ? $"{order.Count} group(s) cannot show how groups differ: three are the least, and six before the spread means much." : null,
        });
    }

    /// <summary>Gauss–Newton on the sum of squares plus (deviation/ratio)² over parameters and deviations together, steps halved.</summary>
    private static void Penalised(CurveModel model, List<int[]> cells, int r, double[] beta, double[] b, double ratio)
    {
        var p = beta.Length;
        var gradient = new double[p];
        var here = Objective(beta, b);
        for (var step = 0; step < 200; step++)
        {
            var normal = new double[p, p];
            var right = new double[p];
            var inner = new (double Pivot, double[] Cross, double Right)[cells.Count];
            var parameters = new double[p];
            for (var g = 0; g < cells.Count; g++)
            {
                Array.Copy(beta, parameters, p);
                parameters[r] += b[g];
                var cross = new double[p];
                var pivot = 1 / (ratio * ratio);
                var rest = -b[g] / (ratio * ratio);
                foreach (var i in cells[g])
                {
                    var e = model.Residual(i, parameters, gradient);
                    pivot += gradient[r] * gradient[r];
                    rest += gradient[r] * e;
                    for (var j = 0; j < p; j++)
                    {
                        right[j] += gradient[j] * e;
                        cross[j] += gradient[j] * gradient[r];
                        for (var l = 0; l < p; l++)
                        {
                            normal[j, l] += gradient[j] * gradient[l];
                        }
                    }
                }

                inner[g] = (pivot, cross, rest);
                for (var j = 0; j < p; j++)
                {
                    right[j] -= cross[j] * rest / pivot;
                    for (var l = 0; l < p; l++)
                    {
                        normal[j, l] -= cross[j] * cross[l] / pivot;
                    }
                }
            }

            if (SymmetricMatrix.Factor(normal, out var lower, 1e-14) >= 0)
            {
                return;
            }

            var move = SymmetricMatrix.Solve(lower, right);
            var moves = inner.Select(cell => (cell.Right - cell.Cross.Select((c, j) => c * move[j]).Sum()) / cell.Pivot).ToArray();
            var share = 1.0;
            var improved = false;
            while (share > 1e-6)
            {
                double[] to = [.. beta.Select((x, j) => x + share * move[j])];
                double[] toB = [.. b.Select((x, g) => x + share * moves[g])];
                var there = Objective(to, toB);
                if (there <= here)
                {
                    improved = here - there > 1e-15 * here;
                    to.CopyTo(beta, 0);
                    toB.CopyTo(b, 0);
                    here = there;
                    break;
                }

                share /= 2;
            }

            if (!improved)
            {
                return;
            }
        }

        double Objective(double[] at, double[] deviations)
        {
            var parameters = new double[p];
            var sum = 0.0;
            for (var g = 0; g < cells.Count; g++)
            {
                Array.Copy(at, parameters, p);
                parameters[r] += deviations[g];
                sum += deviations[g] * deviations[g] / (ratio * ratio);
                foreach (var i in cells[g])
                {
                    var e = model.Residual(i, parameters, gradient);
                    sum += e * e;
                }
            }

            return double.IsFinite(sum) ? sum : double.PositiveInfinity;
        }
    }

    private static (double[] Random, double[][] Fixed, double[] Response) Tangent(CurveModel model, List<int[]> cells, int r, int p, double[] beta, double[] b)
    {
        var random = new double[model.N];
        var slopes = Enumerable.Range(0, p).Select(_ => new double[model.N]).ToArray();
        var response = new double[model.N];
        var gradient = new double[p];
        var parameters = new double[p];
        for (var g = 0; g < cells.Count; g++)
        {
            Array.Copy(beta, parameters, p);
            parameters[r] += b[g];
            foreach (var i in cells[g])
            {
                response[i] = model.Residual(i, parameters, gradient) + gradient[r] * b[g];
                random[i] = gradient[r];
                for (var j = 0; j < p; j++)
                {
                    slopes[j][i] = gradient[j];
                    response[i] += gradient[j] * beta[j];
                }
            }
        }

        return (random, slopes, response);
    }
}
