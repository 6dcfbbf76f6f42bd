using Rootwater.Chemistry.Activity;
using Rootwater.Chemistry.Data;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Quantities;

/// <summary>
/// Litres of solution that hold one kilogram of water: V = 1/ρ(water) + Σ m V°, with conventional partial molar volumes
/// (<c>data/chemistry/partial-molar-volumes.2025.csv</c>). Good to 0.1 % up to about 0.1 mol/kg; it is how per-kilogram and per-litre meet.
/// </summary>
public static class SolutionVolume
{
    private static readonly double[] s_litresPerMole = LoadVolumes();

    /// <summary>Litres per kilogram of water.</summary>
    public static double LitresPerKgWater(ComponentAmounts molPerKgWater, Temperature temperature)
    {
        var volume = 1 / WaterProperties.DensityKgPerLitre(temperature);
        var amounts = molPerKgWater.AsSpan();
        for (var c = 0; c < amounts.Length; c++)
        {
            volume += amounts[c] * s_litresPerMole[c];
        }

        return volume;
    }

    /// <summary>Turns moles in one litre of finished solution into mol per kg of water.</summary>
    public static ComponentAmounts MolPerKgWaterFromMolPerLitre(ComponentAmounts molPerLitre, Temperature temperature)
    {
        // One litre holds V(solutes) of solutes' own volume; the rest is water.
        var solutes = 0.0;
        var amounts = molPerLitre.AsSpan();
        for (var c = 0; c < amounts.Length; c++)
        {
            solutes += amounts[c] * s_litresPerMole[c];
        }

        var kgWaterPerLitre = (1 - solutes) * WaterProperties.DensityKgPerLitre(temperature);
        return kgWaterPerLitre > 0
            ? molPerLitre.Scaled(1 / kgWaterPerLitre)
            : throw new ArgumentOutOfRangeException(nameof(molPerLitre), "There is no room for water in a litre that holds this much.");
    }

    private static double[] LoadVolumes()
    {
        var volumes = new double[ComponentAmounts.Count];
        foreach (var row in Table.Load("partial-molar-volumes.2025.csv").Rows)
        {
            volumes[(int)Enum.Parse<Component>(row.Text("component"))] = row.Number("cm3_per_mol") / 1000;
        }

        return volumes;
    }
}
