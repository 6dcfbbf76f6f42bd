using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing;

/// <summary>Short cautions for a step of the card; the words are <see cref="SafetyTexts"/>'.</summary>
internal static class Cautions
{
    public static IReadOnlyList<string> For(Product product) => [.. SafetyTexts.For(product).Select(text => text.Short)];

    public static IReadOnlyList<string> ForConcentrate(IReadOnlyList<Product> products) => [.. SafetyTexts.ForConcentrate(products).Select(text => text.Short)];
}
