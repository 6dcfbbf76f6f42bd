using Rootwater.Chemistry.Formulas;

namespace Rootwater.Growing.Labels;

/// <summary>What a line of a guaranteed analysis counts: nitrogen by form, the rest as oxide or as element.</summary>
public enum DeclaredForm
{
    TotalNitrogen,
    NitrateNitrogen,
    AmmoniacalNitrogen,
    UreaNitrogen,
    PhosphorusPentoxide,
    Phosphorus,
    PotassiumOxide,
    Potassium,
    CalciumOxide,
    Calcium,
    MagnesiumOxide,
    Magnesium,
    SulfurTrioxide,
    Sulfate,
    Sulfur,
    SodiumOxide,
    Sodium,
    Chloride,
    SiliconDioxide,
    Silicon,
    Boron,
    Iron,
    Manganese,
    Zinc,
    Copper,
    Molybdenum,
}

/// <summary>How each <see cref="DeclaredForm"/> is written and what share of it is the element.</summary>
/// <remarks>The factors from oxide to element are computed from the IUPAC atomic weights by <see cref="Formula"/>; none is typed.</remarks>
public static class DeclaredForms
{
    private sealed record Entry(string Symbol, string Words, Nutrient? Nutrient, Lazy<double> ElementFraction);

    private static readonly IReadOnlyDictionary<DeclaredForm, Entry> s_entries = new Dictionary<DeclaredForm, Entry>
    {
        [DeclaredForm.TotalNitrogen] = Element("N", "total nitrogen", null),
        [DeclaredForm.NitrateNitrogen] = Element("NO3-N", "nitrate nitrogen", Nutrient.NitrateNitrogen),
        [DeclaredForm.AmmoniacalNitrogen] = Element("NH4-N", "ammoniacal nitrogen", Nutrient.AmmoniumNitrogen),
        [DeclaredForm.UreaNitrogen] = Element("NH2-N", "urea nitrogen", Nutrient.UreaNitrogen),
        [DeclaredForm.PhosphorusPentoxide] = Compound("P2O5", "P", "phosphorus pentoxide", Nutrient.Phosphorus),
        [DeclaredForm.Phosphorus] = Element("P", "phosphorus", Nutrient.Phosphorus),
        [DeclaredForm.PotassiumOxide] = Compound("K2O", "K", "potassium oxide", Nutrient.Potassium),
        [DeclaredForm.Potassium] = Element("K", "potassium", Nutrient.Potassium),
        [DeclaredForm.CalciumOxide] = Compound("CaO", "Ca", "calcium oxide", Nutrient.Calcium),
        [DeclaredForm.Calcium] = Element("Ca", "calcium", Nutrient.Calcium),
        [DeclaredForm.MagnesiumOxide] = Compound("MgO", "Mg", "magnesium oxide", Nutrient.Magnesium),
        [DeclaredForm.Magnesium] = Element("Mg", "magnesium", Nutrient.Magnesium),
        [DeclaredForm.SulfurTrioxide] = Compound("SO3", "S", "sulfur trioxide", Nutrient.Sulfur),
        [DeclaredForm.Sulfate] = new("SO4", "sulfate", Nutrient.Sulfur, new(SulfurInSulfate)),
        [DeclaredForm.Sulfur] = Element("S", "sulfur", Nutrient.Sulfur),
        [DeclaredForm.SodiumOxide] = Compound("Na2O", "Na", "sodium oxide", Nutrient.Sodium),
        [DeclaredForm.Sodium] = Element("Na", "sodium", Nutrient.Sodium),
        [DeclaredForm.Chloride] = Element("Cl", "chloride", Nutrient.Chloride),
        [DeclaredForm.SiliconDioxide] = Compound("SiO2", "Si", "silicon dioxide", Nutrient.Silicon),
        [DeclaredForm.Silicon] = Element("Si", "silicon", Nutrient.Silicon),
        [DeclaredForm.Boron] = Element("B", "boron", Nutrient.Boron),
        [DeclaredForm.Iron] = Element("Fe", "iron", Nutrient.Iron),
        [DeclaredForm.Manganese] = Element("Mn", "manganese", Nutrient.Manganese),
        [DeclaredForm.Zinc] = Element("Zn", "zinc", Nutrient.Zinc),
        [DeclaredForm.Copper] = Element("Cu", "copper", Nutrient.Copper),
        [DeclaredForm.Molybdenum] = Element("Mo", "molybdenum", Nutrient.Molybdenum),
    };

    /// <summary>As a label prints it: "P2O5", "NO3-N".</summary>
    public static string Symbol(this DeclaredForm form) => s_entries[form].Symbol;

    /// <summary>In words: "phosphorus pentoxide".</summary>
    public static string Words(this DeclaredForm form) => s_entries[form].Words;

    /// <summary>The nutrient it counts towards; null for total nitrogen, whose form is not said.</summary>
    public static Nutrient? CountsAs(this DeclaredForm form) => s_entries[form].Nutrient;

    /// <summary>Grams of the element in one gram of what is declared (1 where the element itself is declared).</summary>
    public static double ElementFraction(this DeclaredForm form) => s_entries[form].ElementFraction.Value;

    /// <summary>Whether it may be bound to a chelator.</summary>
    public static bool IsChelatable(this DeclaredForm form) =>
        form is DeclaredForm.Iron or DeclaredForm.Manganese or DeclaredForm.Zinc or DeclaredForm.Copper;

    private static Entry Element(string symbol, string words, Nutrient? nutrient) => new(symbol, words, nutrient, new(() => 1.0));

    private static Entry Compound(string formula, string element, string words, Nutrient nutrient) =>
        new(formula, words, nutrient, new(() => Formula.Parse(formula).MassFraction(element)));

    // The ion has no formula of its own here, so it is read off a salt: what is left of K2SO4 without its potassium is SO4.
    private static double SulfurInSulfate()
    {
        var potassiumSulfate = Formula.Parse("K2SO4");
        return potassiumSulfate.MassFraction("S") / (1 - potassiumSulfate.MassFraction("K"));
    }
}
