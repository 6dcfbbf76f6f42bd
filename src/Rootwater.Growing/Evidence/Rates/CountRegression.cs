using MathNet.Numerics;
using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Rates;

/// <summary>The data of a regression of counts, log link. The intercept is added.</summary>
public sealed record CountRequest
{
    public required int[] Counts { get; init; }

    public required IReadOnlyList<string> Names { get; init; }

    public required IReadOnlyList<double[]> Covariates { get; init; }

    /// <summary>Time under watch of each row (log offset); null for one each.</summary>
    public double[]? Exposure { get; init; }
}

/// <summary>A fitted count regression: the Poisson one, or with <see cref="Theta"/> the negative binomial (variance mu + mu²/theta).</summary>
public sealed record CountFit
{
    /// <summary>"(Intercept)" and the covariates.</summary>
    public required IReadOnlyList<string> Names { get; init; }

    public double[]? Coefficients { get; init; }

    public double[,]? Covariance { get; init; }

    public double Deviance { get; init; }

    public int ResidualDf { get; init; }

    public double Pearson { get; init; }

    public double LogLikelihood { get; init; }

    /// <summary>Null for Poisson, or where the counts spread no more than Poisson.</summary>
    public double? Theta { get; init; }

    public double? ThetaError { get; init; }

    public required int N { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }

    public double StandardError(int j) => Math.Sqrt(Covariance![j, j]);
}

/// <summary>Poisson and negative binomial regression by maximum likelihood. Standard errors of the negative binomial hold theta fixed; that of theta is from the observed information (Lawless 1987, from memory).</summary>
public static class CountRegression
{
    public static CountFit Poisson(CountRequest request)
    {
        var (empty, x) = Prepare(request);
        return empty.Cannot is not null ? empty : Finish(request, x, Weighted(request, x, null, null), null, empty);
    }

    public static CountFit NegativeBinomial(CountRequest request)
    {
        var (empty, x) = Prepare(request);
        if (empty.Cannot is not null)
        {
            return empty;
        }

        var fit = Weighted(request, x, null, null);
        if (fit is null)
        {
            return Finish(request, x, null, null, empty);
        }

        var pearson = fit.Mu.Select((mu, i) => (request.Counts[i] - mu) * (request.Counts[i] - mu) / mu).Sum();
        var theta = Math.Max(0.1, request.Counts.Length / Math.Max(0.1, fit.Mu.Select((mu, i) => Math.Pow(request.Counts[i] / mu - 1, 2)).Sum()));
        for (var round = 0; round < 200; round++)
        {
            var next = Theta(request.Counts, fit.Mu, theta);
            if (next > 1e7)
            {
                return Finish(request, x, Weighted(request, x, null, null), null, empty) with
                {
                    Cannot = FormattableString.Invariant($"The counts spread no more than chance alone makes them (Pearson {pearson:0.#} on {request.Counts.Length - x.Length}), so there is no extra spread to estimate; the Poisson figures hold."),
                };
            }

            var better = Weighted(request, x, next, fit.Beta);
            if (better is null)
            {
                return Finish(request, x, null, null, empty);
            }

            var done = Math.Abs(next - theta) < 1e-12 * theta && better.Beta.Zip(fit.Beta).All(pair => Math.Abs(pair.First - pair.Second) < 1e-12 * (1 + Math.Abs(pair.First)));
            (fit, theta) = (better, next);
            if (done)
            {
                break;
            }
        }

        return Finish(request, x, fit, theta, empty);
    }

    private sealed record Means(double[] Beta, double[] Mu, double[,] Covariance);

    private static (CountFit Empty, double[][] X) Prepare(CountRequest request)
    {
        var n = request.Counts.Length;
        var names = new List<string> { "(Intercept)" };
        names.AddRange(request.Names);
        var empty = new CountFit { Names = names, N = n };
        if (Array.Exists(request.Counts, count => count < 0))
        {
            throw new EvidenceInputException("count", request.Counts.Min(), "whole counts of 0 or more");
        }

        if (request.Exposure?.FirstOrDefault(time => !(time > 0)) is { } bad && Array.Exists(request.Exposure, time => !(time > 0)))
        {
            throw new EvidenceInputException("exposure", bad, "times above 0");
        }

        var ones = new double[n];
        Array.Fill(ones, 1);
        double[][] x = [ones, .. request.Covariates];
        if (Array.TrueForAll(request.Counts, count => count == 0))
        {
            return (empty with { Cannot = "Not one event was counted, so no rate can be compared; the records only bound how high the rate can be." }, x);
        }

        for (var j = 0; j < request.Names.Count; j++)
        {
            if (request.Covariates[j].All(value => value == request.Covariates[j][0]))
            {
                return (empty with { Cannot = $"{request.Names[j]} never varies in these records, so they say nothing about it. Leave it out." }, x);
            }
        }

        if (n <= x.Length)
        {
            return (empty with { Cannot = $"{n} rows cannot carry {x.Length} coefficients." }, x);
        }

        return (empty, x);
    }

