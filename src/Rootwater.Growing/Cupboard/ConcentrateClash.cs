using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard;

/// <summary>Two products that must not stand in one concentrate.</summary>
/// <param name="Calcium">The one that brings calcium.</param>
/// <param name="Other">The one that brings sulfate or phosphate; the same product where one holds both.</param>
/// <param name="With">"sulfate" or "phosphate".</param>
public sealed record ConcentrateClash(Product Calcium, Product Other, string With)
{
    // A label's traces (copper sulfate, a little gypsum) do not cloud a concentrate; a tenth of a mole per kilogram does at usual strengths.
    private const double LeastMolPerKg = 0.1;

    /// <summary>All clashes among the products.</summary>
    public static IReadOnlyList<ConcentrateClash> In(IReadOnlyList<Product> products) =>
    [
        .. from calcium in products.Where(product => product.MolPerKg[Component.Calcium] >= LeastMolPerKg)
           from other in products
           from anion in new[] { (Component: Component.Sulfate, Name: "sulfate"), (Component: Component.Phosphate, Name: "phosphate") }
           where other.MolPerKg[anion.Component] >= LeastMolPerKg
           select new ConcentrateClash(calcium, other, anion.Name),
    ];
}
