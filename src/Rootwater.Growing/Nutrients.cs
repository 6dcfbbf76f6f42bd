using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing;

/// <summary>How the chemistry's components read as nutrients.</summary>
public static class Nutrients
{
    private static readonly double N = Weight("N"), P = Weight("P"), K = Weight("K"), Ca = Weight("Ca"), Mg = Weight("Mg"), S = Weight("S"), Fe = Weight("Fe"), Mn = Weight("Mn"),
        Zn = Weight("Zn"), Cu = Weight("Cu"), B = Weight("B"), Mo = Weight("Mo"), Na = Weight("Na"), Cl = Weight("Cl"), Si = Weight("Si");

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

    /// <summary>In words, as a sentence has it.</summary>
    public static string NameOf(Nutrient nutrient) => nutrient switch
    {
        Nutrient.NitrateNitrogen => "nitrate nitrogen",
        Nutrient.AmmoniumNitrogen => "ammonium nitrogen",
        Nutrient.UreaNitrogen => "urea nitrogen",
        _ => nutrient.ToString().ToLowerInvariant(),
    };

    private static double Weight(string element) => AtomicWeights.GramsPerMole(element);
}
