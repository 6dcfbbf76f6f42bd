using Rootwater.Growing.Evidence.Series;

namespace Rootwater.Growing.Evidence.Methods;

internal sealed class InterruptedSeriesMethod : IEvidenceMethod
{
    public string Name => "its";

    public string Summary => "Interrupted series, equally spaced and in order of time: segmented least squares, Newey–West errors, AR(1) errors by ML and REML.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("value", "column: the series", "value"),
        new("covariates", "covariates as they stand (t,step,t_after), in place of --change", "none"),
        new("change", "how many values lie before the change; t, step and t_after are then made", "none"),
        new("step-only", "true: with --change, a step without slopes", "false"),
        new("lags", "lags of Newey–West, commas between", "1,4"),
        new("model", "name of the model in the output", "segmented, or step only for one covariate"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var value = run.Need("value", "value");
        run.KeepComplete([value, .. run.CovariateColumns("covariates")]);
        var request = Request(run, run.Table.Numbers(value));
        var model = run.Text("model") ?? (request.Names.Count == 1 ? "step only" : "segmented");
        var fit = LinearSeries.Ordinary(request);
        var method = "OLS " + model;
        for (var j = 0; j < fit.Names.Count; j++)
        {
            run.Add(method, fit.Names[j], "coef", fit.Coefficients?[j], fit.Cannot);
            run.Add(method, fit.Names[j], "se", fit.StandardErrors?[j], fit.Cannot);
            run.Add(method, fit.Names[j], "p", fit.P?[j], fit.Cannot);
            run.Add(method, fit.Names[j], "lower95", fit.Intervals?[j].Lower, fit.Cannot);
            run.Add(method, fit.Names[j], "upper95", fit.Intervals?[j].Upper, fit.Cannot);
        }

        if (fit.StandardErrors is null)
        {
            run.Say(fit.Cannot);
            return run.Answer();
        }

        run.Add(method, "all", "sigma", fit.Sigma);
        run.Add(method, "all", "r2", fit.RSquared);
        run.Add(method, "all", "rss", fit.ResidualSumOfSquares);
        run.Add(method, "all", "durbin_watson", fit.DurbinWatson);
        run.Add(method, "all", "lag1_autocorr", fit.Lag1Autocorrelation);
        foreach (var lag in run.Numbers("lags", [1, 4]))
        {
            if (lag != Math.Floor(lag) || lag < 0 || lag >= fit.N)
            {
                throw new EvidenceInputException("--lags", lag, $"whole numbers from 0 to {fit.N - 1}");
            }

            var errors = LinearSeries.NeweyWest(request, (int)lag);
            for (var j = 0; j < fit.Names.Count; j++)
            {
                run.Add($"Newey-West L={(int)lag} {model}", fit.Names[j], "se", errors[j]);
            }
        }

        Autoregressive(run, request, model, false);
        Autoregressive(run, request, model, true);
        run.Say(Math.Abs(fit.Lag1Autocorrelation) > 2 / Math.Sqrt(fit.N)
            ? FormattableString.Invariant($"Each value hangs on the one before (correlation {fit.Lag1Autocorrelation:0.##}), so the plain errors are too small; read the AR(1) or Newey–West ones.")
            : FormattableString.Invariant($"Neighbouring values hang together little (correlation {fit.Lag1Autocorrelation:0.##})."));
        run.Assume("Nothing else changed at the same time; without a control series that cannot be told from the effect.");
        return run.Answer();
    }

    private static SeriesRequest Request(MethodRun run, double[] values)
    {
        if (run.Text("change") is not null)
        {
            var before = run.Whole("change", 0);
            if (before < 1 || before >= values.Length)
            {
                throw new EvidenceInputException("--change", before, $"1 to {values.Length - 1}: how many values lie before the change");
            }

            var made = SeriesRequest.Interrupted(values, before);
            return run.Choice("step-only", "false", "true", "false") == "true" ? made with { Names = ["step"], Covariates = [made.Covariates[1]] } : made;
        }

        var (names, columns) = run.Covariates("covariates");
        return names.Count == 0
            ? throw new EvidenceInputException("--change", null, "how many values lie before the change, or --covariates with the columns to use")
            : new SeriesRequest { Values = values, Names = names, Covariates = columns };
    }

    private static void Autoregressive(MethodRun run, SeriesRequest request, string model, bool restricted)
    {
        var fit = LinearSeries.Autoregressive(request, restricted);
        var method = $"GLS AR(1) {(restricted ? "REML" : "ML")} {model}";
        var there = fit.Coefficients is not null;
        run.Add(method, "all", "rho", there ? fit.Rho : null, fit.Cannot);
        for (var j = 0; j < fit.Names.Count; j++)
        {
            run.Add(method, fit.Names[j], "coef", fit.Coefficients?[j], fit.Cannot);
            run.Add(method, fit.Names[j], "se", fit.StandardErrors?[j], fit.Cannot);
        }

        run.Add(method, "all", "sigma_innovation", there ? fit.InnovationSigma : null, fit.Cannot);
        run.Add(method, "all", "sigma", there ? fit.Sigma : null, fit.Cannot);
        if (!restricted)
        {
            run.Add(method, "all", "loglik", fit.LogLikelihood, fit.Cannot);
        }

        run.Say(fit.Cannot);
    }
}

internal sealed class ChangePointMethod : IEvidenceMethod
{
    public string Name => "change-points";

