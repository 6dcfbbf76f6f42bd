using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>How losses are weighed over time when groups are compared.</summary>
public enum LogRankWeight
{
    /// <summary>All losses alike (Mantel–Haenszel): best when one group's hazard is a constant multiple of the other's.</summary>
    Equal,

    /// <summary>By the survival just before (Peto and Peto): early losses count more.</summary>
    PetoPeto,
}

/// <summary>Observed against expected losses of one group.</summary>
public sealed record LogRankGroup(string Name, int N, double Observed, double Expected);

/// <summary>What a log-rank comparison found.</summary>
public sealed record LogRankResult
{
    /// <summary>The groups in <see cref="GroupOrder"/>.</summary>
    public required IReadOnlyList<LogRankGroup> Groups { get; init; }

    /// <summary>Hypergeometric variance of observed minus expected.</summary>
    public required double[,] Variance { get; init; }

    /// <summary>The test statistic; null where there is nothing to compare.</summary>
    public double? ChiSquare { get; init; }

    /// <summary>Degrees of freedom.</summary>
    public int Df { get; init; }

    /// <summary>The chance of a difference at least like this when there is none; null where there is nothing to compare.</summary>
    public double? P { get; init; }

    /// <summary>Why there is no test, in a sentence; null where there is one.</summary>
    public string? Cannot { get; init; }
}

/// <summary>Log-rank tests, stratified or not, with late entry. Mantel 1966; Peto and Peto 1972; hypergeometric variance.</summary>
public static class LogRank
{
    public static LogRankResult Compare(IReadOnlyList<Lifetime> lives, LogRankWeight weight = LogRankWeight.Equal, bool stratified = false)
    {
        var distinct = new HashSet<string>();
        foreach (var life in lives)
        {
            distinct.Add(life.Group);
        }

        var names = distinct.Order(GroupOrder.Instance).ToArray();
        var index = new Dictionary<string, int>();
        foreach (var name in names)
        {
            index[name] = index.Count;
        }

        var groups = names.Length;
        var observed = new double[groups];
        var expected = new double[groups];
        var variance = new double[groups, groups];
        var sizes = new int[groups];
        var rows = new Row[lives.Count];
        for (var i = 0; i < rows.Length; i++)
        {
            KaplanMeier.Check(lives[i]);
            var group = index[lives[i].Group];
            rows[i] = new Row(lives[i].Entry, lives[i].Exit, lives[i].Ended, group);
            sizes[group]++;
        }

        if (stratified)
        {
            foreach (var stratum in Enumerable.Range(0, rows.Length).GroupBy(i => lives[i].Stratum))
            {
                Add([.. stratum.Select(i => rows[i])], weight, observed, expected, variance);
            }
        }
        else
        {
            Add(rows, weight, observed, expected, variance);
        }

        var result = new LogRankResult
        {
            Groups = [.. names.Select((name, g) => new LogRankGroup(name, sizes[g], observed[g], expected[g]))],
            Variance = variance,
        };
        return Test(result, observed, expected, variance, lives.Any(life => life.Ended));
    }

    private static LogRankResult Test(LogRankResult result, double[] observed, double[] expected, double[,] variance, bool anyLost)
    {
        if (result.Groups.Count < 2)
        {
            return result with { Cannot = "There is only one group, so nothing can be compared." };
        }

        if (!anyLost)
        {
            return result with { Cannot = "Nothing was lost in any group so far: that is good news, and it says nothing yet about a difference." };
        }

        var live = Enumerable.Range(0, observed.Length).Where(g => variance[g, g] > 1e-12).ToArray();
        if (live.Length < 2)
        {
            return result with { Cannot = "No loss fell at a time when more than one group was under watch, so the groups cannot be compared." };
        }

        // One group is left out: what it lost over its expectation follows from the others.
        var used = live[..^1];
        var matrix = new double[used.Length, used.Length];
        var difference = new double[used.Length];
        for (var i = 0; i < used.Length; i++)
        {
            difference[i] = observed[used[i]] - expected[used[i]];
            for (var j = 0; j < used.Length; j++)
            {
                matrix[i, j] = variance[used[i], used[j]];
            }
        }

        if (SymmetricMatrix.Inverse(matrix) is not { } inverse)
        {
            return result with { Cannot = "The groups were never under watch together in a way that tells them all apart." };
        }

        var chi = SymmetricMatrix.Quadratic(inverse, difference);
        return result with { ChiSquare = chi, Df = used.Length, P = Tails.ChiSquareUpper(chi, used.Length) };
    }

    private static void Add(Row[] rows, LogRankWeight weight, double[] observed, double[] expected, double[,] variance)
    {
        var byExit = Sorted(rows, row => row.Exit);
        var byEntry = Array.TrueForAll(rows, row => double.IsNegativeInfinity(row.Entry)) ? rows : Sorted(rows, row => row.Entry);
        var groups = observed.Length;
        var atRisk = new int[groups];
        var lost = new int[groups];
        var total = 0;
        var entered = 0;
        var survival = 1.0;
        for (var at = 0; at < byExit.Length;)
        {
            var t = byExit[at].Exit;
            for (; entered < byEntry.Length && byEntry[entered].Entry < t; entered++)
            {
                atRisk[byEntry[entered].Group]++;
                total++;
            }

            Array.Clear(lost);
            var deaths = 0;
            var end = at;
            for (; end < byExit.Length && byExit[end].Exit == t; end++)
            {
                if (byExit[end].Ended)
                {
                    lost[byExit[end].Group]++;
                    deaths++;
                }
            }

            if (deaths > 0)
            {
                var w = weight == LogRankWeight.PetoPeto ? survival : 1;
                var spread = total > 1 ? w * w * deaths * (total - deaths) / (total - 1.0) : 0;
                for (var g = 0; g < groups; g++)
                {
                    var share = atRisk[g] / (double)total;
                    observed[g] += w * lost[g];
                    expected[g] += w * deaths * share;
                    for (var h = 0; h < groups; h++)
                    {
                        variance[g, h] += spread * share * ((g == h ? 1 : 0) - atRisk[h] / (double)total);
                    }
                }

                survival *= (total - deaths) / (double)total;
            }

            for (; at < end; at++)
            {
                atRisk[byExit[at].Group]--;
                total--;
            }
        }
    }

    private static Row[] Sorted(Row[] rows, Func<Row, double> by)
    {
        var keys = new double[rows.Length];
        for (var i = 0; i < keys.Length; i++)
        {
            keys[i] = by(rows[i]);
        }

        var sorted = (Row[])rows.Clone();
        Array.Sort(keys, sorted);
        return sorted;
    }

    private readonly record struct Row(double Entry, double Exit, bool Ended, int Group);
}
