using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard;

/// <summary>What acids and bases do to alkalinity, before any solving.</summary>
/// <remarks>
/// Alkalinity adds up however the solution reacts: 2 carbonate + 2 phosphate − hydrogen, in the components' totals (zero level H2CO3, H2PO4-, NH4+, H3BO3, SO4-2).
/// Phosphoric acid so takes one equivalent per mole; how much more it takes at a higher end point (1.17 at pH 6.5), and what a weak acid like citric takes at
/// all, is for the solver (<c>DoseForPH</c>).
/// </remarks>
public static class AcidEffect
{
    /// <summary>Equivalents of alkalinity in these moles (negative for an acid).</summary>
    public static double AlkalinityEquivalents(ComponentAmounts moles) => 2 * moles[Component.Carbonate] + 2 * moles[Component.Phosphate] - moles[Component.Hydrogen];

    /// <summary>The alkalinity that a dose of a liquid product takes away (an acid) or brings (a base, below zero).</summary>
    /// <param name="product">A liquid.</param>
    /// <param name="dose">How much of it.</param>
    /// <exception cref="ArgumentException">The product has no density.</exception>
    public static Alkalinity Neutralised(Product product, VolumeDose dose)
    {
        var density = product.DensityKgPerLitre ?? throw new ArgumentException($"{product.Name} is measured by volume here and has no density.", nameof(product));
        return Alkalinity.From(-AlkalinityEquivalents(product.MolPerKg) * dose.ToMass(density).GramsPerLitre, CarbonateScale.MeqPerLitre);
    }

    /// <summary>The dose that takes away this much alkalinity, without regard to the pH it ends at.</summary>
    /// <param name="product">A liquid acid.</param>
    /// <param name="alkalinity">What is to go.</param>
    /// <exception cref="ArgumentException">The product has no density or is no acid.</exception>
    public static VolumeDose ToNeutralise(Product product, Alkalinity alkalinity)
    {
        var perMillilitre = Neutralised(product, VolumeDose.FromMillilitresPerLitre(1)).MeqPerLitre;
        return perMillilitre > 0
            ? VolumeDose.FromMillilitresPerLitre(alkalinity.MeqPerLitre / perMillilitre)
            : throw new ArgumentException($"{product.Name} takes no alkalinity away.", nameof(product));
    }

    /// <summary>mg/L of a nutrient that a dose of a liquid product brings.</summary>
    /// <exception cref="ArgumentException">The product has no density.</exception>
    public static double NutrientMgPerLitre(Product product, VolumeDose dose, Nutrient nutrient)
    {
        var density = product.DensityKgPerLitre ?? throw new ArgumentException($"{product.Name} is measured by volume here and has no density.", nameof(product));
        return product.MgPerKg[nutrient] * dose.ToMass(density).GramsPerLitre / 1000;
    }
}
