using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Cupboard;

/// <summary>What takes the place of a product that is out.</summary>
/// <param name="Parts">Grams of each product for one gram of the missing one.</param>
/// <param name="Covers">How much of what the missing one does is kept, 0 to 1.</param>
/// <param name="Changes">What the replacement brings more (or less, below zero), mg per gram of the missing one, largest first; only what can be noticed.</param>
/// <param name="AcidMeqChange">Acid it brings more, meq per gram of the missing one.</param>
public sealed record Substitute(IReadOnlyList<(Product Product, double Grams)> Parts, double Covers, IReadOnlyList<(Nutrient Nutrient, double MgPerGram)> Changes, double AcidMeqChange)
{
    /// <summary>The pH has to be trimmed anew.</summary>
    public bool ChangesPH => Math.Abs(AcidMeqChange) > 0.2;
}

/// <summary>Finds one product, or two together, that come nearest to one that is out.</summary>
/// <remarks>
/// Least squares without negatives over every pair: the rows are the nutrients, each in units of a tenth of its own amount plus three hundredths of everything the missing product
/// brings (half of it for sulfur, which plants bear as a companion ion), and the acid in units of 0.3 meq/g. Nitrate and ammonium are told apart. These weights are common practice without a source; the planner, not this, decides a can.
/// </remarks>
public static class NearestSubstitute
{
    // A second product is worth its trouble when it takes at least this off the misfit.
    private const double SecondProduct = 0.15;

    private const double LeastCover = 0.25;

    private const double Rides = 0.03, SulfurRides = 0.5;

    /// <summary>The best replacements, nearest first; none where nothing in the cupboard keeps a quarter of what the missing product does.</summary>
    /// <param name="missing">What is out.</param>
    /// <param name="others">What there is.</param>
    /// <param name="most">How many to name.</param>
    public static IReadOnlyList<Substitute> For(Product missing, IReadOnlyList<Product> others, int most = 3)
    {
        var candidates = others.Where(other => other.Id != missing.Id).ToList();
        var sigma = Sigmas(missing);
        var wanted = Row(missing, sigma);
        var whole = Norm(wanted);
        var found = new List<(Substitute Substitute, double Misfit)>();
        for (var i = 0; i < candidates.Count; i++)
        {
            for (var j = i; j < candidates.Count; j++)
            {
                Product[] parts = i == j ? [candidates[i]] : [candidates[i], candidates[j]];
                var grams = Fit(parts, wanted, sigma);
                if (grams.Any(amount => amount < 1e-4))
                {
                    continue;
                }

                var left = Difference(parts, grams, missing, sigma);
                var misfit = Norm(left) / whole;
                found.Add((ToSubstitute(parts, grams, missing, 1 - misfit), misfit + (parts.Length - 1) * SecondProduct));
            }
        }

        return [.. found.Where(pair => pair.Substitute.Covers > LeastCover).OrderBy(pair => pair.Misfit).Take(most).Select(pair => pair.Substitute)];
    }

    private static Substitute ToSubstitute(Product[] parts, double[] grams, Product missing, double covers)
    {
        var after = parts.Zip(grams).Aggregate(NutrientAmounts.Zero, (sum, part) => sum.PlusScaled(part.First.MgPerKg, part.Second));
        var noticed = 0.02 * missing.MgPerKg.AsSpan().ToArray().Sum() + 1;
        var changes = Enum.GetValues<Nutrient>().Select(nutrient => (Nutrient: nutrient, MgPerGram: (after[nutrient] - missing.MgPerKg[nutrient]) / 1000))
            .Where(change => Math.Abs(change.MgPerGram) * 1000 > noticed).OrderByDescending(change => Math.Abs(change.MgPerGram));
        return new Substitute([.. parts.Zip(grams)], covers, [.. changes], parts.Zip(grams).Sum(part => AcidMeqPerGram(part.First) * part.Second) - AcidMeqPerGram(missing));
    }

    private static double[] Fit(Product[] parts, double[] wanted, double[] sigma)
    {
        var rows = new double[wanted.Length, parts.Length];
        for (var k = 0; k < parts.Length; k++)
        {
            var row = Row(parts[k], sigma);
            for (var i = 0; i < wanted.Length; i++)
            {
                rows[i, k] = row[i];
            }
        }

        var allowed = new bool[parts.Length];
        Array.Fill(allowed, true);
        return new NonNegativeLeastSquares(rows, wanted).Solve(allowed);
    }

    private static double[] Difference(Product[] parts, double[] grams, Product missing, double[] sigma)
    {
        var left = Row(missing, sigma);
        foreach (var (product, amount) in parts.Zip(grams))
        {
            var row = Row(product, sigma);
            for (var i = 0; i < left.Length; i++)
            {
                left[i] -= amount * row[i];
            }
        }

        return left;
    }

    private static double[] Sigmas(Product missing)
    {
        var all = missing.MgPerKg.AsSpan().ToArray();
        return [.. all.Select((mg, i) => 0.1 * mg + ((Nutrient)i == Nutrient.Sulfur ? SulfurRides : Rides) * all.Sum() + 10), 0.3];
    }

    private static double[] Row(Product product, double[] sigma) =>
        [.. product.MgPerKg.AsSpan().ToArray().Append(AcidMeqPerGram(product)).Select((value, i) => value / sigma[i])];

    private static double AcidMeqPerGram(Product product) => -AcidEffect.AlkalinityEquivalents(product.MolPerKg);

    private static double Norm(double[] values) => Math.Sqrt(values.Sum(value => value * value));
}
