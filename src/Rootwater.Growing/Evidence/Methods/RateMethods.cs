using Rootwater.Growing.Evidence.Rates;

namespace Rootwater.Growing.Evidence.Methods;

internal sealed class RateRatioMethod : IEvidenceMethod
{
    public string Name => "rates";

    public string Summary => "Exact ratio of two rates of rare events, one comparison per row: central, mid-p and minimum-likelihood p named.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("label-column", "column: name of each comparison", "label, else row numbers"),
        new("x1", "column: events of the first", "x1"),
        new("t1", "column: time under watch of the first", "T1"),
        new("x2", "column: events of the second", "x2"),
        new("t2", "column: time under watch of the second", "T2"),
        new("null-ratio", "the ratio tested", "1"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var columns = new[] { run.Need("x1", "x1"), run.Need("t1", "T1"), run.Need("x2", "x2"), run.Need("t2", "T2") };
        run.KeepComplete(columns);
        var (x1, x2) = (run.Counts(columns[0]), run.Counts(columns[2]));
        var (t1, t2) = (run.Table.Numbers(columns[1]), run.Table.Numbers(columns[3]));
        var labels = RateOutput.Labels(run);
        var tested = run.Numbers("null-ratio", [1])[0];
        for (var i = 0; i < x1.Length; i++)
        {
            var g = labels[i];
            RateOutput.Inputs(run, g, ("x1", x1[i]), ("T1", t1[i]), ("x2", x2[i]), ("T2", t2[i]));
            var result = PoissonRates.Compare(new EventCount(x1[i], t1[i]), new EventCount(x2[i], t2[i]), tested);
            var why = result.Cannot;
            run.Add("rate ratio", g, "ratio", result.Ratio, why);
            RateOutput.P(run, "exact conditional", g, result.P, why);
            run.Add("mid-p", g, "p_less", result.P?.MidLess, why);
            run.Add("mid-p", g, "p_greater", result.P?.MidGreater, why);
            run.Add("mid-p", g, "p_two_sided", result.P?.MidP, why);
            run.Add("exact conditional", g, "ci_lower", result.Exact?.Lower, why);
            run.Add("exact conditional", g, "ci_upper", result.Exact?.Upper, why);
            run.Add("mid-p", g, "ci_lower", result.MidP?.Lower, why);
            run.Add("mid-p", g, "ci_upper", result.MidP?.Upper, why);
            run.Say(why ?? FormattableString.Invariant($"{g}: ratio {Shown(result.Ratio!.Value)} ({Shown(result.Exact!.Value.Lower)} to {Shown(result.Exact.Value.Upper)}, exact), central p {result.P!.Central:0.####}."));
        }

        run.Assume("Events come one by one at a steady rate within each group; events that come in bursts (one frost, many leaves) make these p-values too small.");
        return run.Answer();
    }

    private static string Shown(double x) => double.IsInfinity(x) ? "no bound" : FormattableString.Invariant($"{x:0.###}");
}

internal sealed class SingleRateMethod : IEvidenceMethod
{
    public string Name => "rate";

    public string Summary => "One rate of rare events per row: exact (Garwood) interval and test against a stated rate.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("label-column", "column: name of each rate", "label, else row numbers"),
        new("x", "column: events", "x"),
        new("t", "column: time under watch", "T"),
        new("r0", "column: the stated rate", "r0, else no test"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (x, t, r0) = (run.Need("x", "x"), run.Need("t", "T"), run.Column("r0", "r0"));
        run.KeepComplete(x, t, r0);
        var counts = run.Counts(x);
        var times = run.Table.Numbers(t);
        var stated = r0 is null ? null : run.Table.Numbers(r0);
        var labels = RateOutput.Labels(run);
        for (var i = 0; i < counts.Length; i++)
        {
            var g = labels[i];
            RateOutput.Inputs(run, g, ("x", counts[i]), ("T", times[i]));
            var result = PoissonRates.One(new EventCount(counts[i], times[i]), stated?[i]);
            run.Add("Poisson exact one-sample", g, "rate", result.Rate);
            if (result.P is { } p)
            {
                RateOutput.Inputs(run, g, ("r0", stated![i]));
                RateOutput.P(run, "Poisson exact one-sample", g, p, null);
            }

            run.Add("Garwood 95", g, "lower", result.Garwood.Lower);
            run.Add("Garwood 95", g, "upper", result.Garwood.Upper);
            run.Say(FormattableString.Invariant($"{g}: {counts[i]} in {times[i]:0.##}, so between {result.Garwood.Lower:0.###} and {result.Garwood.Upper:0.###} per unit of time."));
        }

        run.Assume("Events come one by one at a steady rate.");
        return run.Answer();
    }
}

internal sealed class BinomialMethod : IEvidenceMethod
{
    public string Name => "binomial";

