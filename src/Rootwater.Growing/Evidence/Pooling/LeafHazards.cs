using MathNet.Numerics;

namespace Rootwater.Growing.Evidence.Pooling;

/// <summary>Losses of one plant over its time under watch.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="Kind">Its kind: what it borrows from.</param>
/// <param name="Losses">Leaves lost.</param>
/// <param name="LeafYears">Leaf-years watched.</param>
public sealed record PlantLosses(string Plant, string Kind, int Losses, double LeafYears);

/// <summary>A plant's hazard, borrowed where its own records are thin.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="Mean">Losses per leaf-year.</param>
/// <param name="Lower">Lower end of the band.</param>
/// <param name="Upper">Upper end of the band.</param>
/// <param name="Borrowed">Share of the estimate that comes from its kind (0 its own records, 1 its kind).</param>
/// <param name="Words">How much it borrows, in a sentence.</param>
public sealed record PooledHazard(string Plant, double Mean, double Lower, double Upper, double Borrowed, string Words);

/// <summary>
/// Partial pooling of leaf hazards within a kind: losses are Poisson, hazards of plants of a kind follow a gamma distribution. Mean and shape of that gamma are integrated over
/// a grid (flat in the log of the mean; half-Cauchy of scale 2 on the coefficient of variation, so that a wide kind is not taken for a narrow one), so that the band of a plant carries what few plants leave open of the kind (Gelman and others, Bayesian Data Analysis, chapter 5, from memory).
/// </summary>
public static class LeafHazards
{
    private const int Means = 21;
    private const int Spreads = 15;

    /// <summary>Every plant's hazard with its band. A kind with one plant borrows from all plants.</summary>
    public static IReadOnlyList<PooledHazard> Pool(IReadOnlyList<PlantLosses> plants, double level = 0.9)
    {
        foreach (var plant in plants)
        {
            if (plant.Losses < 0 || !(plant.LeafYears > 0))
            {
                throw new EvidenceInputException($"plant {plant.Plant}", plant.LeafYears, "losses of 0 or more over a time above 0");
            }
        }

        var byKind = plants.GroupBy(plant => plant.Kind).ToDictionary(kind => kind.Key, kind => kind.ToList());
        var result = new List<PooledHazard>();
        var mixtures = new Dictionary<string, List<(double Weight, double Shape, double Rate)>>();
        foreach (var plant in plants)
        {
            var alone = byKind[plant.Kind].Count == 1;
            var key = alone ? "" : plant.Kind;
            if (!mixtures.TryGetValue(key, out var mixture))
            {
                mixtures[key] = mixture = Mixture(alone ? plants : byKind[plant.Kind]);
            }

            result.Add(One(plant, mixture, level, alone ? "all plants together (it is the only one of its kind)" : plant.Kind));
        }

        return result;
    }

    private static PooledHazard One(PlantLosses plant, List<(double Weight, double Shape, double Rate)> mixture, double level, string from)
    {
        var (d, t) = (plant.Losses, plant.LeafYears);
        var mean = mixture.Sum(part => part.Weight * (part.Shape + d) / (part.Rate + t));
        var borrowed = mixture.Sum(part => part.Weight * part.Rate / (part.Rate + t));
        double Below(double x) => mixture.Sum(part => part.Weight * SpecialFunctions.GammaLowerRegularized(part.Shape + d, (part.Rate + t) * x));
        double Quantile(double p)
        {
            var high = mean * 4;
            while (Below(high) < p)
            {
                high *= 2;
            }

            var low = 0.0;
            for (var i = 0; i < 26; i++)
            {
                var middle = (low + high) / 2;
                (low, high) = Below(middle) < p ? (middle, high) : (low, middle);
            }

            return (low + high) / 2;
        }

        return new PooledHazard(
            plant.Plant,
            mean,
            Quantile((1 - level) / 2),
            Quantile((1 + level) / 2),
            borrowed,
            FormattableString.Invariant($"{d} losses in {t:0.#} leaf-years: {100 * borrowed:0} % of this figure is borrowed from {from}; the rest is its own."));
    }

    /// <summary>The posterior of the kind's gamma: (weight, shape, rate) over a grid, cut where the weight is nothing.</summary>
    private static List<(double Weight, double Shape, double Rate)> Mixture(IReadOnlyList<PlantLosses> plants)
    {
        var losses = plants.Sum(plant => plant.Losses);
        var years = plants.Sum(plant => plant.LeafYears);
        var middle = Math.Log((losses + 0.5) / years);
        var reach = 4 * Math.Sqrt(1 / (losses + 0.5) + 0.5 / plants.Count);
        var parts = new List<(double Log, double Shape, double Rate)>();
        for (var i = 0; i < Means; i++)
        {
            var mean = Math.Exp(middle - reach + 2 * reach * i / (Means - 1));
            for (var j = 0; j < Spreads; j++)
            {
                // The coefficient of variation from 0.05 to 3, evenly in its logarithm; Cauchy density times the step.
                var cv = 0.05 * Math.Pow(60, j / (Spreads - 1.0));
                var shape = 1 / (cv * cv);
                var rate = shape / mean;
                var log = Math.Log(cv / (1 + cv * cv / 4));
                foreach (var plant in plants)
                {
                    log += SpecialFunctions.GammaLn(shape + plant.Losses) - SpecialFunctions.GammaLn(shape) + shape * Math.Log(rate) - (shape + plant.Losses) * Math.Log(rate + plant.LeafYears);
                }

                parts.Add((log, shape, rate));
            }
        }

        var top = parts.Max(part => part.Log);
        var total = parts.Sum(part => Math.Exp(part.Log - top));
        var kept = parts.Select(part => (Weight: Math.Exp(part.Log - top) / total, part.Shape, part.Rate)).Where(part => part.Weight > 2e-4).ToList();
        var sum = kept.Sum(part => part.Weight);
        return [.. kept.Select(part => (part.Weight / sum, part.Shape, part.Rate))];
    }
}
