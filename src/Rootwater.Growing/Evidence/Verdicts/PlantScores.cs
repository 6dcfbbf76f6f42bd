using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Verdicts;

/// <summary>
/// Two groups of plants compared by their log-rank scores: per plant, losses seen less losses expected from the hazard of all leaves together. Plants, not leaves, are dealt to
/// arms, so plants are permuted: valid however much the leaves of one plant hang together.
/// </summary>
public static class PlantScores
{
    private const int MostArrangements = 20_000;

    /// <summary>Losses less expected losses of each plant, by the Nelson–Aalen hazard of all.</summary>
    public static Dictionary<string, double> Of(IReadOnlyList<(string Plant, Lifetime Life)> lives)
    {
        var all = new Lifetime[lives.Count];
        for (var i = 0; i < all.Length; i++)
        {
            all[i] = lives[i].Life;
        }

        var curve = KaplanMeier.Fit(all);
        var scores = new Dictionary<string, double>();
        foreach (var (plant, life) in lives)
        {
            var expected = curve.Hazard(life.Exit) - (life.Entry > 0 ? curve.Hazard(life.Entry) : 0);
            scores[plant] = scores.GetValueOrDefault(plant) + (life.Ended ? 1 : 0) - expected;
        }

        return scores;
    }

    /// <summary>Two-sided p of the difference in mean score: every deal of the plants where there are at most 20,000, else the t test that approximates it. Null with fewer than two plants in an arm or no spread.</summary>
    public static double? Permute(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        if (first.Count < 2 || second.Count < 2)
        {
            return null;
        }

        var ways = 1.0;
        for (var i = 1; i <= first.Count; i++)
        {
            ways = ways * (second.Count + i) / i;
        }

        if (ways <= MostArrangements)
        {
            return Comparisons.Permutation.DifferenceOfMeans(first, second).TwoSided;
        }

        double a = first.Average(), b = second.Average();
        var df = first.Count + second.Count - 2;
        var variance = (first.Sum(x => (x - a) * (x - a)) + second.Sum(x => (x - b) * (x - b))) / df;
        if (!(variance > 0))
        {
            return null;
        }

        return Tails.StudentTwoSided((a - b) / Math.Sqrt(variance * (1.0 / first.Count + 1.0 / second.Count)), df);
    }

    /// <summary>The smallest two-sided p that so many plants can give at all.</summary>
    public static double Smallest(int first, int second)
    {
        var ways = 1.0;
        for (var i = 1; i <= first; i++)
        {
            ways = ways * (second + i) / i;
        }

        return Math.Min(1, (first == second ? 2 : 1) / ways);
    }
}