    public string Summary => "When did a series shift? Pettitt's rank test, the largest F of one shift of the mean, and the best divisions into segments.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("value", "column: the series, in order of time", "value"),
        new("min-segment", "values a segment has at least", "15 in 100 of the series"),
        new("max-breaks", "shifts looked for at most", "5, or as many as fit"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var value = run.Need("value", "value");
        run.KeepComplete(value);
        var values = run.Table.Numbers(value);
        var n = values.Length;
        var g = run.Label;
        if (n < ChangePoints.Fewest || values.All(y => y == values[0]))
        {
            run.Say(n < ChangePoints.Fewest ? $"{n} values are too few to look for a shift: {ChangePoints.Fewest} are the least." : "The value never changes, so it never shifted.");
            run.Add("Pettitt", g, "K", null, "see says");
            return run.Answer();
        }

        var pettitt = ChangePoints.Pettitt(values);
        run.Add("Pettitt", g, "K", pettitt.K);
        run.Add("Pettitt", g, "k", pettitt.LastBefore, "last index of the left segment, 1-based");
        run.Add("Pettitt", g, "p_approx", pettitt.PApproximate, "2exp(-6K^2/(n^3+n^2))");
        var smallest = Math.Max(1, run.Whole("min-segment", Math.Max(2, (int)Math.Floor(0.15 * n))));
        if (2 * smallest > n)
        {
            throw new EvidenceInputException("--min-segment", smallest, $"at most half of the {n} values");
        }

        var shift = ChangePoints.SupF(values, smallest);
        run.Add("supF mean shift", g, "k", shift.LastBefore, "last index of the left segment");
        run.Add("supF mean shift", g, "supF", shift.F);
        run.Add("supF mean shift", g, "rss", shift.ResidualSumOfSquares);
        var most = Math.Min(run.Whole("max-breaks", 5), n / smallest - 1);
        var divisions = ChangePoints.Segment(values, smallest, most);
        foreach (var division in divisions)
        {
            run.Add("least-squares breakpoints", g, $"rss[m={division.Count}]", division.ResidualSumOfSquares);
            run.Add("least-squares breakpoints", g, $"bic[m={division.Count}]", division.Bic);
            for (var k = 0; k < division.Count; k++)
            {
                run.Add("least-squares breakpoints", g, $"break[m={division.Count},{k + 1}]", division.LastBefore[k], $"min segment h={smallest}");
            }
        }

        var best = divisions.MinBy(division => division.Bic)!;
        run.Say(best.Count == 0
            ? "No shift is worth a segment of its own here (BIC)."
            : $"Best described (BIC) with {best.Count} shift(s), after value {string.Join(" and ", best.LastBefore)}.");
        run.Assume("Values scatter independently about the level of their segment; a slow drift or values that hang on the one before also look like shifts.");
        return run.Answer();
    }
}

internal sealed class TrendMethod : IEvidenceMethod
{
    public string Name => "trend";

    public string Summary => "A slow drift: Theil–Sen slope with intervals, Mann–Kendall test.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("time", "column: when", "time, else year"),
        new("value", "column: the series", "value"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var time = run.Column("time", "time") ?? run.Need("time", "year");
        var value = run.Need("value", "value");
        run.KeepComplete(time, value);
        var fit = Trend.Fit(run.Table.Numbers(time), run.Table.Numbers(value));
        var g = run.Label;
        var why = fit.Cannot;
        run.Add("Theil-Sen", g, "slope", fit.Slope, why);
        run.Add("Theil-Sen", g, "intercept_median_residual", fit.InterceptOfResiduals, why);
        run.Add("Theil-Sen", g, "intercept_conover", fit.InterceptConover, why);
        run.Add("Mann-Kendall", g, "S", why is null ? fit.S : null, why);
        run.Add("Mann-Kendall", g, "varS", why is null ? fit.VarianceS : null, why);
        run.Add("Mann-Kendall", g, "Z", fit.Z, why);
        run.Add("Mann-Kendall", g, "p_two_sided", fit.P, why);
        run.Add("Mann-Kendall", g, "tau_a", fit.TauA, why);
        run.Add("Mann-Kendall", g, "tau_b", fit.TauB, why);
        run.Add("Mann-Kendall", g, "p_exact", fit.PExact, why ?? (fit.PExact is null ? "values tie, or there are more than 200" : null));
        run.Add("Theil-Sen CI95 (Gilbert, interpolated)", g, "lower", fit.GilbertInterval?.Lower, why);
        run.Add("Theil-Sen CI95 (Gilbert, interpolated)", g, "upper", fit.GilbertInterval?.Upper, why);
        run.Add("Theil-Sen CI95 (rounded ranks)", g, "lower", fit.RoundedInterval?.Lower, why);
        run.Add("Theil-Sen CI95 (rounded ranks)", g, "upper", fit.RoundedInterval?.Upper, why);
        run.Say(why ?? FormattableString.Invariant($"{fit.Slope:0.####} per unit of time ({fit.GilbertInterval!.Value.Lower:0.####} to {fit.GilbertInterval.Value.Upper:0.####}). ") + Survival.SurvivalWords.Chance(fit.PExact ?? fit.P!.Value));
        run.Assume("Values are independent apart from the drift; a seasonal swing has to be taken out first.");
        return run.Answer();
    }
}