    private static CountFit Finish(CountRequest request, double[][] x, Means? fit, double? theta, CountFit empty)
    {
        if (fit is null)
        {
            return empty with { Cannot = "The fit runs away on these records: a group without any event, or covariates that follow from one another, so no figure of it means anything." };
        }

        double deviance = 0, pearson = 0, log = 0;
        for (var i = 0; i < request.Counts.Length; i++)
        {
            double y = request.Counts[i];
            var mu = fit.Mu[i];
            var part = y > 0 ? y * Math.Log(y / mu) : 0;
            if (theta is { } t)
            {
                deviance += 2 * (part - (y + t) * Math.Log((y + t) / (mu + t)));
                pearson += (y - mu) * (y - mu) / (mu + mu * mu / t);
                log += SpecialFunctions.GammaLn(t + y) - SpecialFunctions.GammaLn(t) - SpecialFunctions.GammaLn(y + 1) + t * Math.Log(t) + y * Math.Log(mu) - (t + y) * Math.Log(t + mu);
            }
            else
            {
                deviance += 2 * (part - (y - mu));
                pearson += (y - mu) * (y - mu) / mu;
                log += y * Math.Log(mu) - mu - SpecialFunctions.GammaLn(y + 1);
            }
        }

        return empty with
        {
            Coefficients = fit.Beta,
            Covariance = fit.Covariance,
            Deviance = deviance,
            ResidualDf = request.Counts.Length - x.Length,
            Pearson = pearson,
            LogLikelihood = log,
            Theta = theta,
            ThetaError = theta is { } th ? 1 / Math.Sqrt(ThetaInformation(request.Counts, fit.Mu, th)) : null,
        };
    }

    /// <summary>Iterated weighted least squares on the score; null where it runs away.</summary>
    private static Means? Weighted(CountRequest request, double[][] x, double? theta, double[]? start)
    {
        var n = request.Counts.Length;
        var p = x.Length;
        var offset = request.Exposure?.Select(time => Math.Log(time)).ToArray() ?? new double[n];
        var beta = start is null ? new double[p] : (double[])start.Clone();
        if (start is null)
        {
            beta[0] = Math.Log(request.Counts.Sum() / (request.Exposure?.Sum() ?? n));
        }

        var mu = new double[n];
        for (var round = 0; round < 100; round++)
        {
            var information = new double[p, p];
            var score = new double[p];
            for (var i = 0; i < n; i++)
            {
                var eta = offset[i];
                for (var j = 0; j < p; j++)
                {
                    eta += beta[j] * x[j][i];
                }

                mu[i] = Math.Exp(Math.Clamp(eta, -300, 300));
                var shrink = theta is { } t ? 1 / (1 + mu[i] / t) : 1;
                for (var j = 0; j < p; j++)
                {
                    score[j] += (request.Counts[i] - mu[i]) * shrink * x[j][i];
                    for (var l = 0; l <= j; l++)
                    {
                        information[j, l] += mu[i] * shrink * x[j][i] * x[l][i];
                        information[l, j] = information[j, l];
                    }
                }
            }

            if (SymmetricMatrix.Factor(information, out var lower, 1e-11) >= 0)
            {
                return null;
            }

            var move = SymmetricMatrix.Solve(lower, score);
            var biggest = move.Max(Math.Abs);
            if (biggest < 1e-13 * (1 + beta.Max(Math.Abs)) || round > 30 && biggest < 1e-10)
            {
                return beta.Any(b => Math.Abs(b) > 60) ? null : new Means(beta, mu, SymmetricMatrix.Inverse(information)!);
            }

            var share = Math.Min(1, 4 / biggest);
            for (var j = 0; j < p; j++)
            {
                beta[j] += share * move[j];
            }
        }

        return null;
    }

    private static double Theta(int[] counts, double[] mu, double theta)
    {
        for (var round = 0; round < 50; round++)
        {
            var score = 0.0;
            for (var i = 0; i < counts.Length; i++)
            {
                score += SpecialFunctions.DiGamma(theta + counts[i]) - SpecialFunctions.DiGamma(theta) + Math.Log(theta) + 1 - Math.Log(theta + mu[i]) - (counts[i] + theta) / (mu[i] + theta);
            }

            var information = ThetaInformation(counts, mu, theta);
            var step = information > 0 ? score / information : Math.Sign(score) * theta;
            var next = Math.Clamp(theta + step, theta / 3, theta * 3);
            if (next > 1e7 || Math.Abs(next - theta) < 1e-13 * theta)
            {
                return next;
            }

            theta = next;
        }

        return theta;
    }

    private static double ThetaInformation(int[] counts, double[] mu, double theta)
    {
        var sum = 0.0;
        for (var i = 0; i < counts.Length; i++)
        {
            sum += Gammas.Trigamma(theta) - Gammas.Trigamma(theta + counts[i]) - 1 / theta + 2 / (mu[i] + theta) - (counts[i] + theta) / ((mu[i] + theta) * (mu[i] + theta));
        }

        return sum;
    }
}
