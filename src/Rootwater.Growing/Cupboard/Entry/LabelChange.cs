using System.Globalization;

namespace Rootwater.Growing.Cupboard.Entry;

/// <summary>What differs between the label of a known product and the one on the package just bought.</summary>
/// <param name="Nutrient">Which nutrient.</param>
/// <param name="Before">Percent by weight as the element.</param>
/// <param name="Now">The same on the new label.</param>
public sealed record LabelDifference(Nutrient Nutrient, double Before, double Now);

/// <summary>Notices that a known product's label has changed: same name, other contents.</summary>
public static class LabelChange
{
    // Labels print two or three digits; less than this is how the printer rounded.
    private const double Relative = 0.05;
    private const double LeastPercent = 0.002;

    /// <summary>What changed beyond rounding, largest share first; empty when it is the same product.</summary>
    public static IReadOnlyList<LabelDifference> Between(Product known, Product now) =>
    [
        .. Enum.GetValues<Nutrient>().Select(nutrient => new LabelDifference(nutrient, known.MgPerKg[nutrient] / 1e4, now.MgPerKg[nutrient] / 1e4))
            .Where(each => Math.Max(each.Before, each.Now) > LeastPercent && Math.Abs(each.Now - each.Before) > Relative * Math.Max(each.Before, each.Now))
            .OrderByDescending(each => Math.Abs(each.Now - each.Before) / Math.Max(each.Before, each.Now)),
    ];

    /// <summary>The product in a cupboard that a newly read one may be a new label of: by its name. Null when there is none.</summary>
    public static Product? KnownAs(Product now, IEnumerable<Product> cupboard) =>
        cupboard.FirstOrDefault(known => known.Id != now.Id && string.Equals(Plain(known.Name), Plain(now.Name), StringComparison.OrdinalIgnoreCase));

    /// <summary>In a sentence, for whoever enters it.</summary>
    public static string Words(Product known, IReadOnlyList<LabelDifference> differences) => differences.Count == 0
        ? $"The label of {known.Name} is as it was: a new lot of the same product."
        : string.Create(CultureInfo.InvariantCulture, $"The label of {known.Name} has changed: {string.Join(", ", differences.Take(4).Select(each => string.Create(CultureInfo.InvariantCulture, $"{Nutrients.NameOf(each.Nutrient)} {each.Before:0.###} % to {each.Now:0.###} %")))}. Enter it as a new product: cans mixed with the old one stay what they were.");

    private static string Plain(string name) => string.Join(' ', name.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
}
