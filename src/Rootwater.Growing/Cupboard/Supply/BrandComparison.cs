using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>One product of a comparison, dosed so that it can be compared.</summary>
/// <param name="Product">Which.</param>
/// <param name="GramsPerLitre">Dosed so.</param>
/// <param name="MgPerLitre">What it then brings.</param>
/// <param name="EcMicrosiemensPerCm">EC at 25 °C in the water of the comparison.</param>
/// <param name="PH">pH there.</param>
/// <param name="CostPerLitre">Null without a price.</param>
public sealed record ComparedProduct(Product Product, double GramsPerLitre, NutrientAmounts MgPerLitre, double EcMicrosiemensPerCm, double PH, decimal? CostPerLitre);

/// <summary>Two products side by side.</summary>
/// <param name="One">The first.</param>
/// <param name="Other">The second.</param>
/// <param name="Differences">What the second brings more (below zero less), mg/L, largest share first; only what differs by a tenth or more.</param>
/// <param name="Words">In sentences; what EC cannot see is said.</param>
public sealed record BrandComparison(ComparedProduct One, ComparedProduct Other, IReadOnlyList<(Nutrient Nutrient, double MgPerLitre)> Differences, IReadOnlyList<string> Words)
{
    private const double Noticed = 0.1;

    // Traces at a feed's strength are micrograms; less than this nobody can tell from a label.
    private const double LeastMgPerLitre = 0.005;
    private const double MostGramsPerLitre = 50;

    /// <summary>At the same amount of one nutrient.</summary>
    /// <param name="one">The product known.</param>
    /// <param name="other">The one it is compared with.</param>
    /// <param name="nutrient">What is to be equal.</param>
    /// <param name="mgPerLitre">How much of it.</param>
    /// <param name="water">Mol per kg.</param>
    /// <exception cref="ArgumentException">One of them has none of it.</exception>
    public static BrandComparison AtEqual(Product one, Product other, Nutrient nutrient, double mgPerLitre, ComponentAmounts water)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(mgPerLitre);
        double Grams(Product product) => product.MgPerKg[nutrient] is > 0 and var per
            ? 1000 * mgPerLitre / per
            : throw new ArgumentException($"{product.Name} has no {Nutrients.NameOf(nutrient)}; choose a nutrient that both have.");
        return Of(Dosed(one, Grams(one), water), Dosed(other, Grams(other), water));
    }

    /// <summary>At the same EC.</summary>
    /// <exception cref="ArgumentException">One of them cannot reach it.</exception>
    public static BrandComparison AtEqualEc(Product one, Product other, double ecMicrosiemensPerCm, ComponentAmounts water) =>
        Of(Dosed(one, GramsFor(one, ecMicrosiemensPerCm, water), water), Dosed(other, GramsFor(other, ecMicrosiemensPerCm, water), water));

    private static double GramsFor(Product product, double ec, ComponentAmounts water)
    {
        if (Read(product, 0, water).Ec > ec)
        {
            throw new ArgumentException(FormattableString.Invariant($"EC: {ec:0} µS/cm cannot be used; the water alone is above it."));
        }

        // EC rises with the dose: halve the bracket.
        var (low, high) = (0.0, 1.0);
        while (Read(product, high, water).Ec < ec)
        {
            (low, high) = (high, 2 * high);
            if (high > MostGramsPerLitre)
            {
                throw new ArgumentException(FormattableString.Invariant($"{product.Name} does not bring {ec:0} µS/cm below {MostGramsPerLitre} g/L: EC cannot see what it brings."));
            }
        }

        for (var i = 0; i < 40; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Read(product, middle, water).Ec < ec ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    private static ComparedProduct Dosed(Product product, double grams, ComponentAmounts water)
    {
        var (ec, ph) = Read(product, grams, water);
        return new ComparedProduct(product, grams, NutrientAmounts.Zero.PlusScaled(product.MgPerKg, grams / 1000), ec, ph, product.PricePerKg is { } price ? price * (decimal)grams / 1000 : null);
    }

    private static (double Ec, double PH) Read(Product product, double grams, ComponentAmounts water)
    {
        var solution = EquilibriumSolver.Solve(water.PlusScaled(product.MolPerKg, grams / 1000), new SolveConditions { Temperature = Temperature.Reference }).Required();
        return (solution.ConductivityAt25MicrosiemensPerCm(), solution.PH);
    }

    private static BrandComparison Of(ComparedProduct one, ComparedProduct other)
    {
        var differences = Enum.GetValues<Nutrient>().Select(nutrient => (Nutrient: nutrient, MgPerLitre: other.MgPerLitre[nutrient] - one.MgPerLitre[nutrient], Larger: Math.Max(other.MgPerLitre[nutrient], one.MgPerLitre[nutrient])))
            .Where(each => each.Larger > LeastMgPerLitre && Math.Abs(each.MgPerLitre) >= Noticed * each.Larger)
            .OrderByDescending(each => Math.Abs(each.MgPerLitre) / each.Larger).Select(each => (each.Nutrient, each.MgPerLitre)).ToList();
        var words = new List<string> { Say($"{one.GramsPerLitre:0.00} g/L of {one.Product.Name} against {other.GramsPerLitre:0.00} g/L of {other.Product.Name}: EC {one.EcMicrosiemensPerCm:0} and {other.EcMicrosiemensPerCm:0} µS/cm, pH {one.PH:0.0} and {other.PH:0.0}.") };
        if (one.CostPerLitre is { } a && other.CostPerLitre is { } b && a > 0)
        {
            words.Add(Say($"{other.Product.Name} costs {b / a:0.00} times as much for that."));
        }

        if (new[] { one, other }.Any(each => each.MgPerLitre[Nutrient.UreaNitrogen] > 1))
        {
            words.Add("EC does not see urea: at equal EC the one with urea brings more nitrogen than its reading shows.");
        }

        words.Add("EC sees neither urea, phosphite nor traces; that these are right only the label says.");
        return new BrandComparison(one, other, differences, words);
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
