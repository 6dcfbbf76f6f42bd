using MathNet.Numerics;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>
/// The stratified log-rank test without its large-sample approximation: given who was at risk at each loss, the losses of one group are a sum of independent hypergeometric
/// counts, whose distribution is summed exactly (the conditional view of Mantel 1966). For few losses, where chi-square promises too much.
/// </summary>
public static class ExactLogRank
{
    /// <summary>Central two-sided p (twice the smaller tail): null where no loss fell while both groups were at risk.</summary>
    /// <param name="lives">Lives in two groups; strata are compared only within.</param>
    /// <param name="group">The group whose losses are counted.</param>
    public static double? P(IReadOnlyList<Lifetime> lives, string group)
    {
        double[] chances = [1];
        var seen = 0;
        foreach (var stratum in lives.GroupBy(life => life.Stratum))
        {
            var all = stratum.ToList();
            foreach (var losses in all.Where(life => life.Ended).GroupBy(life => life.Exit))
            {
                var atRisk = all.Where(life => life.Entry < losses.Key && life.Exit >= losses.Key).ToList();
                var (n, mine, lost) = (atRisk.Count, atRisk.Count(life => life.Group == group), losses.Count());
                if (mine == 0 || mine == n)
                {
                    continue;
                }

                seen += losses.Count(life => life.Group == group);
                chances = Convolved(chances, n, mine, lost);
            }
        }

        if (chances.Length == 1)
        {
            return null;
        }

        double below = chances.Take(seen + 1).Sum(), above = chances.Skip(seen).Sum();
        return Math.Min(1, 2 * Math.Min(below, above));
    }

    private static double[] Convolved(double[] chances, int n, int mine, int lost)
    {
        var next = new double[chances.Length + lost];
        for (var k = Math.Max(0, lost - (n - mine)); k <= Math.Min(lost, mine); k++)
        {
            var chance = Math.Exp(SpecialFunctions.BinomialLn(mine, k) + SpecialFunctions.BinomialLn(n - mine, lost - k) - SpecialFunctions.BinomialLn(n, lost));
            for (var i = 0; i < chances.Length; i++)
            {
                next[i + k] += chance * chances[i];
            }
        }

        return next;
    }
}
