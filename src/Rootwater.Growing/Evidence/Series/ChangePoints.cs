namespace Rootwater.Growing.Evidence.Series;

/// <summary>Where the middle of a series shifts, by ranks. <paramref name="LastBefore"/> is the last 1-based index of the left segment.</summary>
public sealed record PettittResult(double K, int LastBefore, double PApproximate);

/// <summary>The best single shift of the mean, by the F statistic.</summary>
public sealed record MeanShift(int LastBefore, double F, double ResidualSumOfSquares);

/// <summary>The best division into a number of segments.</summary>
/// <param name="Count">Shifts.</param>
/// <param name="ResidualSumOfSquares">About the segment means.</param>
/// <param name="Bic">n (log(RSS/n) + 1 + log 2π) + log n × 2 (m + 1): one mean per segment, the shifts and sigma.</param>
/// <param name="LastBefore">The last 1-based index of each left segment.</param>
public sealed record Segmentation(int Count, double ResidualSumOfSquares, double Bic, IReadOnlyList<int> LastBefore);

/// <summary>Shifts of a series whose time is not known beforehand. Pettitt 1979; Andrews 1993 for the F; Bai and Perron 2003 for several by dynamic programming.</summary>
public static class ChangePoints
{
    public const int Fewest = 8;

    public static PettittResult Pettitt(double[] values)
    {
        var n = values.Length;
        double best = -1;
        var at = 0;
        var u = 0.0;
        for (var t = 0; t < n - 1; t++)
        {
            foreach (var other in values)
            {
                u += Math.Sign(values[t] - other);
            }

            if (Math.Abs(u) > best)
            {
                (best, at) = (Math.Abs(u), t + 1);
            }
        }

        return new PettittResult(best, at, Math.Min(1, 2 * Math.Exp(-6 * best * best / (Math.Pow(n, 3) + Math.Pow(n, 2)))));
    }

    /// <summary>The largest F over all shifts with at least the trimmed share on each side. Its p-value needs the distribution of a maximum; ordinary F tables are far too kind to it.</summary>
    public static MeanShift SupF(double[] values, int smallest)
    {
        var costs = new Costs(values);
        var n = values.Length;
        var whole = costs.Of(0, n);
        var best = new MeanShift(0, double.NegativeInfinity, whole);
        for (var t = smallest; t <= n - smallest; t++)
        {
            var rss = costs.Of(0, t) + costs.Of(t, n);
            var f = rss <= 0 ? double.PositiveInfinity : (whole - rss) / (rss / (n - 2));
            if (f > best.F)
            {
                best = new MeanShift(t, f, rss);
            }
        }

        return best;
    }

    /// <summary>The best divisions with 0, 1, … shifts, no segment shorter than <paramref name="smallest"/>.</summary>
    public static IReadOnlyList<Segmentation> Segment(double[] values, int smallest, int mostShifts)
    {
        var costs = new Costs(values);
        var n = values.Length;
        var cost = new double[mostShifts + 1, n + 1];
        var from = new int[mostShifts + 1, n + 1];
        for (var m = 0; m <= mostShifts; m++)
        {
            for (var end = 0; end <= n; end++)
            {
                cost[m, end] = double.PositiveInfinity;
                if (m == 0)
                {
                    cost[0, end] = end >= smallest ? costs.Of(0, end) : double.PositiveInfinity;
                    continue;
                }

                for (var cut = m * smallest; cut <= end - smallest; cut++)
                {
                    var here = cost[m - 1, cut] + costs.Of(cut, end);
                    if (here < cost[m, end])
                    {
                        (cost[m, end], from[m, end]) = (here, cut);
                    }
                }
            }
        }

        var found = new List<Segmentation>();
        for (var m = 0; m <= mostShifts && double.IsFinite(cost[m, n]); m++)
        {
            var breaks = new int[m];
            var end = n;
            for (var k = m; k > 0; k--)
            {
                breaks[k - 1] = end = from[k, end];
            }

            var rss = cost[m, n];
            found.Add(new Segmentation(m, rss, n * (Math.Log(rss) + 1 - Math.Log(n) + Math.Log(2 * Math.PI)) + Math.Log(n) * 2 * (m + 1), breaks));
        }

        return found;
    }

    /// <summary>Sums of squares about the mean of any stretch, from running sums of the centred series.</summary>
    private sealed class Costs
    {
        private readonly double[] _sum;
        private readonly double[] _square;

        public Costs(double[] values)
        {
            var mean = values.Average();
            _sum = new double[values.Length + 1];
            _square = new double[values.Length + 1];
            for (var i = 0; i < values.Length; i++)
            {
                var y = values[i] - mean;
                _sum[i + 1] = _sum[i] + y;
                _square[i + 1] = _square[i] + y * y;
            }
        }

        public double Of(int from, int to)
        {
            var sum = _sum[to] - _sum[from];
            return Math.Max(0, _square[to] - _square[from] - sum * sum / (to - from));
        }
    }
}
