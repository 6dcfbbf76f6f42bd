using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Formulas;

/// <summary>A chemical formula: atoms, molar mass and what it brings into water.</summary>
public sealed class Formula
{
    /// <summary>The formula as written.</summary>
    public string Text => throw new NotSupportedException("Lands next.");

    /// <summary>Molar mass with all waters of crystallisation, g/mol.</summary>
    public double GramsPerMole => throw new NotSupportedException("Lands next.");

    /// <summary>Mass of one element in one gram of the formula (0 to 1), by symbol.</summary>
    public double MassFraction(string element) => throw new NotSupportedException("Lands next.");

    /// <summary>Moles of each component that one mole brings (hydrogen from neutrality; waters of crystallisation bring none).</summary>
    public ComponentAmounts ComponentsPerMole => throw new NotSupportedException("Lands next.");

    /// <summary>Reads a formula: "Ca(NO3)2·4H2O", "MgSO4.7H2O", "NaFeEDTA", "citric acid" by its formula "C6H8O7".</summary>
    /// <exception cref="FormatException">It cannot be read; the message says at which character and why.</exception>
    public static Formula Parse(string text) => throw new NotSupportedException("Lands next.");

    /// <summary>As <see cref="Parse"/>, with the reason in place of an exception.</summary>
    public static bool TryParse(string text, out Formula? formula, out string? reason) => throw new NotSupportedException("Lands next.");
}
