using Rootwater.Chemistry.Data;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Species;

/// <summary>
/// log10 K(T) = a1 + a2 T + a3/T + a4 log10 T + a5/T² + a6 T², T in kelvin. A constant with an enthalpy is the same with van 't Hoff's a1 and a3;
/// where a row has both, the published analytic form overrides (as its source does).
/// </summary>
internal readonly record struct EquilibriumConstant(double A1, double A2, double A3, double A4, double A5, double A6)
{
    private const double GasConstantKilojoulesPerMoleKelvin = 8.31446e-3;
    private const double Ln10 = 2.302585092994046;

    public static EquilibriumConstant FromRow(Table.Row row)
    {
        double[] analytic = [.. Enumerable.Range(1, 6).Select(i => row.NumberOr($"a{i}", 0))];
        if (analytic.Any(a => a != 0))
        {
            return new(analytic[0], analytic[1], analytic[2], analytic[3], analytic[4], analytic[5]);
        }

        var slope = row.NumberOr("delta_h_kJ_per_mol", 0) / (Ln10 * GasConstantKilojoulesPerMoleKelvin);
        return new(row.NumberOr("log_k_25C", 0) + slope / Temperature.Reference.Kelvin, 0, -slope, 0, 0, 0);
    }

    public double Log10At(Temperature temperature)
    {
        var t = temperature.Kelvin;
        return A1 + A2 * t + A3 / t + A4 * Math.Log10(t) + A5 / (t * t) + A6 * t * t;
    }

    public EquilibriumConstant PlusScaled(EquilibriumConstant other, double factor) => new(
        A1 + factor * other.A1, A2 + factor * other.A2, A3 + factor * other.A3, A4 + factor * other.A4, A5 + factor * other.A5, A6 + factor * other.A6);
}
