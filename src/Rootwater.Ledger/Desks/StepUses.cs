using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What the steps of a card take from the lots in the cupboard.</summary>
internal static class StepUses
{
    public static IReadOnlyList<StepUse> Of(CanPlan can, IReadOnlyList<SupplyItem> cupboard) => [.. can.Steps.SelectMany(step => Of(step, can, cupboard))];

    /// <summary>What a dose of a product takes, measured in its own unit.</summary>
    public static IEnumerable<StepUse> Of(int number, Guid productId, double amount, string unit, IReadOnlyList<SupplyItem> cupboard) =>
        cupboard.FirstOrDefault(item => item.Product.Id == productId) is { } item
            ? Take(number, item, null, unit == "mL" ? amount * (item.Product.DensityKgPerLitre ?? 1) : amount)
            : [];

    private static IEnumerable<StepUse> Of(MixStep step, CanPlan can, IReadOnlyList<SupplyItem> cupboard)
    {
        if (cupboard.FirstOrDefault(item => item.Product.Id == step.ProductId) is { } product)
        {
            return Take(step.Number, product, step.LotId, step.Unit == "mL" ? step.Amount * (product.Product.DensityKgPerLitre ?? 1) : step.Amount);
        }

        // A dose of concentrate takes its share of everything that was weighed into the bottle.
        return can.Concentrates.FirstOrDefault(recipe => step.What == $"concentrate {recipe.Name}") is { } bottle
            ? bottle.Weigh.SelectMany(weighed => cupboard.FirstOrDefault(item => item.Product.Id == weighed.ProductId) is { } item
                ? Take(step.Number, item, null, weighed.Grams * step.Amount / (bottle.Litres * 1000))
                : [])
            : [];
    }

    private static IEnumerable<StepUse> Take(int step, SupplyItem item, Guid? lotId, double grams) =>
        (item.Lots.FirstOrDefault(lot => lot.Id == lotId) ?? item.Lots.FirstOrDefault(lot => lot.GramsLeft > 0)) is { } lot ? [new StepUse(step, lot.Id, grams)] : [];
}
