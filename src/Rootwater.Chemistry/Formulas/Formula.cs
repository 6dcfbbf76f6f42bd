using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Formulas;

/// <summary>A chemical formula: atoms, molar mass and what it brings into water. Immutable.</summary>
/// <remarks>
/// Nitrogen is told apart as nitrate, ammonium or urea by its group; iron's oxidation state follows from neutrality, and so does the number
/// of protons. A formula that cannot be neutral with the oxidation states this chemistry knows (a nitrite, a peroxide, a metal) is refused.
/// Chelators and carboxylic acids may stand as whole words (EDTA, DTPA, HEDTA, EDDHA, Citrate, Acetate); protons such a word leaves unsaid, as
/// in "Na2EDTA", are added and weighed.
/// </remarks>
public sealed class Formula
{
    private readonly Dictionary<string, double> _atoms;

    private Formula(string text, Dictionary<string, double> atoms, ComponentAmounts components)
    {
        Text = text;
        _atoms = atoms;
        ComponentsPerMole = components;
        GramsPerMole = atoms.Sum(pair => pair.Value * AtomicWeights.GramsPerMole(pair.Key));
    }

    /// <summary>The formula as written.</summary>
    public string Text { get; }

    /// <summary>Molar mass with all waters of crystallisation, g/mol.</summary>
    public double GramsPerMole { get; }

    /// <summary>Atoms by element symbol, per formula unit.</summary>
    public IReadOnlyDictionary<string, double> Atoms => _atoms;

    /// <summary>Moles of each component that one mole brings (hydrogen from neutrality; waters of crystallisation bring none).</summary>
    public ComponentAmounts ComponentsPerMole { get; }

    /// <summary>Mass of one element in one gram of the formula (0 to 1), by symbol.</summary>
    public double MassFraction(string element) => _atoms.GetValueOrDefault(element) * AtomicWeights.GramsPerMole(element) / GramsPerMole;

    /// <summary>Reads a formula: "Ca(NO3)2·4H2O", "MgSO4.7H2O", "5Ca(NO3)2·NH4NO3·10H2O", "NaFeEDTA", "C6H8O7".</summary>
    /// <exception cref="FormatException">It cannot be read; the message says where and why.</exception>
    public static Formula Parse(string text) => TryParse(text, out var formula, out var reason) ? formula! : throw new FormatException(reason);

    /// <summary>As <see cref="Parse"/>, with the reason in place of an exception.</summary>
    public static bool TryParse(string text, out Formula? formula, out string? reason)
    {
        formula = null;
        try
        {
            var contents = new FormulaReader(text ?? "").Read();
            var components = FormulaBalance.Components(text!, contents);
            formula = new Formula(text!, contents.Atoms, components);
            reason = null;
            return true;
        }
        catch (FormatException problem)
        {
            reason = problem.Message;
            return false;
        }
    }

    /// <inheritdoc/>
    public override string ToString() => Text;
}
