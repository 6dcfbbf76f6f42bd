using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Comparisons;

/// <summary>Before against after (or one treatment against another) on the same plants.</summary>
public sealed record PairedResult
{
    public required int N { get; init; }

    public double MeanDifference { get; init; }

    public double? T { get; init; }

    public int Df { get; init; }

    public double? P { get; init; }

    public double? Lower95 { get; init; }

    public double? Upper95 { get; init; }

    /// <summary>Sum of the ranks of the positive differences; zeros dropped, mid-ranks for ties.</summary>
    public double SignedRank { get; init; }

    public int NonZero { get; init; }

    /// <summary>Exact over all 2^n signs given the ranks; null without a difference.</summary>
    public double? SignedRankP { get; init; }

    public int Positive { get; init; }

    /// <summary>Sign test, exact.</summary>
    public double? SignP { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Paired t test (Student 1908), Wilcoxon's signed ranks (1945), sign test.</summary>
public static class Paired
{
    public static PairedResult Compare(IReadOnlyList<double> differences)
    {
        var n = differences.Count;
        if (n == 0)
        {
            throw new EvidenceInputException("pairs", 0, "at least one pair");
        }

        var mean = differences.Average();
        var nonZero = differences.Where(d => d != 0).ToArray();
        var result = new PairedResult { N = n, MeanDifference = mean, Df = n - 1, NonZero = nonZero.Length, Positive = nonZero.Count(d => d > 0) };
        if (nonZero.Length > 0)
        {
            var ranks = MidRanks([.. nonZero.Select(Math.Abs)]);
            var v = nonZero.Select((d, i) => d > 0 ? ranks[i] : 0).Sum();
            result = result with
            {
                SignedRank = v,
                SignedRankP = SignedRankTail(ranks, v),
                SignP = Rates.ExactBinomial.Test(result.Positive, nonZero.Length, 0.5).Central,
            };
        }

        if (n < 2)
        {
            return result with { Cannot = "One pair shows what happened once; how much such differences scatter cannot be told from it." };
        }

        var sd = Math.Sqrt(differences.Sum(d => (d - mean) * (d - mean)) / (n - 1));
        if (!(sd > 1e-12 * (Math.Abs(mean) + differences.Max(Math.Abs))))
        {
            return result with
            {
                Cannot = mean == 0
                    ? "Not one pair differs, so there is nothing to test; a real difference smaller than the reading step would look like this too."
                    : "All pairs differ by the same amount, so there is no scatter for a t test; the sign and rank tests stand.",
            };
        }

        var error = sd / Math.Sqrt(n);
        var t = mean / error;
        var reach = Tails.StudentFor(0.95, n - 1) * error;
        return result with { T = t, P = Tails.StudentTwoSided(t, n - 1), Lower95 = mean - reach, Upper95 = mean + reach };
    }

    internal static double[] MidRanks(double[] values)
    {
        var order = Enumerable.Range(0, values.Length).OrderBy(i => values[i]).ToArray();
        var ranks = new double[values.Length];
        for (var from = 0; from < order.Length;)
        {
            var to = from;
            // Differences that print alike are ties although their last bits differ.
            while (to < order.Length && values[order[to]] - values[order[from]] <= 1e-9 * Math.Abs(values[order[from]]))
            {
                to++;
            }

            for (var k = from; k < to; k++)
            {
                ranks[order[k]] = (from + 1 + to) / 2.0;
            }

            from = to;
        }

        return ranks;
    }

    private static double SignedRankTail(double[] ranks, double v)
    {
        // Counts of all sign patterns by their sum of doubled ranks.
        var doubled = ranks.Select(rank => (int)Math.Round(2 * rank)).ToArray();
        var total = doubled.Sum();
        var share = new double[total + 1];
        share[0] = 1;
        var reached = 0;
        foreach (var rank in doubled)
        {
            reached += rank;
            for (var s = reached; s >= 0; s--)
            {
                share[s] = 0.5 * (share[s] + (s >= rank ? share[s - rank] : 0));
            }
        }

        var at = (int)Math.Round(2 * v);
        return Math.Min(1, 2 * Math.Min(share.Take(at + 1).Sum(), share.Skip(at).Sum()));
    }
}
