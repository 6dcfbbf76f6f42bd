namespace Rootwater.Growing.Evidence.Pooling;

/// <summary>What the plants of one kind say of the kind's log hazard: its mean and spread weighed over a grid, and any plant's own hazard under all of them.</summary>
internal sealed class KindOfHazards
{
    private const int Means = 25;
    private const int Spreads = 20;
    private const double NarrowestSpread = 0.01;
    private const double WidestSpread = 4;

    // How far beyond the means tried hazards are looked at, in their logarithm: a factor of 1,800 either way.
    private const double FarthestLog = 7.5;
    private const double WidestStep = 0.08;

    /// <summary>
    /// Density of the spread ∝ spread to this power: between flat (0: bands of plants that are alike come out too wide) and flat in the logarithm (-1: all too narrow). Chosen on simulated benches
    /// whose seeds are not those the bands are graded on (docs/science/evidence.md).
    /// </summary>
    private const double SpreadPower = -0.15;

    /// <summary>Natural logarithms of the hazards looked at, evenly spaced: fine enough for the plant with most losses. A spread narrower than a step counts as one step.</summary>
    private readonly double[] _logHazards;

    private readonly List<Prior> _priors;

    public KindOfHazards(IReadOnlyList<PlantLosses> plants)
    {
        var losses = plants.Sum(plant => plant.Losses);
        var middle = Math.Log((losses + 0.5) / plants.Sum(plant => plant.LeafYears));
        var reach = 4 * Math.Sqrt(1 / (losses + 0.5) + 0.5 / plants.Count);
        var step = Math.Min(WidestStep, 0.5 / Math.Sqrt(plants.Max(plant => plant.Losses) + 1));
        var half = (int)Math.Ceiling((reach + FarthestLog) / step);
        _logHazards = [.. Enumerable.Range(-half, 2 * half + 1).Select(i => middle + step * i)];

        var likelihoods = plants.Select(Likelihood).ToList();
        var priors = new List<(double LogWeight, Prior Prior)>();
        for (var i = 0; i < Means; i++)
        {
            var mean = middle + reach * (2.0 * i / (Means - 1) - 1);
            for (var j = 0; j < Spreads; j++)
            {
                // Evenly in the spread's logarithm, so its density is multiplied by the spread.
                var spread = NarrowestSpread * Math.Pow(WidestSpread / NarrowestSpread, j / (Spreads - 1.0));
                var density = Density(mean, spread);
                var log = (1 + SpreadPower) * Math.Log(spread) + likelihoods.Sum(likelihood => Math.Log(Dot(density, likelihood)));
                priors.Add((log, new Prior(0, mean, spread, density)));
            }
        }

        var top = priors.Max(each => each.LogWeight);
        priors.RemoveAll(each => each.LogWeight - top < -9);
        var sum = priors.Sum(each => Math.Exp(each.LogWeight - top));
        _priors = [.. priors.Select(each => each.Prior with { Weight = Math.Exp(each.LogWeight - top) / sum })];
    }

    /// <summary>Middle of the hazard, ends of its band (losses per leaf-year) and the share borrowed. The plant is one of those the kind was made of.</summary>
    public (double Middle, double Lower, double Upper, double Borrowed) Of(PlantLosses plant, double level)
    {
        var likelihood = Likelihood(plant);
        var posterior = new double[_logHazards.Length];
        var borrowed = 0.0;
        foreach (var prior in _priors)
        {
            // The weight holds this plant's losses already, so each part is brought to one first.
            var share = prior.Weight / Dot(prior.Density, likelihood);
            for (var k = 0; k < posterior.Length; k++)
            {
                posterior[k] += share * prior.Density[k] * likelihood[k];
            }

            // Information on the log hazard: of the kind 1/spread², of the plant the losses to be expected of it.
            var ofKind = 1 / (prior.Spread * prior.Spread);
            borrowed += prior.Weight * ofKind / (ofKind + Math.Exp(prior.Mean) * plant.LeafYears);
        }

        return (Quantile(posterior, 0.5), Quantile(posterior, (1 - level) / 2), Quantile(posterior, (1 + level) / 2), borrowed);
    }

    /// <summary>Poisson likelihood of the plant's losses at each hazard, greatest 1.</summary>
    private double[] Likelihood(PlantLosses plant)
    {
        var logs = Array.ConvertAll(_logHazards, log => plant.Losses * log - plant.LeafYears * Math.Exp(log));
        var top = logs.Max();
        return Array.ConvertAll(logs, log => Math.Exp(log - top));
    }

    /// <summary>Share of each step of the grid under Student's t with two degrees of freedom: its tails let an odd plant stand apart from its kind.</summary>
    private double[] Density(double mean, double spread)
    {
        var density = Array.ConvertAll(_logHazards, log => Math.Pow(1 + 0.5 * (log - mean) * (log - mean) / (spread * spread), -1.5));
        var sum = density.Sum();
        return Array.ConvertAll(density, share => share / sum);
    }

    private double Quantile(double[] shares, double p)
    {
        // A share is spread evenly over the step around its point.
        var step = _logHazards[1] - _logHazards[0];
        var below = 0.0;
        for (var k = 0; k < shares.Length; k++)
        {
            if (below + shares[k] >= p)
            {
                return Math.Exp(_logHazards[k] + step * ((p - below) / shares[k] - 0.5));
            }

            below += shares[k];
        }

        return Math.Exp(_logHazards[^1]);
    }

    private static double Dot(double[] left, double[] right)
    {
        var sum = 0.0;
        for (var k = 0; k < left.Length; k++)
        {
            sum += left[k] * right[k];
        }

        return sum;
    }

    /// <summary>One way in which log hazards of the kind may be spread, on the grid, with its weight after the plants' losses.</summary>
    private sealed record Prior(double Weight, double Mean, double Spread, double[] Density);
}
