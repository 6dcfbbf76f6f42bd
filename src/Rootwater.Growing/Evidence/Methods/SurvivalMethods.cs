using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Methods;

internal sealed class KaplanMeierMethod : IEvidenceMethod
{
    public string Name => "km";

    public string Summary => "Kaplan–Meier survival with late entry: Greenwood errors, bands, quantiles, restricted means, cumulative hazards.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        .. SurvivalColumns.Options,
        new("group", "column: one curve per value", "one curve"),
        new("at", "times at which the curve is read, commas between", "the times of loss (at most 100 of them)"),
        new("quantiles", "shares lost, commas between", "0.25,0.5,0.75"),
        new("tau", "times up to which the mean life is taken, commas between", "none"),
        new("level", "certainty of the bands", "0.95"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var group = run.Column("group");
        var rows = SurvivalColumns.Read(run, group);
        var level = run.Numbers("level", [0.95]) is [var l] && l is > 0 and < 1 ? l : throw new EvidenceInputException("--level", run.Text("level"), "a share between 0 and 1");
        var curves = KaplanMeier.ByGroup(rows.Lives(run, group, null));
        var taus = run.Numbers("tau");
        foreach (var curve in curves)
        {
            Curve(run, curve, level, taus);
        }

        if (curves.Count == 2)
        {
            foreach (var tau in taus)
            {
                Difference(run, curves[0], curves[1], tau);
                Difference(run, curves[1], curves[0], tau);
            }
        }

        run.Assume(SurvivalColumns.NonInformative);
        if (rows.Entry is not null)
        {
            run.Assume("Lives that entered late are like those of the same age that were watched from the start; before the first entry nothing is known.");
        }

        return run.Answer();
    }

    private static void Curve(MethodRun run, SurvivalCurve curve, double level, double[] taus)
    {
        var g = curve.Group;
        run.Add("KM", g, "n", curve.N);
        run.Add("KM", g, "events", curve.Events);
        var bands = new[] { ("log-log", BandKind.LogLog), ("log", BandKind.Log), ("plain", BandKind.Plain) };
        var percent = FormattableString.Invariant($"{level * 100:0.##}");
        var at = run.Numbers("at");
        if (at.Length == 0)
        {
            var times = curve.Steps.Where(step => step.Events > 0).Select(step => step.Time).ToArray();
            at = times.Length <= 100 ? times : [.. Enumerable.Range(0, 100).Select(i => times[i * (times.Length - 1) / 99])];
        }

        foreach (var t in at)
        {
            var name = $"[t={MethodRun.Print(t)}]";
            run.Add("KM", g, "n_at_risk" + name, curve.AtRisk(t));
            run.Add("KM", g, "S" + name, curve.Survival(t));
            run.Add("KM Greenwood", g, "SE" + name, curve.StandardError(t), curve.StandardError(t) is null ? "none is left, so the error is not defined" : null);
            foreach (var (word, kind) in bands)
            {
                var (lower, upper) = curve.Band(t, kind, level);
                run.Add($"KM CI{percent} {word}", g, "lower" + name, lower);
                run.Add($"KM CI{percent} {word}", g, "upper" + name, upper);
            }

            run.Add("Nelson-Aalen", g, "H" + name, curve.Hazard(t));
            run.Add("Fleming-Harrington (ctype=2)", g, "H" + name, curve.SpreadHazard(t));
        }

        foreach (var p in run.Numbers("quantiles", [0.25, 0.5, 0.75]))
        {
            var name = p == 0.5 ? "median" : "q" + MethodRun.Print(100 * p);
            run.Add("KM quantile", g, name, curve.Quantile(p), curve.Quantile(p) is null ? "the curve never falls that far" : null);
            foreach (var (word, kind) in bands)
            {
                var (lower, upper) = curve.QuantileBand(p, kind, level);
                run.Add($"KM quantile CI{percent} {word}", g, name + "_lower", lower);
                run.Add($"KM quantile CI{percent} {word}", g, name + "_upper", upper, upper is null ? "the band never falls that far" : null);
            }
        }

        foreach (var tau in taus)
        {
            var (mean, error) = curve.RestrictedMean(tau);
            run.Add("RMST", g, $"rmst[tau={MethodRun.Print(tau)}]", mean, tau > curve.LastTime ? "beyond the last observation: the curve is taken to stay where it ended" : null);
            run.Add("RMST", g, $"se[tau={MethodRun.Print(tau)}]", error);
        }

        foreach (var sentence in SurvivalWords.Curve(curve, level))
        {
            run.Say(sentence);
        }
    }

