using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>A leaf that is there now.</summary>
/// <param name="Name">"bulb 4, leaf 1".</param>
/// <param name="AgeDays">Its age in the unit the curve was fitted in (days).</param>
public sealed record StandingLeaf(string Name, double AgeDays);

/// <summary>Which leaf is next, and when.</summary>
/// <param name="Chances">Per leaf, the chance that it is the next to go, likeliest first.</param>
/// <param name="EarlyDays">Days from now until the next loss: lower end of the 90 % band.</param>
/// <param name="MiddleDays">The middle.</param>
/// <param name="LateDays">Upper end.</param>
public sealed record NextLeaf(IReadOnlyList<(string Name, double Chance)> Chances, double EarlyDays, double MiddleDays, double LateDays);

/// <summary>Forecast of the next leaf from a fitted Weibull curve: its uncertainty is drawn along with the lives themselves.</summary>
public static class LeafForecast
{
    public static NextLeaf? Next(WeibullFit fit, IReadOnlyList<StandingLeaf> leaves, double[]? covariates = null, int draws = 4000, int seed = 1)
    {
        if (fit.Parameters is not { } parameters || fit.Covariance is null || leaves.Count == 0 || SymmetricMatrix.Factor(fit.Covariance, out var lower, 0) >= 0)
        {
            return null;
        }

        covariates ??= [];
        var random = new Random(seed);
        var first = new int[leaves.Count];
        var waits = new double[draws];
        var k = parameters.Length;
        var z = new double[k];
        var drawn = new double[k];
        for (var draw = 0; draw < draws; draw++)
        {
            for (var j = 0; j < k; j++)
            {
                z[j] = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
                drawn[j] = parameters[j];
                for (var l = 0; l <= j; l++)
                {
                    drawn[j] += lower[j, l] * z[l];
                }
            }

            var location = drawn[0];
            for (var j = 0; j < covariates.Length; j++)
            {
                location += drawn[j + 1] * covariates[j];
            }

            var scale = Math.Exp(Math.Clamp(drawn[^1], -5, 5));
            var (soonest, who) = (double.PositiveInfinity, 0);
            for (var i = 0; i < leaves.Count; i++)
            {
                // Inverse of S(age + wait)/S(age).
                var age = Math.Max(leaves[i].AgeDays, 1e-9);
                var past = Math.Exp((Math.Log(age) - location) / scale);
                var wait = Math.Exp(location + scale * Math.Log(past - Math.Log(1 - random.NextDouble()))) - age;
                if (wait < soonest)
                {
                    (soonest, who) = (wait, i);
                }
            }

            first[who]++;
            waits[draw] = soonest;
        }

        Array.Sort(waits);
        return new NextLeaf(
            [.. leaves.Select((leaf, i) => (leaf.Name, first[i] / (double)draws)).OrderByDescending(each => each.Item2)],
            waits[(int)(0.05 * draws)],
            waits[draws / 2],
            waits[Math.Min(draws - 1, (int)(0.95 * draws))]);
    }
}
