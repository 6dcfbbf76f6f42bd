using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>What a water report may state.</summary>
public enum WaterQuantity
{
    Calcium,
    Magnesium,
    Sodium,
    Potassium,
    Ammonium,
    Nitrate,
    Chloride,
    Sulfate,
    Phosphate,
    Silica,
    Boron,
    Iron,
    Manganese,
    Zinc,
    Copper,

    /// <summary>As ion; read as alkalinity, which it is below pH 9.</summary>
    Bicarbonate,

    /// <summary>Acid capacity, carbonate hardness, KH.</summary>
    Alkalinity,

    /// <summary>Total hardness, GH.</summary>
    Hardness,
    PH,
    Conductivity,
    Temperature,
}

/// <summary>The dissolved substances among the quantities: component, molar masses, charge as alkalinity counts it.</summary>
/// <param name="Quantity">What the report calls it.</param>
/// <param name="Component">What the chemistry calls it.</param>
/// <param name="IonGramsPerMole">Of the ion as reports count it (NO3, SO4, PO4, SiO2; boron and metals as element).</param>
/// <param name="ElementGramsPerMole">Of its element ("as N", "as P", "as S", "as Si").</param>
/// <param name="Element">That element.</param>
/// <param name="Charge">Equivalents per mole at the zero level of alkalinity: phosphate −1 (H2PO4-), silica and boric acid 0.</param>
public sealed record WaterIon(WaterQuantity Quantity, Component Component, double IonGramsPerMole, double ElementGramsPerMole, string Element, int Charge)
{
    public static IReadOnlyList<WaterIon> All { get; } =
    [
        Of(WaterQuantity.Calcium, Component.Calcium, "Ca", 2),
        Of(WaterQuantity.Magnesium, Component.Magnesium, "Mg", 2),
        Of(WaterQuantity.Sodium, Component.Sodium, "Na", 1),
        Of(WaterQuantity.Potassium, Component.Potassium, "K", 1),
        Of(WaterQuantity.Ammonium, Component.Ammonium, "N", 1, hydrogens: 4),
        Of(WaterQuantity.Nitrate, Component.Nitrate, "N", -1, oxygens: 3),
        Of(WaterQuantity.Chloride, Component.Chloride, "Cl", -1),
        Of(WaterQuantity.Sulfate, Component.Sulfate, "S", -2, oxygens: 4),
        Of(WaterQuantity.Phosphate, Component.Phosphate, "P", -1, oxygens: 4),
        Of(WaterQuantity.Silica, Component.Silicate, "Si", 0, oxygens: 2),
        Of(WaterQuantity.Boron, Component.Borate, "B", 0),
        Of(WaterQuantity.Iron, Component.IronII, "Fe", 2),
        Of(WaterQuantity.Manganese, Component.Manganese, "Mn", 2),
        Of(WaterQuantity.Zinc, Component.Zinc, "Zn", 2),
        Of(WaterQuantity.Copper, Component.Copper, "Cu", 2),
    ];

    /// <summary>The substance; null for alkalinity, hardness, pH, EC and temperature.</summary>
    public static WaterIon? Find(WaterQuantity quantity) => All.FirstOrDefault(ion => ion.Quantity == quantity);

    private static WaterIon Of(WaterQuantity quantity, Component component, string element, int charge, int oxygens = 0, int hydrogens = 0) => new(
        quantity, component,
        AtomicWeights.GramsPerMole(element) + oxygens * AtomicWeights.GramsPerMole("O") + hydrogens * AtomicWeights.GramsPerMole("H"),
        AtomicWeights.GramsPerMole(element), element, charge);
}
