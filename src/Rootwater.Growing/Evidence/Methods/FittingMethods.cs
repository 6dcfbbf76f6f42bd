using System.Globalization;
using Rootwater.Growing.Evidence.Fitting;
using Rootwater.Growing.Evidence.Pooling;

namespace Rootwater.Growing.Evidence.Methods;

/// <summary>What the curve methods read in the same way.</summary>
internal static class CurveColumns
{
    public static readonly MethodOption[] Options =
    [
        new("y", "column: what is fitted", "y"),
        new("formula", "the curve, of parameters and columns: b1*(1-exp(-b2*x))", null),
        new("start", "starting values: b1=500,b2=0.0001", null),
    ];

    public static (string Y, CurveFormula Formula, List<(string, double)> Start, List<string> Used) Read(MethodRun run)
    {
        var formula = CurveFormula.Parse(run.Text("formula") ?? throw new EvidenceInputException("--formula", null, "a curve such as b1*(1-exp(-b2*x))"));
        var start = new List<(string, double)>();
        foreach (var part in (run.Text("start") ?? throw new EvidenceInputException("--start", null, "a starting value for each parameter: b1=500,b2=0.0001")).Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var sides = part.Split('=', StringSplitOptions.TrimEntries);
            if (sides.Length != 2 || !double.TryParse(sides[1], NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
            {
                throw new EvidenceInputException("--start", part, "name=number, commas between");
            }

            start.Add((sides[0], value));
        }

        var used = formula.Names.Where(name => start.TrueForAll(s => s.Item1 != name)).ToList();
        foreach (var name in used.Where(name => !run.Table.Has(name)))
        {
            throw new EvidenceInputException("--formula", name, "parameters with a starting value, or columns: " + string.Join(", ", run.Table.Columns));
        }

        return (run.Need("y", "y"), formula, start, used);
    }

    public static CurveRequest Request(EvidenceTable table, string y, CurveFormula formula, List<(string, double)> start, List<string> used) => new()
    {
        Formula = formula,
        Parameters = start,
        Columns = used.ToDictionary(name => name, table.Numbers),
        Values = table.Numbers(y),
    };

    public static void Write(MethodRun run, string method, string group, FittedCurve fit)
    {
        for (var j = 0; j < fit.Names.Count; j++)
        {
            run.Add(method, group, "coef." + fit.Names[j], fit.StandardErrors is null && fit.Cannot is not null && fit.ResidualDeviation is null && fit.Coefficients is null ? null : fit.Coefficients?[j], fit.Cannot);
            run.Add(method, group, "se." + fit.Names[j], fit.StandardErrors?[j], fit.Cannot);
        }

        run.Add(method, group, "rss", fit.Coefficients is null ? null : fit.ResidualSumOfSquares, fit.Cannot);
        run.Add(method, group, "resid_sd", fit.ResidualDeviation, fit.Cannot);
        run.Say(fit.Cannot is null ? null : $"{group}: {fit.Cannot}");
    }
}

internal sealed class CurveMethod : IEvidenceMethod
{
    public string Name => "nls";

    public string Summary => "A curve through points by least squares; the curve is given as a formula.";

    public IReadOnlyList<MethodOption> Options { get; } = [.. CurveColumns.Options, new("group", "column: one curve per value", "one curve")];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (y, formula, start, used) = CurveColumns.Read(run);
        var group = run.Column("group");
        run.KeepComplete([y, group, .. used]);
        foreach (var name in group is null ? Enumerable.Repeat<string?>(null, 1) : run.Table.Texts(group).Distinct())
        {
            var table = name is null ? run.Table : run.Table.Where($"{group}={name}");
            CurveColumns.Write(run, "nls", name ?? run.Label, CurveFit.Fit(CurveColumns.Request(table, y, formula, start, used)));
        }

        run.Assume("The points scatter about the curve independently and alike; the start leads to the best fit and not to a lesser one (try another start).");
        return run.Answer();
    }
}

internal sealed class GroupedCurveMethod : IEvidenceMethod
{
    public string Name => "nls-grouped";

