using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>
/// Proportional hazards regression: Cox 1972, with late entry, strata, covariates that change over time (one row per interval) and robust errors by cluster
/// (Lin and Wei 1989: the summed dfbeta residuals of each cluster, no small-sample factor).
/// </summary>
/// <remarks>A covariate that never varies, or that the others already say, is left out and named; a perfectly separated comparison gets no error and no Wald p, only the likelihood ratio test.</remarks>
public static class CoxRegression
{
    private const int MostSteps = 60;

    public static CoxFit Fit(CoxRequest request) => Fit(new CoxRowProblem(request));

    /// <summary>The same from lives in steps, by Efron, without writing their rows down.</summary>
    public static CoxFit Fit(CoxLives request) => Fit(new CoxLivesProblem(request));

    private static CoxFit Fit(CoxProblem request)
    {
        request.Check();
        var (n, events) = (request.Rows, request.Events);
        var empty = new CoxFit { N = n, Events = events, Coefficients = [.. request.Names.Select(name => new CoxCoefficient(name, null, null, null, "Not estimated."))] };
        if (events == 0)
        {
            return empty with { Cannot = "Nothing was lost in these records, so no hazard can be compared; the records only bound how high it can be." };
        }

        var (columns, left, data, start) = Usable(request);
        if (data is null || start is null)
        {
            return empty with { Cannot = "No covariate differs among those under watch when a loss fell, so nothing can be compared.", Coefficients = Named(request, [], left) };
        }

        var found = Maximise(data, request.Ties, start);
        return Report(request, columns, left, data, start, found) with { N = n, Events = events };
    }

    private static CoxFit Report(CoxProblem request, int[] columns, Dictionary<int, string> left, CoxLayout data, CoxSweep start, Found found)
    {
        var p = columns.Length;
        var inverse = SymmetricMatrix.Inverse(found.At.Information, 1e-14);
        var startInverse = SymmetricMatrix.Inverse(start.Information);
        var separated = Enumerable.Range(0, p).Select(j => inverse is null || Separated(data, found.Beta, found.At, j)).ToArray();
        var anySeparated = separated.Any(yes => yes);
        var robust = inverse is not null && !anySeparated && request.ByCluster && request.Ties != Ties.Exact
            ? CoxResiduals.Robust(data, found.Beta, request.Ties, inverse)
            : null;
        var coefficients = new CoxCoefficient[request.Names.Count];
        for (var j = 0; j < p; j++)
        {
            var name = request.Names[columns[j]];
            coefficients[columns[j]] = separated[j]
                ? new CoxCoefficient(name, null, null, null, $"Perfectly separated: in these records a {(found.Beta[j] > 0 ? "higher" : "lower")} {name} always went with the loss, so the hazard ratio has no bound on that side. Only the likelihood ratio test means anything here.")
                : new CoxCoefficient(name, found.Beta[j] / data.Scale[j], inverse is null ? null : Math.Sqrt(inverse[j, j]) / data.Scale[j], robust is null ? null : Math.Sqrt(robust[j, j]) / data.Scale[j], null);
        }

        foreach (var (column, why) in left)
        {
            coefficients[column] = new CoxCoefficient(request.Names[column], null, null, null, why);
        }

        return new CoxFit
        {
            N = 0,
            Events = 0,
            Coefficients = coefficients,
            LogLikelihoodNull = start.LogLikelihood,
            LogLikelihood = found.At.LogLikelihood,
            LikelihoodRatio = 2 * (found.At.LogLikelihood - start.LogLikelihood),
            Wald = anySeparated ? null : SymmetricMatrix.Quadratic(found.At.Information, found.Beta),
            Score = startInverse is null ? null : SymmetricMatrix.Quadratic(startInverse, start.Gradient),
            RobustWald = robust is null || SymmetricMatrix.Inverse(robust) is not { } meat ? null : SymmetricMatrix.Quadratic(meat, found.Beta),
            Df = p,
            Covariance = anySeparated || inverse is null ? null : Unscaled(inverse, data.Scale),
            Proportionality = request.ToCheck is { } scale && !anySeparated && request.Ties != Ties.Exact
                ? ProportionalHazards.Check(request, data, [.. columns.Select(c => request.Names[c])], found.Beta, scale)
                : [],
            Steps = found.Steps,
        };
    }

