using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Formulas;

/// <summary>Writes atoms as components, protons and water, with the oxidation state of iron and the number of protons from neutrality.</summary>
internal static class FormulaBalance
{
    private const double Tolerance = 1e-6;

    private static readonly Dictionary<string, Component> s_carrier = new()
    {
        ["Na"] = Component.Sodium,
        ["K"] = Component.Potassium,
        ["Ca"] = Component.Calcium,
        ["Mg"] = Component.Magnesium,
        ["Cl"] = Component.Chloride,
        ["S"] = Component.Sulfate,
        ["P"] = Component.Phosphate,
        ["C"] = Component.Carbonate,
        ["B"] = Component.Borate,
        ["Si"] = Component.Silicate,
        ["Mo"] = Component.Molybdate,
        ["Mn"] = Component.Manganese,
        ["Zn"] = Component.Zinc,
        ["Cu"] = Component.Copper,
    };

    public static ComponentAmounts Components(string text, FormulaContents contents)
    {
        var amounts = new double[ComponentAmounts.Count];
        var left = new Dictionary<string, double>(contents.Atoms);
        foreach (var (component, count) in contents.Groups)
        {
            amounts[(int)component] += count;
            foreach (var (element, atoms) in NonWaterAtoms(component))
            {
                left[element] = left.GetValueOrDefault(element) - count * atoms;
            }
        }

        TakeIronChelates(text, contents, amounts, left);
        var iron = left.GetValueOrDefault("Fe");
        foreach (var (element, count) in left)
        {
            if (element is "H" or "O" or "Fe" || Math.Abs(count) < Tolerance)
            {
                continue;
            }

            amounts[(int)CarrierOf(text, element, count)] += count;
        }

        double charge = 0, hydrogens = 0, oxygens = 0;
        for (var c = 1; c < amounts.Length; c++)
        {
            charge += amounts[c] * ((Component)c).Charge();
            hydrogens += amounts[c] * ((Component)c).Hydrogens();
            oxygens += amounts[c] * ((Component)c).Oxygens();
        }

        var waters = contents.Atoms.GetValueOrDefault("O") - oxygens;
        var protons = contents.Atoms.GetValueOrDefault("H") - hydrogens - 2 * waters;
        var ferric = iron > Tolerance ? -(charge + 2 * iron + protons) : 0;
        if (contents.HasWords)
        {
            // A word leaves protons unsaid: iron with it is taken as iron(III) and the rest is made neutral.
            var asWritten = iron > Tolerance && ferric > -Tolerance && ferric < iron + Tolerance;
            ferric = asWritten ? ferric : iron;
            var unsaid = -(charge + 2 * iron + ferric) - protons;
            if (unsaid < -Tolerance)
            {
                throw NotNeutral(text);
            }

            protons += unsaid;
            contents.AddAtoms("H", unsaid);
        }

        if (iron > Tolerance)
        {
            if (ferric < -Tolerance || ferric > iron + Tolerance)
            {
                throw NotNeutral(text);
            }

            amounts[(int)Component.IronIII] += ferric;
            amounts[(int)Component.IronII] += iron - ferric;
        }

        if (Math.Abs(charge + 2 * iron + ferric + protons) > Tolerance)
        {
            throw NotNeutral(text);
        }

        amounts[(int)Component.Hydrogen] = protons;
        for (var c = 0; c < amounts.Length; c++)
        {
            // Counts are whole or short decimals; what arithmetic leaves beside them is noise that would break neutrality.
            amounts[c] = Math.Round(amounts[c], 9);
            if (c > 0 && amounts[c] < 0)
            {
                throw NotNeutral(text);
            }
        }

        return ComponentAmounts.FromSpan(amounts);
    }

    private static void TakeIronChelates(string text, FormulaContents contents, double[] amounts, Dictionary<string, double> left)
    {
        foreach (var (component, count) in contents.IronChelators)
        {
            if (left.GetValueOrDefault("Fe") < count - Tolerance)
            {
                throw new FormatException($"The formula '{text}' has a chelator that is known here only with iron(III), one to one: write for example NaFeEDDHA.");
            }

            amounts[(int)component] += count;
            left["Fe"] -= count;
            foreach (var (element, atoms) in NonWaterAtoms(component))
            {
                left[element] = left.GetValueOrDefault(element) - count * atoms;
            }
        }
    }

    /// <summary>Atoms of a group that are neither hydrogen nor oxygen, which are balanced as a whole.</summary>
    private static IEnumerable<(string Element, int Atoms)> NonWaterAtoms(Component component) => component switch
    {
        Component.Ammonium or Component.Nitrate => [("N", 1)],
        Component.Citrate => [("C", 6)],
        Component.Acetate => [("C", 2)],
        Component.Urea => [("C", 1), ("N", 2)],
        Component.Edta => [("C", 10), ("N", 2)],
        Component.IronDtpa => [("C", 14), ("N", 3)],
        Component.IronHedta => [("C", 10), ("N", 2)],
        Component.IronEddha => [("C", 18), ("N", 2)],
        _ => [],
    };

    private static Component CarrierOf(string text, string element, double count) => (element, count) switch
    {
        ("N", _) => throw new FormatException($"The formula '{text}' has nitrogen that is neither nitrate (NO3), ammonium (NH4, NH3) nor urea."),
        (_, < 0) => throw NotNeutral(text),
        _ when s_carrier.TryGetValue(element, out var component) => component,
        _ => throw new FormatException($"The formula '{text}' has {element}, which this chemistry does not follow."),
    };

    private static FormatException NotNeutral(string text) =>
        new($"The formula '{text}' does not add up to a neutral substance with the oxidation states known here (nitrate, ammonium, sulfate, phosphate, carbonate, iron(II) and (III), manganese(II), zinc, copper(II), molybdate).");
}