    public string Summary => "A curve for each of several plants, and for all at once with one parameter that differs from plant to plant (exact marginal likelihood; Lindstrom–Bates).";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        .. CurveColumns.Options,
        new("group", "column: the plant", "group"),
        new("random", "the parameter that differs from plant to plant", "the first of --start"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (y, formula, start, used) = CurveColumns.Read(run);
        var group = run.Need("group", "group");
        run.KeepComplete([y, group, .. used]);
        var random = run.Text("random") ?? start[0].Item1;
        var groups = run.Table.Texts(group);
        foreach (var name in groups.Distinct())
        {
            CurveColumns.Write(run, "per-group", $"{group}={name}", CurveFit.Fit(CurveColumns.Request(run.Table.Where($"{group}={name}"), y, formula, start, used)));
        }

        var request = CurveColumns.Request(run.Table, y, formula, start, used);
        var exact = GroupedCurveFit.Exact(request, groups, random);
        Write(run, $"exact marginal ML, random {random}", exact, random, group, false);
        Write(run, $"nlme (Lindstrom-Bates ML), random {random}", GroupedCurveFit.Approximate(request, groups, random), random, group, true);
        run.Say(exact.Cannot);
        run.Assume($"{random} differs from plant to plant by a normal deviation; the other parameters are common.");
        return run.Answer();
    }

    private static void Write(MethodRun run, string method, GroupedCurve fit, string random, string group, bool errors)
    {
        var there = fit.Coefficients is not null && fit.Cannot is null;
        for (var j = 0; j < fit.Names.Count; j++)
        {
            run.Add(method, "all", fit.Names[j], there ? fit.Coefficients![j] : null, fit.Cannot);
            if (errors)
            {
                run.Add(method, "all", "se." + fit.Names[j], fit.StandardErrors?[j], fit.Cannot);
            }
        }

        run.Add(method, "all", "sd_" + random, there ? fit.GroupDeviation : null, fit.Cannot);
        run.Add(method, "all", "resid_sd", there ? fit.ResidualDeviation : null, fit.Cannot);
        run.Add(method, "all", "loglik", there ? fit.LogLikelihood : null, fit.Cannot);
        for (var g = 0; g < fit.Groups.Count; g++)
        {
            run.Add(method, $"{group}={fit.Groups[g]}", "blup." + random, fit.Deviations?[g], fit.Cannot ?? "deviation");
        }
    }
}

internal sealed class MixedModelMethod : IEvidenceMethod
{
    public string Name => "lmm";

    public string Summary => "Linear mixed model with one grouping (plants): REML and ML, shrunken deviations.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("value", "column: what is measured", "value"),
        new("group", "column: the grouping", "group"),
        new("fixed", "fixed covariates beside the intercept: a,b=B,c=C:level", "none"),
        new("random", "random slopes beside the random intercept: covariates as in --fixed", "none"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (value, group) = (run.Need("value", "value"), run.Need("group", "group"));
        run.KeepComplete([value, group, .. run.CovariateColumns("fixed"), .. run.CovariateColumns("random")]);
        var (names, columns) = run.Covariates("fixed");
        var (randomNames, randomColumns) = run.Covariates("random");
        var request = MixedRequest.Intercepts(run.Table.Numbers(value), run.Table.Texts(group), names, columns);
        request = request with { RandomNames = ["(Intercept)", .. randomNames], Random = [request.Fixed[0], .. randomColumns] };
        foreach (var restricted in new[] { true, false })
        {
            var fit = MixedModel.Fit(request with { Restricted = restricted });
            var method = "linear mixed " + (restricted ? "REML" : "ML");
            for (var j = 0; j < fit.FixedNames.Count; j++)
            {
                run.Add(method, fit.FixedNames[j], "coef", fit.Coefficients?[j], fit.Cannot);
                run.Add(method, fit.FixedNames[j], "se", fit.StandardErrors?[j], fit.Cannot);
            }

            for (var a = 0; a < fit.RandomNames.Count; a++)
            {
                run.Add(method, $"{group}:{fit.RandomNames[a]}", "sd", fit.RandomDeviations?[a], fit.Cannot);
                for (var b = 0; b < a; b++)
                {
                    run.Add(method, $"{group}:{fit.RandomNames[b]},{fit.RandomNames[a]}", "corr", fit.RandomCorrelations?[a, b], fit.Cannot);
                }
            }

            run.Add(method, "Residual", "sd", fit.Cannot is null ? fit.Residual : null, fit.Cannot);
            run.Add(method, "all", "loglik", fit.Cannot is null ? fit.LogLikelihood : null, fit.Cannot);
            for (var g = 0; g < fit.Groups.Count; g++)
            {
                for (var a = 0; a < fit.RandomNames.Count; a++)
                {
                    run.Add(method, fit.Groups[g], "blup." + fit.RandomNames[a], fit.Deviations?[g][a], fit.Cannot ?? "deviation from the fixed effect");
                }
            }

            run.Say(fit.Cannot ?? (restricted ? FormattableString.Invariant($"{fit.Groups.Count} groups differ by {fit.RandomDeviations![0]:0.###} (standard deviation) beside {fit.Residual:0.###} within.") : null));
        }

        run.Assume("Groups deviate normally and independently; so do values within them.");
        return run.Answer();
    }
}

internal sealed class MetaAnalysisMethod : IEvidenceMethod
{
    public string Name => "meta";

