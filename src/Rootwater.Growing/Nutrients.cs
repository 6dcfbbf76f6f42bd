using Rootwater.Chemistry.Species;

namespace Rootwater.Growing;

/// <summary>How the chemistry's components read as nutrients.</summary>
public static class Nutrients
{
    // Abridged IUPAC standard atomic weights (2021), g/mol; the same values as data/chemistry/atomic-weights.2021.csv, held equal by a test.
    private const double N = 14.007, P = 30.973761998, K = 39.0983, Ca = 40.078, Mg = 24.305, S = 32.06, Fe = 55.845, Mn = 54.938043,
        Zn = 65.38, Cu = 63.546, B = 10.81, Mo = 95.95, Na = 22.98976928, Cl = 35.45, Si = 28.085;

    private static readonly (Nutrient Nutrient, Component Component, double GramsPerMole)[] s_map =
    [
        (Nutrient.NitrateNitrogen, Component.Nitrate, N), (Nutrient.AmmoniumNitrogen, Component.Ammonium, N), (Nutrient.UreaNitrogen, Component.Urea, 2 * N),
        (Nutrient.Phosphorus, Component.Phosphate, P), (Nutrient.Potassium, Component.Potassium, K), (Nutrient.Calcium, Component.Calcium, Ca),
        (Nutrient.Magnesium, Component.Magnesium, Mg), (Nutrient.Sulfur, Component.Sulfate, S),
        (Nutrient.Iron, Component.IronII, Fe), (Nutrient.Iron, Component.IronIII, Fe), (Nutrient.Iron, Component.IronDtpa, Fe),
        (Nutrient.Iron, Component.IronHedta, Fe), (Nutrient.Iron, Component.IronEddha, Fe),
        (Nutrient.Manganese, Component.Manganese, Mn), (Nutrient.Zinc, Component.Zinc, Zn), (Nutrient.Copper, Component.Copper, Cu),
        (Nutrient.Boron, Component.Borate, B), (Nutrient.Molybdenum, Component.Molybdate, Mo), (Nutrient.Sodium, Component.Sodium, Na),
        (Nutrient.Chloride, Component.Chloride, Cl), (Nutrient.Silicon, Component.Silicate, Si),
    ];

    /// <summary>Milligrams of each nutrient in the given moles of each component. The nitrogen of chelators is not fertilizer nitrogen and is not counted.</summary>
    public static NutrientAmounts MilligramsIn(ComponentAmounts moles)
    {
        Span<double> amounts = stackalloc double[NutrientAmounts.Count];
        foreach (var (nutrient, component, gramsPerMole) in s_map)
        {
            amounts[(int)nutrient] += moles[component] * gramsPerMole * 1000;
        }

        return NutrientAmounts.FromSpan(amounts);
    }

    /// <summary>The component that carries the nutrient (iron: free iron(III)) and the nutrient's grams in one mole of it.</summary>
    public static (Component Component, double GramsPerMole) CarrierOf(Nutrient nutrient) => nutrient == Nutrient.Iron
        ? (Component.IronIII, Fe)
        : s_map.Where(row => row.Nutrient == nutrient).Select(row => (row.Component, row.GramsPerMole)).First();
}
