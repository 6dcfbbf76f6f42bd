namespace Rootwater.Growing.Labels;

/// <summary>Searches the few-salt mixes that explain a label nearly equally well.</summary>
/// <remarks>
/// A mix is scored by χ² plus the rarity of each salt in it, so that few and usual salts win; the score stands for −2 log likelihood. Starts are taken from least
/// squares with random prices on the salts, seeded; each start is then pruned and swapped downhill. Exhaustive it is not: it is a search, and the spread it
/// reports is a lower bound of what the label leaves open.
/// </remarks>
/// <param name="equations">What the label says.</param>
/// <param name="rarity">Price of each salt in a mix.</param>
/// <param name="leastKgPerKg">Below this a salt is not worth naming and counts as absent.</param>
internal sealed class SaltMixSearch(LabelEquations equations, IReadOnlyList<double> rarity, IReadOnlyList<double> leastKgPerKg)
{
    private readonly Dictionary<string, (double[] KgPerKg, double Score)> _found = [];
    private readonly int _salts = equations.Salts.Count;

    /// <summary>Best first; at most <paramref name="most"/>, none worse than the best by more than <paramref name="within"/> in score.</summary>
    public IReadOnlyList<(double[] KgPerKg, double Score)> Run(int starts, int seed, int most, double within)
    {
        var random = new Random(seed);
        var price = new double[_salts + 1];
        for (var start = 0; start < starts; start++)
        {
            var pull = start == 0 ? 0.01 : Math.Exp(random.NextDouble() * 6 - 3);
            for (var j = 0; j < _salts; j++)
            {
                price[j] = pull * rarity[j] * (start == 0 ? 1 : -Math.Log(1 - random.NextDouble()));
            }

            var x = equations.Solver.Solve(Everything(), price);
            Descend(Support(x));
        }

        // From the best, every single exchange opens its own neighbourhood.
        foreach (var (kgPerKg, _) in _found.Values.OrderBy(mix => mix.Score).Take(5).ToList())
        {
            var support = Support(kgPerKg);
            for (var j = 0; j < _salts; j++)
            {
                if (!support[j] && rarity[j] < 9)
                {
                    var with = (bool[])support.Clone();
                    with[j] = true;
                    Prune(with, keep: j);
                }
            }
        }

        var best = _found.Values.Min(mix => mix.Score);
        return [.. _found.Values.Where(mix => mix.Score <= best + within).OrderBy(mix => mix.Score).Take(most)];
    }

    private bool[] Everything()
    {
        var all = new bool[_salts + 1];
        Array.Fill(all, true);
        return all;
    }

    private bool[] Support(double[] kgPerKg)
    {
        var support = new bool[_salts + 1];
        for (var j = 0; j < _salts; j++)
        {
            support[j] = kgPerKg[j] > leastKgPerKg[j];
        }

        support[_salts] = true;
        return support;
    }

    private void Descend(bool[] support)
    {
        var current = Prune(support);
        for (var improved = true; improved;)
        {
            improved = false;
            for (var j = 0; j < _salts && !improved; j++)
            {
                if (current.Support[j] || rarity[j] >= 9)
                {
                    continue;
                }

                var with = (bool[])current.Support.Clone();
                with[j] = true;
                var next = Prune(with);
                if (next.Score < current.Score - 1e-6)
                {
                    (current, improved) = (next, true);
                }
            }
        }
    }

    /// <summary>Drops salts, the most useless first, for as long as the score falls.</summary>
    private (bool[] Support, double Score) Prune(bool[] support, int keep = -1)
    {
        var (x, score) = Evaluate(support);
        support = Support(x);
        for (var dropped = true; dropped;)
        {
            dropped = false;
            (double[] X, double Score) best = (x, score);
            for (var j = 0; j < _salts; j++)
            {
                if (!support[j] || j == keep)
                {
                    continue;
                }

                support[j] = false;
                var without = Evaluate(support);
                support[j] = true;
                if (without.Score < best.Score - 1e-9)
                {
                    (best, dropped) = (without, true);
                }
            }

            (x, score) = best;
            support = Support(x);
        }

        return (support, score);
    }

    private (double[] X, double Score) Evaluate(bool[] support)
    {
        var key = string.Create(support.Length, support, static (text, on) =>
        {
            for (var j = 0; j < text.Length; j++)
            {
                text[j] = on[j] ? '1' : '0';
            }
        });
        if (_found.TryGetValue(key, out var known))
        {
            return known;
        }

        var x = equations.Solver.Solve(support);
        var score = equations.ChiSquared(x);
        for (var j = 0; j < _salts; j++)
        {
            score += x[j] > 0 ? rarity[j] : 0;
        }

        // A mix with a salt too little to name is not kept; it is found again without it.
        var nameable = true;
        for (var j = 0; j < _salts; j++)
        {
            nameable &= x[j] == 0 || x[j] > leastKgPerKg[j];
        }

        return _found[key] = (x, nameable ? score : score + 1000);
    }
}
