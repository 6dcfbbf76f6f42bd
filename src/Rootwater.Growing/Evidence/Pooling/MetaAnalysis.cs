using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Pooling;

/// <summary>One estimate with its variance: an effect in one plant, kind or trial.</summary>
public readonly record struct Estimate(string Name, double Effect, double Variance);

/// <summary>How the spread between the true effects is estimated.</summary>
public enum BetweenVariance
{
    /// <summary>None: one common effect.</summary>
    Fixed,

    /// <summary>By moments.</summary>
    DerSimonianLaird,

    /// <summary>Restricted maximum likelihood. The default.</summary>
    Restricted,

    /// <summary>Maximum likelihood: too small with few.</summary>
    MaximumLikelihood,
}

/// <summary>Estimates drawn together.</summary>
/// <param name="Tau2">Variance between the true effects.</param>
/// <param name="Mean">Their mean.</param>
/// <param name="StandardError">Its error, tau² taken as known.</param>
/// <param name="Shrunken">Each estimate drawn towards the mean as far as its own variance asks.</param>
/// <param name="Q">Cochran's heterogeneity.</param>
/// <param name="QP">Its chance under one common effect; null with one estimate.</param>
/// <param name="I2">Share of the scatter that is between.</param>
public sealed record PooledEffect(double Tau2, double Mean, double StandardError, IReadOnlyList<double> Shrunken, double Q, double? QP, double I2);

/// <summary>Random effects meta-analysis: DerSimonian and Laird 1986; likelihoods as in Viechtbauer 2005 (from memory).</summary>
public static class MetaAnalysis
{
    public static PooledEffect Pool(IReadOnlyList<Estimate> estimates, BetweenVariance kind = BetweenVariance.Restricted)
    {
        if (estimates.Count == 0)
        {
            throw new EvidenceInputException("estimates", 0, "at least one");
        }

        foreach (var estimate in estimates)
        {
            if (!double.IsFinite(estimate.Effect) || !(estimate.Variance > 0) || !double.IsFinite(estimate.Variance))
            {
                throw new EvidenceInputException($"estimate {estimate.Name}", estimate.Variance, "a finite effect with a variance above 0");
            }
        }

        var common = Weighted(estimates, 0);
        var k = estimates.Count;
        var q = estimates.Sum(e => (e.Effect - common.Mean) * (e.Effect - common.Mean) / e.Variance);
        var tau2 = kind switch
        {
            BetweenVariance.DerSimonianLaird when k > 1 => Math.Max(0, (q - (k - 1)) / (common.Sum - common.SumSquares / common.Sum)),
            BetweenVariance.Restricted or BetweenVariance.MaximumLikelihood when k > 1 => Likeliest(estimates, kind == BetweenVariance.Restricted),
            _ => 0,
        };
        var pooled = Weighted(estimates, tau2);
        return new PooledEffect(
            tau2,
            pooled.Mean,
            Math.Sqrt(1 / pooled.Sum),
            [.. estimates.Select(e => (tau2 * e.Effect + e.Variance * pooled.Mean) / (tau2 + e.Variance))],
            q,
            k > 1 ? Tails.ChiSquareUpper(q, k - 1) : null,
            q > 0 ? Math.Max(0, (q - (k - 1)) / q) : 0);
    }

    private static (double Sum, double SumSquares, double Mean) Weighted(IReadOnlyList<Estimate> estimates, double tau2)
    {
        double sum = 0, squares = 0, effect = 0;
        foreach (var e in estimates)
        {
            var w = 1 / (e.Variance + tau2);
            sum += w;
            squares += w * w;
            effect += w * e.Effect;
        }

        return (sum, squares, effect / sum);
    }

    /// <summary>Where the score is 0; 0 where the likelihood falls from there on.</summary>
    private static double Likeliest(IReadOnlyList<Estimate> estimates, bool restricted)
    {
        double Score(double tau2)
        {
            var (sum, squares, mean) = Weighted(estimates, tau2);
            var residual = estimates.Sum(e => Math.Pow((e.Effect - mean) / (e.Variance + tau2), 2));
            return residual - sum + (restricted ? squares / sum : 0);
        }

        if (Score(0) <= 0)
        {
            return 0;
        }

        var high = estimates.Max(e => e.Variance);
        while (Score(high) > 0)
        {
            high *= 2;
        }

        return Roots.Bisect(Score, 0, high);
    }
}