    private static void Difference(MethodRun run, SurvivalCurve first, SurvivalCurve second, double tau)
    {
        var group = $"{first.Group} minus {second.Group}";
        var (a, seA) = first.RestrictedMean(tau);
        var (b, seB) = second.RestrictedMean(tau);
        var se = Math.Sqrt(seA * seA + seB * seB);
        var name = $"[tau={MethodRun.Print(tau)}]";
        run.Add("RMST difference", group, "diff" + name, a - b);
        run.Add("RMST difference", group, "se" + name, se);
        run.Add("RMST difference", group, "p" + name, se > 0 ? Tails.NormalTwoSided((a - b) / se) : null, se > 0 ? null : "neither curve fell, so there is no error to judge a difference by");
    }
}

internal sealed class LogRankMethod : IEvidenceMethod
{
    public string Name => "log-rank";

    public string Summary => "Do groups differ in survival? Log-rank and Peto–Peto tests, with strata if given, with late entry.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        .. SurvivalColumns.Options,
        new("group", "column: the groups compared", "group"),
        new("strata", "column: compared only within its values (the unstratified tests are given too)", "none"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var group = run.Need("group", "group");
        var strata = run.Column("strata");
        var lives = SurvivalColumns.Read(run, group, strata).Lives(run, group, strata);
        foreach (var stratified in strata is null ? new[] { false } : [false, true])
        {
            foreach (var (method, weight) in new[] { ("log-rank (Mantel-Haenszel)", LogRankWeight.Equal), ("Peto-Peto (rho=1)", LogRankWeight.PetoPeto) })
            {
                var result = LogRank.Compare(lives, weight, stratified);
                var name = method + (stratified ? ", stratified" : "");
                foreach (var each in result.Groups)
                {
                    run.Add(name, each.Name, "observed", each.Observed);
                    run.Add(name, each.Name, "expected", each.Expected);
                }

                run.Add(name, "all", "var11", result.Variance[0, 0]);
                run.Add(name, "all", "chisq", result.ChiSquare, result.Cannot);
                run.Add(name, "all", "df", result.Cannot is null ? result.Df : null, result.Cannot);
                run.Add(name, "all", "p", result.P, result.Cannot);
                if (weight == LogRankWeight.Equal && stratified == strata is not null)
                {
                    run.Say(SurvivalWords.Compared(result, stratified ? strata : null));
                }
            }
        }

        run.Assume(SurvivalColumns.NonInformative);
        run.Assume("Leaves of one plant are not independent; with few plants stratify by plant or use cox with --cluster.");
        return run.Answer();
    }
}

internal sealed class WeibullMethod : IEvidenceMethod
{
    public string Name => "weibull";

    public string Summary => "Weibull regression of lives (log time = intercept + covariates + scale × error), with late entry.";

    public IReadOnlyList<MethodOption> Options { get; } = [.. SurvivalColumns.Options, new("covariates", "covariates: a,b=B,c=C:level,d=A-48", "none")];

    public EvidenceAnswer Run(MethodRun run)
    {
        var rows = SurvivalColumns.Read(run, [.. run.CovariateColumns("covariates")]);
        var (names, columns) = run.Covariates("covariates");
        var lives = rows.Lives(run, null, null);
        var fit = WeibullRegression.Fit(lives, names, columns);
        const string method = "survreg weibull";
        string[] parameters = ["intercept", .. names];
        for (var j = 0; j < parameters.Length; j++)
        {
            run.Add(method, run.Label, parameters[j], fit.Parameters?[j], fit.Cannot);
            run.Add(method, run.Label, "se." + parameters[j], fit.Covariance is null ? null : fit.StandardError(j), fit.Cannot);
        }

        run.Add(method, run.Label, "scale", fit.Cannot is null ? fit.Scale : null, fit.Cannot ?? "shape = 1/scale");
        run.Add(method, run.Label, "se.log_scale", fit.Covariance is null ? null : fit.StandardError(parameters.Length), fit.Cannot);
        run.Add(method, run.Label, "loglik", fit.LogLikelihood, fit.Cannot);
        run.Add(method, run.Label, "n", fit.N);
        run.Add(method, run.Label, "events", fit.Events);
        run.Say(fit.Cannot ?? FormattableString.Invariant($"Shape {fit.Shape:0.##}: the hazard {(fit.Shape > 1 ? "rises" : "falls")} with age. From {fit.Events} losses among {fit.N} lives."));
        run.Assume("The hazard follows a power of age.");
        return run.Answer();
    }
}
