using Rootwater.Growing.Evidence.Series;

namespace Rootwater.Growing.Evidence.Comparisons;

/// <summary>
/// Each plant against itself by the ranks of its values, for few plants of few values each, of which one may be far off for a reason of its own (a weak plant spikes months late): the sum of what may explain
/// times the rank. P by dealing each plant's values anew over its own occasions; the slope is the median of all slopes between two values of a plant, weighted by how far apart they are in what explains (Sievers
/// 1978, J. Am. Stat. Assoc. 73:628; Scholz 1978, Ann. Stat. 6:603, from memory), its interval where the rank sum stays within 1.96 of its standard deviations.
/// </summary>
/// <remarks>Values of one plant are taken as exchangeable if nothing went with them: no drift, and no reason of the year that all plants share but the one asked of. <see cref="WithinPlants"/> needs no such thing, but more plants.</remarks>
public static class WithinPlantRanks
{
    private const int Deals = 9_999;

    /// <summary>Fewer values than this beyond one a plant cannot reach any level.</summary>
    private const int FewestSpare = 5;

    /// <param name="values">With one thing that may explain each.</param>
    /// <param name="name">Of that.</param>
    public static WithinSlope Fit(IReadOnlyList<PlantValue> values, string name)
    {
        var plants = values.GroupBy(value => value.Plant).Select(own => own.OrderBy(value => value.X[0]).ToList()).Where(own => own.Count > 1 && own[^1].X[0] - own[0].X[0] > 1e-9).ToList();
        WithinSlope Cannot(string why) => new(name, null, null, null, null, plants.Count, why);
        if (plants.Sum(own => own.Count - 1) < FewestSpare)
        {
            return Cannot(FormattableString.Invariant($"It varied over {plants.Sum(own => own.Count)} values of {plants.Count} plants: too few for any difference to show."));
        }

        var slopes = new List<(double Slope, double Weight)>();
        var (sum, variance) = (0.0, 0.0);
        var ranked = plants.ConvertAll(own =>
        {
            var mean = own.Average(value => value.X[0]);
            var (x, rank) = (own.ConvertAll(value => value.X[0] - mean).ToArray(), own.ConvertAll(value => own.Count(other => other.Value < value.Value) + 0.5 * own.Count(other => other.Value == value.Value)).ToArray());
            var middle = rank.Average();
            sum += Sum(x, rank);
            variance += x.Sum(each => each * each) * rank.Sum(each => (each - middle) * (each - middle)) / (own.Count - 1);
            for (var i = 0; i < own.Count; i++)
            {
                for (var j = i + 1; j < own.Count; j++)
                {
                    if (x[j] - x[i] > 1e-9)
                    {
                        slopes.Add(((own[j].Value - own[i].Value) / (x[j] - x[i]), x[j] - x[i]));
                    }
                }
            }

            return (X: x, Rank: rank);
        });
        if (variance <= 0)
        {
            return Cannot("Nothing scatters.");
        }

        slopes.Sort();
        // The rank sum less a slope: half the sum of all weights of steeper pairs less that of flatter ones.
        var (half, reach) = (slopes.Sum(pair => pair.Weight) / 2, 1.96 * Math.Sqrt(variance));
        double At(double weight)
        {
            var passed = 0.0;
            return slopes.First(pair => (passed += pair.Weight) >= Math.Min(weight, 2 * half) - 1e-9).Slope;
        }

        var interval = new Interval95(At(Math.Max(0, half - reach)), At(half + reach));
        return new WithinSlope(name, At(half), (interval.Upper - interval.Lower) / 2 / 1.96, interval, P(ranked, Math.Abs(sum)), plants.Count, null);
    }

    private static double P(List<(double[] X, double[] Rank)> plants, double seen)
    {
        var (random, asLarge) = (new Random(1), 1);
        for (var deal = 0; deal < Deals; deal++)
        {
            var sum = 0.0;
            foreach (var (x, rank) in plants)
            {
                random.Shuffle(rank);
                sum += Sum(x, rank);
            }

            asLarge += Math.Abs(sum) >= seen - 1e-9 ? 1 : 0;
        }

        return asLarge / (Deals + 1.0);
    }

    private static double Sum(double[] x, double[] rank)
    {
        var sum = 0.0;
        for (var i = 0; i < x.Length; i++)
        {
            sum += x[i] * rank[i];
        }

        return sum;
    }
}