    private static CoxCoefficient[] Named(CoxProblem request, double[] none, Dictionary<int, string> left) =>
        [.. request.Names.Select((name, j) => new CoxCoefficient(name, null, null, null, left.GetValueOrDefault(j, none.Length == 0 ? "Not estimated." : null!)))];

    private static double[,] Unscaled(double[,] inverse, double[] scale)
    {
        var p = scale.Length;
        var result = new double[p, p];
        for (var i = 0; i < p; i++)
        {
            for (var j = 0; j < p; j++)
            {
                result[i, j] = inverse[i, j] / (scale[i] * scale[j]);
            }
        }

        return result;
    }

    private static CoxSweep Sweep(CoxLayout data, double[] beta, Ties ties) =>
        ties == Ties.Exact ? ExactCoxLikelihood.Sweep((CoxData)data, beta) : CoxLikelihood.Sweep(data, beta, ties);

    private sealed record Found(double[] Beta, CoxSweep At, int Steps);

    /// <summary>Newton's method with halved steps: the log partial likelihood is concave.</summary>
    private static Found Maximise(CoxLayout data, Ties ties, CoxSweep start)
    {
        var beta = new double[data.P];
        var at = start;
        for (var step = 1; step <= MostSteps; step++)
        {
            if (SymmetricMatrix.Factor(at.Information, out var lower, 1e-15) >= 0)
            {
                return new Found(beta, at, step);
            }

            var move = SymmetricMatrix.Solve(lower, at.Gradient);
            var decrement = 0.0;
            for (var j = 0; j < move.Length; j++)
            {
                decrement += move[j] * at.Gradient[j];
            }

            CoxSweep next;
            double[] to;
            var share = 1.0;
            do
            {
                to = [.. beta.Select((b, j) => b + share * move[j])];
                next = Sweep(data, to, ties);
                share /= 2;
            }
            while (!(next.LogLikelihood >= at.LogLikelihood - 1e-9 * Math.Abs(at.LogLikelihood)) && share > 1e-4);

            (beta, at) = (to, next);
            if (decrement < 1e-16 * Math.Max(1, Math.Abs(at.LogLikelihood)) || beta.Any(b => Math.Abs(b) > 40))
            {
                return new Found(beta, at, step);
            }
        }

        return new Found(beta, at, MostSteps);
    }

    /// <summary>True where the likelihood climbs for ever in this direction: the estimate is far out and the curvature there has all but gone, beside what it was with no effect.</summary>
    private static bool Separated(CoxLayout data, double[] beta, CoxSweep at, int j)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        for (var i = 0; i < data.Profiles; i++)
        {
            low = Math.Min(low, data.Z[i * data.P + j]);
            high = Math.Max(high, data.Z[i * data.P + j]);
        }

        return Math.Abs(beta[j]) * (high - low) > 11 && at.Information[j, j] * (high - low) * (high - low) < 0.01;
    }

    /// <summary>Covariates with information of their own at the times of loss, laid out and summed with no effect; the others with the reason why not.</summary>
    private static (int[] Columns, Dictionary<int, string> Left, CoxLayout? Data, CoxSweep? Start) Usable(CoxProblem request)
    {
        var left = new Dictionary<int, string>();
        var columns = new List<int>();
        for (var j = 0; j < request.Names.Count; j++)
        {
            if (request.Constant(j) is { } always)
            {
                left[j] = $"{request.Names[j]} never varies in these records ({FormattableString.Invariant($"{always:0.####}")} throughout), so they say nothing about it.";
            }
            else
            {
                columns.Add(j);
            }
        }

        while (columns.Count > 0)
        {
            var data = request.LayOut([.. columns]);
            var start = Sweep(data, new double[columns.Count], request.Ties);
            var bad = SymmetricMatrix.Factor(start.Information, out _, 1e-9);
            if (bad < 0)
            {
                return ([.. columns], left, data, start);
            }

            left[columns[bad]] = start.Information[bad, bad] <= 1e-9
                ? $"{request.Names[columns[bad]]} does not differ among those under watch when a loss fell, so these records say nothing about it."
                : $"{request.Names[columns[bad]]} follows from the covariates before it and cannot be told apart from them.";
            columns.RemoveAt(bad);
        }

        return ([], left, null, null);
    }
}
