namespace Rootwater.Growing.Evidence.Comparisons;

/// <summary>A difference judged by what the draw could have done instead.</summary>
/// <param name="Difference">Difference of means.</param>
/// <param name="Arrangements">All there are, or how many were drawn.</param>
/// <param name="AtLeastAsLarge">Arrangements whose difference is at least as large either way, ties counted.</param>
/// <param name="TwoSided">Their share.</param>
/// <param name="Greater">Share at least as large upward.</param>
/// <param name="Less">Share at least as large downward.</param>
/// <param name="Exact">False where arrangements were drawn at random because there are too many.</param>
public sealed record PermutationResult(double Difference, long Arrangements, long AtLeastAsLarge, double TwoSided, double Greater, double Less, bool Exact);

/// <summary>Permutation tests (Fisher 1935): valid when the arms were drawn at random, whatever the values look like.</summary>
public static class Permutation
{
    /// <summary>Beyond so many arrangements a random sample of them is taken.</summary>
    public const long MostArrangements = 20_000_000;

    private const int Drawn = 200_000;

    /// <summary>All ways of dealing the values into two arms of these sizes.</summary>
    public static PermutationResult DifferenceOfMeans(IReadOnlyList<double> first, IReadOnlyList<double> second, int seed = 1)
    {
        if (first.Count == 0 || second.Count == 0)
        {
            throw new EvidenceInputException("arms", $"{first.Count} and {second.Count} values", "at least one value in each arm");
        }

        double[] all = [.. first, .. second];
        var k = first.Count;
        var n = all.Length;
        var total = all.Sum();
        double Difference(double sum) => sum / k - (total - sum) / (n - k);
        var seen = Difference(first.Sum());
        var tally = new Tally(seen, all.Max(Math.Abs));
        if (Choose(n, k) <= MostArrangements)
        {
            Deal(all, 0, k, 0, sum => tally.Add(Difference(sum)));
            return tally.Result(true);
        }

        var random = new Random(seed);
        tally.Add(seen);
        for (var draw = 1; draw < Drawn; draw++)
        {
            for (var i = 0; i < k; i++)
            {
                var j = random.Next(i, n);
                (all[i], all[j]) = (all[j], all[i]);
            }

            var sum = 0.0;
            for (var i = 0; i < k; i++)
            {
                sum += all[i];
            }

            tally.Add(Difference(sum));
        }

        return tally.Result(false);
    }

    /// <summary>All ways of turning the differences of pairs around.</summary>
    public static PermutationResult SignFlips(IReadOnlyList<double> differences, int seed = 1)
    {
        var n = differences.Count;
        if (n == 0)
        {
            throw new EvidenceInputException("pairs", 0, "at least one pair");
        }

        var total = differences.Sum();
        var tally = new Tally(total / n, differences.Max(Math.Abs));
        if (n <= 24)
        {
            for (long pattern = 0; pattern < 1L << n; pattern++)
            {
                var sum = total;
                for (var i = 0; i < n; i++)
                {
                    sum -= (pattern >> i & 1) == 1 ? 2 * differences[i] : 0;
                }

                tally.Add(sum / n);
            }

            return tally.Result(true);
        }

        var random = new Random(seed);
        tally.Add(total / n);
        for (var draw = 1; draw < Drawn; draw++)
        {
            tally.Add(differences.Sum(d => random.Next(2) == 0 ? d : -d) / n);
        }

        return tally.Result(false);
    }

    private static void Deal(double[] values, int from, int left, double sum, Action<double> dealt)
    {
        if (left == 0)
        {
            dealt(sum);
            return;
        }

        for (var i = from; i <= values.Length - left; i++)
        {
            Deal(values, i + 1, left - 1, sum + values[i], dealt);
        }
    }

    private static double Choose(int n, int k)
    {
        var ways = 1.0;
        for (var i = 1; i <= k; i++)
        {
            ways = ways * (n - k + i) / i;
        }

        return ways;
    }

    private sealed class Tally(double seen, double size)
    {
        private readonly double _slack = 1e-10 * (size + Math.Abs(seen));
        private long _all;
        private long _twoSided;
        private long _greater;
        private long _less;

        public void Add(double difference)
        {
            _all++;
            _twoSided += Math.Abs(difference) >= Math.Abs(seen) - _slack ? 1 : 0;
            _greater += difference >= seen - _slack ? 1 : 0;
            _less += difference <= seen + _slack ? 1 : 0;
        }

        public PermutationResult Result(bool exact) =>
            new(seen, _all, _twoSided, _twoSided / (double)_all, _greater / (double)_all, _less / (double)_all, exact);
    }
}
