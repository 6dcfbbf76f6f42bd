using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Series;

/// <summary>A drift that no single odd value can make: Theil–Sen slope with Mann–Kendall test.</summary>
public sealed record TrendFit
{
    public required int N { get; init; }

    /// <summary>Median of all slopes between two points.</summary>
    public double? Slope { get; init; }

    /// <summary>median(y - b x).</summary>
    public double? InterceptOfResiduals { get; init; }

    /// <summary>median(y) - b median(x).</summary>
    public double? InterceptConover { get; init; }

    /// <summary>Rises less falls over all pairs.</summary>
    public double S { get; init; }

    /// <summary>Its variance without a trend, ties taken into account.</summary>
    public double VarianceS { get; init; }

    /// <summary>With continuity correction.</summary>
    public double? Z { get; init; }

    public double? P { get; init; }

    /// <summary>From the exact distribution; null where values tie or there are more than 200.</summary>
    public double? PExact { get; init; }

    public double? TauA { get; init; }

    public double? TauB { get; init; }

    /// <summary>Slope interval by interpolated ranks (Gilbert 1987).</summary>
    public Interval95? GilbertInterval { get; init; }

    /// <summary>Slope interval by rounded ranks.</summary>
    public Interval95? RoundedInterval { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Theil 1950, Sen 1968, Mann 1945, Kendall 1975; interval by Gilbert 1987.</summary>
public static class Trend
{
    public static TrendFit Fit(double[] times, double[] values)
    {
        var n = values.Length;
        if (n < 4)
        {
            return new TrendFit { N = n, Cannot = $"{n} values are too few for a trend: four are the least, and ten before it means much." };
        }

        if (times.Distinct().Count() < 2)
        {
            return new TrendFit { N = n, Cannot = "All values are of one time, so there is no trend to see." };
        }

        var slopes = new List<double>(n * (n - 1) / 2);
        var s = 0.0;
        for (var i = 0; i < n; i++)
        {
            for (var j = i + 1; j < n; j++)
            {
                var run = times[j] - times[i];
                if (run != 0)
                {
                    slopes.Add((values[j] - values[i]) / run);
                    s += Math.Sign(values[j] - values[i]) * Math.Sign(run);
                }
            }
        }

        slopes.Sort();
        var ties = values.GroupBy(value => value).Select(group => (double)group.Count()).ToList();
        var tiedTimes = times.GroupBy(value => value).Select(group => (double)group.Count()).ToList();
        var variance = Variance(n, ties, tiedTimes);
        var slope = Median(slopes);
        if (ties.Count == 1)
        {
            return new TrendFit { N = n, Slope = 0, Cannot = "The value never changes: no drift, and no scatter from which to judge how small a drift would have been seen." };
        }

        var pairs = n * (n - 1) / 2.0;
        var z = s == 0 ? 0 : (s - Math.Sign(s)) / Math.Sqrt(variance);
        var reach = Tails.Z975 * Math.Sqrt(variance);
        var tied = ties.Any(count => count > 1) || tiedTimes.Any(count => count > 1);
        return new TrendFit
        {
            N = n,
            Slope = slope,
            InterceptOfResiduals = Median([.. values.Select((y, i) => y - slope * times[i]).Order()]),
            InterceptConover = Median([.. values.Order()]) - slope * Median([.. times.Order()]),
            S = s,
            VarianceS = variance,
            Z = z,
            P = Tails.NormalTwoSided(z),
            PExact = tied || n > 200 ? null : Exact(n, (int)Math.Round(s)),
            TauA = s / pairs,
            TauB = s / Math.Sqrt((pairs - ties.Sum(t => t * (t - 1) / 2)) * (pairs - tiedTimes.Sum(t => t * (t - 1) / 2))),
            GilbertInterval = new Interval95(AtRank(slopes, (slopes.Count - reach) / 2), AtRank(slopes, (slopes.Count + reach) / 2 + 1)),
            RoundedInterval = new Interval95(AtRank(slopes, Math.Round((slopes.Count - reach) / 2)), AtRank(slopes, Math.Round((slopes.Count + reach) / 2 + 1))),
        };
    }

    private static double Variance(int n, List<double> ties, List<double> tiedTimes)
    {
        double Cubic(double t) => t * (t - 1) * (2 * t + 5);
        var variance = (Cubic(n) - ties.Sum(Cubic) - tiedTimes.Sum(Cubic)) / 18;
        // Kendall's terms for ties in both (nought where only one side ties).
        variance += ties.Sum(t => t * (t - 1) * (t - 2)) * tiedTimes.Sum(t => t * (t - 1) * (t - 2)) / (9.0 * n * (n - 1) * (n - 2));
        variance += ties.Sum(t => t * (t - 1)) * tiedTimes.Sum(t => t * (t - 1)) / (2.0 * n * (n - 1));
        return variance;
    }

    /// <summary>Twice the tail of Kendall's distribution beyond |S|, counted by the number of inversions of a permutation.</summary>
    private static double Exact(int n, int s)
    {
        var most = n * (n - 1) / 2;
        var share = new double[most + 1];
        share[0] = 1;
        var filled = 0;
        for (var m = 2; m <= n; m++)
        {
            var next = new double[most + 1];
            var window = 0.0;
            filled += m - 1;
            for (var k = 0; k <= filled; k++)
            {
                window += share[k];
                if (k >= m)
                {
                    window -= share[k - m];
                }

                next[k] = Math.Max(0, window) / m;
            }

            share = next;
        }

        // |S| = most - 2 × inversions: the far tail is summed from its small end.
        var inversions = (most - Math.Abs(s)) / 2;
        var tail = 0.0;
        for (var k = 0; k <= inversions; k++)
        {
            tail += share[k];
        }

        return Math.Min(1, 2 * tail);
    }

    internal static double Median(IReadOnlyList<double> sorted) =>
        sorted.Count % 2 == 1 ? sorted[sorted.Count / 2] : (sorted[sorted.Count / 2 - 1] + sorted[sorted.Count / 2]) / 2;

    /// <summary>The value at a 1-based rank, between neighbours where the rank is broken.</summary>
    private static double AtRank(List<double> sorted, double rank)
    {
        rank = Math.Clamp(rank, 1, sorted.Count);
        var below = (int)Math.Floor(rank);
        var share = rank - below;
        return share == 0 ? sorted[below - 1] : sorted[below - 1] + share * (sorted[below] - sorted[below - 1]);
    }
}
