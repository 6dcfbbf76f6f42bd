namespace Rootwater.Growing.Evidence.Survival;

/// <summary>How losses on the same day are ordered.</summary>
public enum Ties
{
    /// <summary>Efron 1977: close to exact, quick. The default.</summary>
    Efron,

    /// <summary>Breslow 1974: pulls towards no effect when many tie.</summary>
    Breslow,

    /// <summary>The discrete conditional likelihood (conditional logistic regression).</summary>
    Exact,
}

/// <summary>The data of a proportional hazards regression, one row per life or per interval of a life over which its covariates stand still.</summary>
public sealed record CoxRequest
{
    /// <summary>Start of each interval; null where all were watched from the start.</summary>
    public double[]? Entry { get; init; }

    /// <summary>End of each interval.</summary>
    public required double[] Exit { get; init; }

    /// <summary>True where the interval ends in a loss.</summary>
    public required bool[] Ended { get; init; }

    /// <summary>Names of the covariates.</summary>
    public required IReadOnlyList<string> Names { get; init; }

    /// <summary>One array per covariate, one value per row.</summary>
    public required IReadOnlyList<double[]> Covariates { get; init; }

    /// <summary>Stratum of each row: each has its own baseline hazard. Null for one.</summary>
    public int[]? Strata { get; init; }

    /// <summary>Cluster of each row (the plant its leaves hang on), for robust errors. Null for none.</summary>
    public int[]? Clusters { get; init; }

    /// <summary>How ties are treated.</summary>
    public Ties Ties { get; init; } = Ties.Efron;

    /// <summary>Whether proportional hazards are to be checked, and on which scale of time.</summary>
    public TimeScale? Check { get; init; }
}

/// <summary>The scale of time on which a change of the hazard ratio is looked for.</summary>
public enum TimeScale
{
    /// <summary>1 - S(t-): the default; not upset by a few very long lives.</summary>
    KaplanMeier,

    /// <summary>Time itself.</summary>
    Identity,

    /// <summary>log t.</summary>
    Log,

    /// <summary>Rank of the event times.</summary>
    Rank,
}

/// <summary>One covariate of a fitted model.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Value">Log hazard ratio per unit; null where the data give none.</param>
/// <param name="StandardError">From the information; null with <paramref name="Value"/> or where the comparison is perfectly separated.</param>
/// <param name="RobustError">From the clusters; null where none were given.</param>
/// <param name="Cannot">What cannot be said of it and why; null where all is well.</param>
public sealed record CoxCoefficient(string Name, double? Value, double? StandardError, double? RobustError, string? Cannot);

/// <summary>A check of proportional hazards: does the effect change as time goes on?</summary>
public sealed record ProportionalityCheck(string Name, double ChiSquare, int Df, double P);

/// <summary>A fitted proportional hazards model.</summary>
public sealed record CoxFit
{
    public required IReadOnlyList<CoxCoefficient> Coefficients { get; init; }

    /// <summary>Rows.</summary>
    public required int N { get; init; }

    /// <summary>Losses.</summary>
    public required int Events { get; init; }

    /// <summary>Log partial likelihood with no effect; null without losses.</summary>
    public double? LogLikelihoodNull { get; init; }

    /// <summary>Log partial likelihood at the estimate.</summary>
    public double? LogLikelihood { get; init; }

    /// <summary>Likelihood ratio statistic. Valid under perfect separation too.</summary>
    public double? LikelihoodRatio { get; init; }

    /// <summary>Wald statistic; null under perfect separation, where it means nothing.</summary>
    public double? Wald { get; init; }

    /// <summary>Score statistic: the log-rank test when there is one binary covariate.</summary>
    public double? Score { get; init; }

    /// <summary>Wald statistic with the robust covariance.</summary>
    public double? RobustWald { get; init; }

    /// <summary>Covariates that could be estimated.</summary>
    public int Df { get; init; }

    /// <summary>Covariance of the estimates (those that could be had).</summary>
    public double[,]? Covariance { get; init; }

    /// <summary>Per covariate, then "GLOBAL"; empty where not asked for or not possible.</summary>
    public IReadOnlyList<ProportionalityCheck> Proportionality { get; init; } = [];

    /// <summary>Newton steps taken.</summary>
    public int Steps { get; init; }

    /// <summary>Why there is no model at all, in a sentence; null where there is one.</summary>
    public string? Cannot { get; init; }
}
