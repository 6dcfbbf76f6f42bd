using System.Collections.Frozen;
using Rootwater.Chemistry.Activity;
using Rootwater.Chemistry.Data;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Conductivity;

/// <summary>
/// Limiting molar conductivities, S cm²/mol (per mole of ion, not per equivalent), at a temperature:
/// λ°(T) = λ°(25 °C) exp(d/T - d/298.15) η(25 °C)/η(T), d from <c>data/chemistry/mobilities.2025.csv</c>.
/// </summary>
internal static class IonicMobilities
{
    /// <summary>Ångström, where the table has nothing better. Fitted to KCl and NaCl at 0.1 mol/L of the CRC table of equivalent conductivities.</summary>
    private const double UsualClosestApproachAngstrom = 3.35;

    private static readonly FrozenDictionary<string, (double LimitingAt25, double Kelvin, double ClosestApproachAngstrom)> s_rows = Table.Load("mobilities.2025.csv").Rows
        .ToFrozenDictionary(
            row => row.Text("name"),
            row => (row.Number("limiting_S_cm2_per_mol"), row.Number("dw_t_kelvin"), row.NumberOr("closest_approach_angstrom", UsualClosestApproachAngstrom)));

    /// <summary>Zero for neutral species and for charged ones no table knows.</summary>
    public static double LimitingAt(string species, Temperature temperature)
    {
        if (!s_rows.TryGetValue(species, out var row))
        {
            return 0;
        }

        var viscosity = WaterProperties.ViscosityMillipascalSeconds(Temperature.Reference) / WaterProperties.ViscosityMillipascalSeconds(temperature);
        return row.LimitingAt25 * Math.Exp(row.Kelvin / temperature.Kelvin - row.Kelvin / Temperature.Reference.Kelvin) * viscosity;
    }

    /// <summary>Closest approach of the ion and its cloud, ångström.</summary>
    public static double ClosestApproachAngstrom(string species) =>
        s_rows.TryGetValue(species, out var row) ? row.ClosestApproachAngstrom : UsualClosestApproachAngstrom;
}
