using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>A fitted Weibull regression: log T = intercept + covariates + scale × extreme value error.</summary>
public sealed record WeibullFit
{
    public required IReadOnlyList<string> Names { get; init; }

    /// <summary>Intercept, then one per name, then log(scale); null where they could not be found.</summary>
    public double[]? Parameters { get; init; }

    /// <summary>Covariance in the order of <see cref="Parameters"/>.</summary>
    public double[,]? Covariance { get; init; }

    public double? LogLikelihood { get; init; }

    public required int N { get; init; }

    public required int Events { get; init; }

    /// <summary>Why there is none, in a sentence.</summary>
    public string? Cannot { get; init; }

    public double Intercept => Parameters![0];

    /// <summary>1/shape.</summary>
    public double Scale => Math.Exp(Parameters![^1]);

    /// <summary>Above 1 the hazard rises with age, as it does for leaves.</summary>
    public double Shape => 1 / Scale;

    public double StandardError(int parameter) => Math.Sqrt(Covariance![parameter, parameter]);

    /// <summary>The share still there at age t with these covariates.</summary>
    public double Survival(double t, params double[] covariates) => t <= 0 ? 1 : Math.Exp(-Math.Exp((Math.Log(t) - Location(covariates)) / Scale));

    /// <summary>The age by which the share p is lost.</summary>
    public double Quantile(double p, params double[] covariates) => Math.Exp(Location(covariates) + Scale * Math.Log(-Math.Log(1 - p)));

    private double Location(double[] covariates)
    {
        var sum = Parameters![0];
        for (var j = 0; j < covariates.Length; j++)
        {
            sum += Parameters[j + 1] * covariates[j];
        }

        return sum;
    }
}

/// <summary>
/// Weibull regression by maximum likelihood, with late entry; in the parameters of an accelerated life model. Kalbfleisch and Prentice, chapter 3 (from memory).
/// The log-likelihood is that of T, not of log T.
/// </summary>
public static class WeibullRegression
{
    public static WeibullFit Fit(IReadOnlyList<Lifetime> lives, IReadOnlyList<string>? names = null, IReadOnlyList<double[]>? covariates = null)
    {
        names ??= [];
        covariates ??= [];
        var events = lives.Count(life => life.Ended);
        var empty = new WeibullFit { Names = names, N = lives.Count, Events = events };
        foreach (var life in lives)
        {
            KaplanMeier.Check(life);
            if (life.Exit <= 0)
            {
                throw new EvidenceInputException("time", life.Exit, "a time above 0");
            }
        }

        if (events == 0)
        {
            return empty with { Cannot = "Nothing was lost, so there is no life to fit; the records only say how long lives last at least." };
        }

        if (lives.Where(life => life.Ended).Select(life => life.Exit).Distinct().Count() < 2)
        {
            return empty with { Cannot = "All losses fell at one age, so the spread of lives cannot be told; what happened on that day is the question." };
        }

        for (var j = 0; j < covariates.Count; j++)
        {
            if (covariates[j].All(value => value == covariates[j][0]))
            {
                return empty with { Cannot = $"{names[j]} never varies in these records, so they say nothing about it. Leave it out." };
            }
        }

        return Newton(lives, covariates, empty);
    }

    private static WeibullFit Newton(IReadOnlyList<Lifetime> lives, IReadOnlyList<double[]> covariates, WeibullFit empty)
    {
        var k = covariates.Count + 2;
        var at = new double[k];
        at[0] = Math.Log(lives.Average(life => life.Exit) * lives.Count / empty.Events);
        at[^1] = Math.Log(0.8);
        var (value, gradient, information) = Likelihood(lives, covariates, at);
        for (var step = 0; step < 200; step++)
        {
            var ridge = 0.0;
            double[,] lower;
            while (SymmetricMatrix.Factor(Ridged(information, ridge), out lower, 1e-14) >= 0)
            {
                ridge = ridge == 0 ? 1e-4 * (1 + Math.Abs(information[0, 0])) : ridge * 10;
                if (ridge > 1e12)
                {
                    return empty with { Cannot = "The Weibull curve cannot be fitted to these records: they do not fix its shape." };
                }
            }

            var move = SymmetricMatrix.Solve(lower, gradient);
            var decrement = 0.0;
            for (var j = 0; j < k; j++)
            {
                decrement += move[j] * gradient[j];
            }

            var share = 1.0;
            double[] to;
            (double Value, double[] Gradient, double[,] Information) next;
            do
            {
                to = [.. at.Select((x, j) => x + share * move[j])];
                next = Likelihood(lives, covariates, to);
                share /= 2;
            }
            while (!(next.Value >= value - 1e-10 * Math.Abs(value)) && share > 1e-8);

            at = to;
            (value, gradient, information) = next;
            if (ridge == 0 && Math.Abs(decrement) < 1e-18 * (1 + Math.Abs(value)) || at.Any(x => Math.Abs(x) > 200))
            {
                break;
            }
        }

        if (at.Skip(1).Any(x => Math.Abs(x) > 25) || SymmetricMatrix.Inverse(information) is not { } covariance)
        {
            return empty with { Cannot = "The Weibull curve runs away on these records (a perfectly separated comparison, or too few losses), so no figure of it means anything." };
        }

        return empty with { Parameters = at, Covariance = covariance, LogLikelihood = value };
    }

    private static double[,] Ridged(double[,] matrix, double ridge)
    {
        var result = (double[,])matrix.Clone();
        for (var i = 0; i < matrix.GetLength(0); i++)
        {
            result[i, i] += ridge;
        }

        return result;
    }

    private static (double Value, double[] Gradient, double[,] Information) Likelihood(IReadOnlyList<Lifetime> lives, IReadOnlyList<double[]> covariates, double[] at)
    {
        var k = at.Length;
        var value = 0.0;
        var gradient = new double[k];
        var information = new double[k, k];
        var logScale = at[^1];
        var scale = Math.Exp(logScale);
        var x = new double[k];
        for (var i = 0; i < lives.Count; i++)
        {
            var location = at[0];
            x[0] = 1;
            for (var j = 0; j < covariates.Count; j++)
            {
                x[j + 1] = covariates[j][i];
                location += at[j + 1] * x[j + 1];
            }

            // With w = (log t - location)/scale a loss adds w - log scale - log t, and being under watch -exp(w). dw/dlocation = -1/scale, dw/dlog scale = -w.
            var life = lives[i];
            var w = (Math.Log(life.Exit) - location) / scale;
            Add(-Math.Exp(w), -Math.Exp(w), -Math.Exp(w), w);
            if (life.Ended)
            {
                value -= logScale + Math.Log(life.Exit);
                gradient[^1] -= 1;
                Add(w, 1, 0, w);
            }

            if (life.Entry > 0)
            {
                var e = (Math.Log(life.Entry) - location) / scale;
                Add(Math.Exp(e), Math.Exp(e), Math.Exp(e), e);
            }
        }

        return (value, gradient, information);

        // f(w) with its first two derivatives in w, carried to the parameters.
        void Add(double f, double first, double second, double w)
        {
            value += f;
            x[^1] = w * scale;
            for (var a = 0; a < k; a++)
            {
                gradient[a] -= first * x[a] / scale;
                for (var b = 0; b < k; b++)
                {
                    var both = second * x[a] * x[b] / (scale * scale);
                    if (a == k - 1 && b == k - 1)
                    {
                        both += first * w;
                    }
                    else if (a == k - 1 || b == k - 1)
                    {
                        both += first * x[a == k - 1 ? b : a] / scale;
                    }

                    information[a, b] -= both;
                }
            }
        }
    }
}
