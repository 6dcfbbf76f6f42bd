using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>What a want or a limit is about.</summary>
internal enum MeasureKind
{
    /// <summary>mg/L of one nutrient.</summary>
    Nutrient,

    /// <summary>mg/L of all nitrogen.</summary>
    TotalNitrogen,

    /// <summary>EC at 25 °C, µS/cm.</summary>
    Ec,

    /// <summary>mmol/kg of protons missing for the pH to be as low as <see cref="Measure.Level"/>: above zero the pH is above that level.</summary>
    ProtonsShort,

    /// <summary>Saturation index of a mineral.</summary>
    Saturation,
}

/// <summary>One quantity that depends on what is in the can.</summary>
/// <param name="Kind">Of what kind.</param>
/// <param name="Index">The nutrient or the mineral, as its number.</param>
/// <param name="Level">The pH, for <see cref="MeasureKind.ProtonsShort"/>.</param>
internal readonly record struct Measure(MeasureKind Kind, int Index = 0, double Level = 0)
{
    public static Measure Of(Nutrient nutrient) => new(MeasureKind.Nutrient, (int)nutrient);
}

/// <summary>A measure as an affine function of the totals: value = constant + Σ perMol × total (mol/kg of water).</summary>
internal sealed record LinearMeasure(double Constant, double[] PerMol)
{
    public double At(ComponentAmounts molPerKgWater)
    {
        var value = Constant;
        var amounts = molPerKgWater.AsSpan();
        for (var i = 0; i < amounts.Length; i++)
        {
            value += PerMol[i] * amounts[i];
        }

        return value;
    }

    /// <summary>What one unit of this mixture adds.</summary>
    public double Slope(ComponentAmounts molPerKgWater) => At(molPerKgWater) - Constant;
}
