using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Methods;

internal sealed class CoxMethod : IEvidenceMethod
{
    public string Name => "cox";

    public string Summary => "Proportional hazards regression: late entry, covariates that change over time (one row per interval), strata, robust errors by cluster, check of proportional hazards.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        .. SurvivalColumns.Options,
        new("covariates", "covariates: a,b=B,c=C:level,d=A-48; a text column gives one per level but the first", null),
        new("strata", "column: own baseline hazard for each value", "none"),
        new("cluster", "column: rows that hang together (the plant of a leaf), for robust errors", "none"),
        new("ties", "efron, breslow, exact, or all", "efron"),
        new("check", "proportional hazards on the scale km, identity, log or rank", "none"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var strata = run.Column("strata");
        var cluster = run.Column("cluster");
        var rows = SurvivalColumns.Read(run, [strata, cluster, .. run.CovariateColumns("covariates")]);
        var (names, columns) = run.Covariates("covariates");
        if (names.Count == 0)
        {
            throw new EvidenceInputException("--covariates", null, "at least one covariate; the table has " + string.Join(", ", run.Table.Columns));
        }

        var check = run.Text("check") is null ? null : (TimeScale?)(run.Choice("check", "km", "km", "identity", "log", "rank") switch { "km" => TimeScale.KaplanMeier, "log" => TimeScale.Log, "rank" => TimeScale.Rank, _ => TimeScale.Identity });
        var request = new CoxRequest
        {
            Entry = rows.Entry,
            Exit = rows.Exit,
            Ended = rows.Ended,
            Names = names,
            Covariates = columns,
            Strata = strata is null ? null : CoxOutput.Index(run.Table.Texts(strata)),
            Clusters = cluster is null ? null : CoxOutput.Index(run.Table.Texts(cluster)),
            Check = check,
        };
        var ties = run.Choice("ties", "efron", "efron", "breslow", "exact", "all");
        foreach (var kind in ties == "all" ? new[] { "efron", "breslow", "exact" } : [ties])
        {
            CoxOutput.Write(run, request, kind);
        }

        run.Assume("Each covariate multiplies the hazard by the same factor at every age.");
        run.Assume(SurvivalColumns.NonInformative);
        if (cluster is null)
        {
            run.Assume("Rows are independent lives; give --cluster where several belong to one plant.");
        }

        return run.Answer();
    }
}

internal sealed class ConditionalLogisticMethod : IEvidenceMethod
{
    public string Name => "clogit";

    public string Summary => "Conditional logistic regression of matched sets: which of the set was the case? (Exact conditional likelihood; Efron and Breslow on request.)";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("event", "column: 1 the case, 0 its controls (or column:value)", "case, else event"),
        new("strata", "column: the matched sets", "stratum"),
        new("covariates", "covariates: a,b=B,c=C:level,d=A-48", null),
        new("ties", "exact, efron, breslow, or all", "all"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var ended = run.EventColumn("event", run.Table.Has("case") ? "case" : "event");
        var strata = run.Need("strata", "stratum");
        run.KeepComplete([ended.Column, strata, .. run.CovariateColumns("covariates")]);
        var (names, columns) = run.Covariates("covariates");
        var ones = new double[run.Table.Count];
        Array.Fill(ones, 1);
        var request = new CoxRequest
        {
            Exit = ones,
            Ended = run.Events(ended.Column, ended.Value),
            Names = names,
            Covariates = columns,
            Strata = CoxOutput.Index(run.Table.Texts(strata)),
        };
        var ties = run.Choice("ties", "all", "exact", "efron", "breslow", "all");
        foreach (var kind in ties == "all" ? new[] { "exact", "efron", "breslow" } : [ties])
        {
            CoxOutput.Write(run, request, kind);
        }

        run.Assume("Within a set, cases and controls differ only in what is asked and in chance.");
        return run.Answer();
    }
}

/// <summary>A fitted Cox model as named quantities.</summary>
internal static class CoxOutput
{
    public static int[] Index(string[] names)
    {
        var index = new Dictionary<string, int>();
        return [.. names.Select(name => index.TryGetValue(name, out var at) ? at : index[name] = index.Count)];
    }

    public static void Write(MethodRun run, CoxRequest request, string ties)
    {
        var method = "Cox " + ties;
        var fit = CoxRegression.Fit(request with { Ties = ties switch { "exact" => Ties.Exact, "breslow" => Ties.Breslow, _ => Ties.Efron } });
        foreach (var each in fit.Coefficients)
        {
            var why = each.Cannot;
            run.Add(method, each.Name, "coef", each.Value, why);
            run.Add(method, each.Name, "hr", each.Value is { } value ? Math.Exp(value) : null, why);
            Errors(each.StandardError, "se", "hr_lower95", "hr_upper95", "p_wald", true);
            Errors(each.RobustError, "robust_se", "robust_hr_lower95", "robust_hr_upper95", "robust_p", request.Clusters is not null);

            void Errors(double? se, string name, string lower, string upper, string p, bool asked)
            {
                if (!asked)
                {
                    return;
                }

                run.Add(method, each.Name, name, se, why);
                run.Add(method, each.Name, lower, se is null ? null : Math.Exp(each.Value!.Value - Tails.Z975 * se.Value), why);
                run.Add(method, each.Name, upper, se is null ? null : Math.Exp(each.Value!.Value + Tails.Z975 * se.Value), why);
                run.Add(method, each.Name, p, se is null ? null : Tails.NormalTwoSided(each.Value!.Value / se.Value), why);
            }
        }

        var none = fit.Cannot;
        run.Add(method, "all", "n", fit.N);
        run.Add(method, "all", "events", fit.Events);
        run.Add(method, "all", "loglik_null", fit.LogLikelihoodNull, none);
        run.Add(method, "all", "loglik", fit.LogLikelihood, none);
        Test("LR_chisq", "LR_p", fit.LikelihoodRatio);
        Test("Wald_chisq", "Wald_p", fit.Wald);
        Test("score_chisq", "score_p", fit.Score);
        if (request.Clusters is not null)
        {
            Test("robust_Wald_chisq", "robust_Wald_p", fit.RobustWald);
        }

        run.Add(method, "all", "df", none is null ? fit.Df : null, none);
        foreach (var check in fit.Proportionality)
        {
            run.Add("PH check", check.Name, "chisq", check.ChiSquare);
            run.Add("PH check", check.Name, "df", check.Df);
            run.Add("PH check", check.Name, "p", check.P);
        }

        foreach (var sentence in SurvivalWords.Regression(fit))
        {
            run.Say(sentence);
        }

        void Test(string chi, string p, double? value)
        {
            run.Add(method, "all", chi, value, none);
            run.Add(method, "all", p, value is null ? null : Tails.ChiSquareUpper(value.Value, fit.Df), none);
        }
    }
}