    public string Summary => "Estimates with their variances drawn together: common effect, DerSimonian–Laird, REML, ML, shrunken estimates.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("effect", "column: the estimate", "effect"),
        new("variance", "column: its variance", "variance"),
        new("se", "column: its standard error, in place of the variance", "se"),
        new("counts", "columns in place of effect and variance: events and non-events of the first arm, then of the second; the effect is then the log risk ratio", "none"),
        new("label-column", "column: name of each estimate; numbers get the column's name in front", "label, else trial, else row numbers"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var estimates = Estimates(run);
        foreach (var (name, kind) in new[] { ("fixed effect", BetweenVariance.Fixed), ("DerSimonian-Laird", BetweenVariance.DerSimonianLaird), ("REML", BetweenVariance.Restricted), ("ML", BetweenVariance.MaximumLikelihood) })
        {
            var pooled = MetaAnalysis.Pool(estimates, kind);
            if (kind != BetweenVariance.Fixed)
            {
                run.Add(name, "all", "tau2", pooled.Tau2);
            }

            run.Add(name, "all", "mu", pooled.Mean);
            run.Add(name, "all", "se", pooled.StandardError);
            if (kind == BetweenVariance.Fixed)
            {
                run.Add(name, "all", "Q", pooled.Q);
                run.Add(name, "all", "p_Q", pooled.QP, pooled.QP is null ? "one estimate has nothing to differ from" : null);
                run.Add(name, "all", "I2", pooled.I2);
                continue;
            }

            for (var i = 0; i < estimates.Count; i++)
            {
                run.Add(name, estimates[i].Name, "shrunken", pooled.Shrunken[i]);
            }

            if (kind == BetweenVariance.Restricted)
            {
                run.Say(estimates.Count == 1
                    ? "One estimate: nothing to pool, and how effects differ cannot be told."
                    : FormattableString.Invariant($"Mean effect {pooled.Mean:0.###} ± {1.96 * pooled.StandardError:0.###} over {estimates.Count} estimates whose true values differ by {Math.Sqrt(pooled.Tau2):0.###} (standard deviation)."));
            }
        }

        run.Assume("The true effects scatter normally about their mean; each estimate's variance is known.");
        return run.Answer();
    }

    private static List<Estimate> Estimates(MethodRun run)
    {
        if (run.Text("counts") is { } counts)
        {
            var columns = counts.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
            if (columns.Length != 4)
            {
                throw new EvidenceInputException("--counts", counts, "four columns: events and non-events of the first arm, then of the second");
            }

            run.KeepComplete(columns);
            var n = columns.Select(run.Counts).ToArray();
            var labels = Labels(run);
            return [.. labels.Select((label, i) =>
            {
                if (n[0][i] == 0 || n[2][i] == 0)
                {
                    throw new EvidenceInputException($"--counts, {label}", 0, "events in both arms: a log risk ratio of none is not defined (use rates)");
                }

                double a = n[0][i], all = a + n[1][i], c = n[2][i], allC = c + n[3][i];
                return new Estimate(label, Math.Log(a / all / (c / allC)), 1 / a - 1 / all + 1 / c - 1 / allC);
            })];
        }

        var effect = run.Need("effect", "effect");
        var variance = run.Column("variance", "variance");
        var se = variance is null ? run.Need("se", "se") : null;
        run.KeepComplete(effect, variance, se);
        var effects = run.Table.Numbers(effect);
        var spreads = run.Table.Numbers(variance ?? se!);
        return [.. Labels(run).Select((label, i) => new Estimate(label, effects[i], variance is null ? spreads[i] * spreads[i] : spreads[i]))];
    }

    private static string[] Labels(MethodRun run)
    {
        var column = run.Column("label-column", "label") ?? run.Column("label-column", "trial");
        return column is null
            ? [.. Enumerable.Range(1, run.Table.Count).Select(i => $"row {i}")]
            : [.. run.Table.Texts(column).Select(text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _) ? column + text : text)];
    }
}
