namespace Rootwater.Growing.Labels;

/// <summary>What holds a metal in solution.</summary>
public enum Chelator
{
    /// <summary>None declared.</summary>
    None,
    Edta,
    Dtpa,
    Hedta,
    Eddha,

    /// <summary>"Chelated", but not by what.</summary>
    Unnamed,
}

/// <summary>A stretch of a text, counted in characters from its beginning.</summary>
public readonly record struct TextSpan(int Start, int Length)
{
    public int End => Start + Length;

    public static TextSpan Between(int start, int end) => new(start, end - start);

    public string In(string text) => text.Substring(Start, Length);
}

/// <summary>One line of a guaranteed analysis.</summary>
/// <param name="Form">What is counted.</param>
/// <param name="Percent">How much: grams per 100 g or per 100 mL, by the label's <see cref="LabelBasis"/>.</param>
public sealed record Declaration(DeclaredForm Form, double Percent)
{
    /// <summary>Half of the last printed digit, in percent: what rounding alone can hide.</summary>
    public double RoundingPercent { get; init; } = 0.05;

    public Chelator Chelator { get; init; }

    /// <summary>The label says it is soluble in water.</summary>
    public bool WaterSoluble { get; init; }

    /// <summary>Where it was read; null when it was typed into a form.</summary>
    public TextSpan? ReadFrom { get; init; }
}