    public string Summary => "A share, x of n, per row: exact tests against p0, Clopper–Pearson and Wilson intervals.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("label-column", "column: name of each share", "label, else row numbers"),
        new("x", "column: how many", "x"),
        new("n", "column: of how many", "n"),
        new("p0", "column: the stated share", "p0, else no test"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (x, n, p0) = (run.Need("x", "x"), run.Need("n", "n"), run.Column("p0", "p0"));
        run.KeepComplete(x, n, p0);
        var counts = run.Counts(x);
        var totals = run.Counts(n);
        var stated = p0 is null ? null : run.Table.Numbers(p0);
        var labels = RateOutput.Labels(run);
        for (var i = 0; i < counts.Length; i++)
        {
            var g = labels[i];
            RateOutput.Inputs(run, g, ("x", counts[i]), ("n", totals[i]));
            if (stated is not null)
            {
                RateOutput.Inputs(run, g, ("p0", stated[i]));
                var p = ExactBinomial.Test(counts[i], totals[i], stated[i]);
                RateOutput.P(run, "binomial exact", g, p, null);
                run.Add("binomial mid-p", g, "p_two_sided", p.MidP);
            }

            foreach (var (name, interval) in new[] { ("Clopper-Pearson 95", ExactBinomial.ClopperPearson(counts[i], totals[i])), ("Wilson 95", ExactBinomial.Wilson(counts[i], totals[i])), ("mid-p 95", ExactBinomial.MidP(counts[i], totals[i])) })
            {
                run.Add(name, g, "lower", interval.Lower);
                run.Add(name, g, "upper", interval.Upper);
            }

            var wilson = ExactBinomial.Wilson(counts[i], totals[i]);
            run.Say(FormattableString.Invariant($"{g}: {counts[i]} of {totals[i]}, so between {100 * wilson.Lower:0.#} and {100 * wilson.Upper:0.#} %."));
        }

        run.Assume("Each of the n had the same chance, and none hung on another.");
        return run.Answer();
    }
}

/// <summary>What the rate methods write in the same way.</summary>
internal static class RateOutput
{
    public static string[] Labels(MethodRun run) => run.Column("label-column", "label") is { } column ? run.Table.Texts(column) : [.. Enumerable.Range(1, run.Table.Count).Select(i => $"row {i}")];

    public static void Inputs(MethodRun run, string group, params (string Name, double Value)[] inputs)
    {
        foreach (var (name, value) in inputs)
        {
            run.Add("input", group, name, value);
        }
    }

    public static void P(MethodRun run, string method, string group, ExactP? p, string? why)
    {
        run.Add(method, group, "p_minlike", p?.MinimumLikelihood, why);
        run.Add(method, group, "p_less", p?.Less, why);
        run.Add(method, group, "p_greater", p?.Greater, why);
        run.Add(method, group, "p_central", p?.Central, why);
    }
}

internal sealed class CountsMethod : IEvidenceMethod
{
    public string Name => "counts";

    public string Summary => "Regression of counts, log link: Poisson and negative binomial.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("count", "column: the counts", "count"),
        new("covariates", "covariates: a,b=B,c=C:level,d=A-48", "none"),
        new("exposure", "column: time under watch of each row", "one each"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (count, exposure) = (run.Need("count", "count"), run.Column("exposure"));
        run.KeepComplete([count, exposure, .. run.CovariateColumns("covariates")]);
        var (names, columns) = run.Covariates("covariates");
        var request = new CountRequest { Counts = run.Counts(count), Names = names, Covariates = columns, Exposure = exposure is null ? null : run.Table.Numbers(exposure) };
        var negative = CountRegression.NegativeBinomial(request);
        var poisson = CountRegression.Poisson(request);
        Write(run, "negative binomial", negative);
        run.Add("negative binomial", "all", "theta", negative.Theta, negative.Cannot ?? "var = mu + mu^2/theta");
        run.Add("negative binomial", "all", "se_theta", negative.ThetaError, negative.Cannot);
        Write(run, "Poisson", poisson);
        run.Add("Poisson", "all", "dispersion_pearson", poisson.Coefficients is null ? null : poisson.Pearson / poisson.ResidualDf, poisson.Cannot);
        run.Say(negative.Cannot ?? FormattableString.Invariant($"The counts spread more than chance alone makes them (theta {negative.Theta:0.##}); the Poisson errors are too small here, the negative binomial ones hold."));
        run.Assume("The logarithm of the mean count is a sum of the covariates' effects; rows are independent.");
        return run.Answer();
    }

    private static void Write(MethodRun run, string method, CountFit fit)
    {
        for (var j = 0; j < fit.Names.Count; j++)
        {
            run.Add(method, fit.Names[j], "coef", fit.Coefficients?[j], fit.Cannot);
            run.Add(method, fit.Names[j], "se", fit.Covariance is null ? null : fit.StandardError(j), fit.Cannot);
        }

        var there = fit.Coefficients is not null;
        run.Add(method, "all", "deviance", there ? fit.Deviance : null, fit.Cannot);
        run.Add(method, "all", "df_resid", there ? fit.ResidualDf : null, fit.Cannot);
        run.Add(method, "all", "pearson_chisq", there ? fit.Pearson : null, fit.Cannot);
        run.Add(method, "all", "loglik", there ? fit.LogLikelihood : null, fit.Cannot);
    }
}
