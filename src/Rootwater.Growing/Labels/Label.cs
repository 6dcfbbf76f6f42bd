using System.Globalization;

namespace Rootwater.Growing.Labels;

/// <summary>What the percentages of a label are percentages of.</summary>
public enum LabelBasis
{
    /// <summary>Grams per 100 g of product.</summary>
    ByWeight,

    /// <summary>Grams per 100 mL of product; needs a density to become anything else.</summary>
    ByVolume,
}

/// <summary>What a product's package declares: its guaranteed analysis as printed. What it means in ions is for <see cref="LabelInversion"/>.</summary>
public sealed record Label
{
    public required string Name { get; init; }

    public LabelBasis Basis { get; init; }

    /// <summary>Kilograms per litre; needed when <see cref="Basis"/> is <see cref="LabelBasis.ByVolume"/>, and marks a liquid.</summary>
    public double? DensityKgPerLitre { get; init; }

    public required IReadOnlyList<Declaration> Declarations { get; init; }

    /// <summary>Salts that the label says it is made from, by formula as in the salt table; empty when it does not say.</summary>
    public IReadOnlyList<string> DerivedFrom { get; init; } = [];

    /// <summary>pH of a solution in pure water, where the label states one.</summary>
    public StatedReading? StatedPH { get; init; }

    /// <summary>EC of a solution in pure water, µS/cm, where the label states one.</summary>
    public StatedReading? StatedEcMicrosiemensPerCm { get; init; }

    /// <summary>The label's directions, word for word.</summary>
    public string? Directions { get; init; }

    /// <summary>The whole text, word for word, where it was pasted.</summary>
    public string? Text { get; init; }

    /// <summary>True for a product that is poured.</summary>
    public bool IsLiquid => DensityKgPerLitre is not null || Basis == LabelBasis.ByVolume;

    /// <summary>Adds one declaration; for building labels by hand.</summary>
    public Label Declaring(DeclaredForm form, double percent, Chelator chelator = Chelator.None) =>
        this with { Declarations = [.. Declarations, new Declaration(form, percent) { Chelator = chelator, RoundingPercent = HalfLastDigit(percent) }] };

    /// <summary>How far what is in it may be off what it declares, relative, one standard deviation; null where it says nothing.</summary>
    public double? RelativeTolerance { get; init; }

    /// <summary>The widest tolerance that is believed, percent.</summary>
    public const double MostTolerancePercent = 30;

    /// <summary>A printed tolerance ("± 5 %") as one standard deviation: taken as what 95 of 100 batches keep (a judgement, no source).</summary>
    public static double ToleranceOf(double percent) => percent / 100 / 1.96;

    /// <summary>The elements it declares, per kilogram of product.</summary>
    /// <exception cref="InvalidOperationException"><see cref="LabelCheck"/> finds an error; its message says which.</exception>
    public LabelContents Contents()
    {
        var error = LabelCheck.Of(this).FirstOrDefault(problem => problem.Severity == Severity.Error);
        return error is null ? LabelContents.Of(this) : throw new InvalidOperationException($"{error.Field}: {error.Message}");
    }

    /// <summary>Half of the last digit a person would print for this number: 0.5 for 14, 0.05 for 15.5.</summary>
    internal static double HalfLastDigit(double percent)
    {
        var text = percent.ToString("0.######", CultureInfo.InvariantCulture);
        var point = text.IndexOf('.');
        return point < 0 ? 0.5 : 0.5 * Math.Pow(10, -(text.Length - point - 1));
    }
}

/// <summary>A reading that the label states for a solution of its product in pure water.</summary>
/// <param name="Value">The reading.</param>
/// <param name="GramsPerLitre">The strength it is stated for.</param>
public sealed record StatedReading(double Value, double GramsPerLitre);
