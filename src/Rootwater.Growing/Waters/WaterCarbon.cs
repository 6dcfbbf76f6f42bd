using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>Finds the dissolved carbon of a water from its alkalinity and either its pH or the carbon dioxide it stood with.</summary>
internal static class WaterCarbon
{
    // Near 20 °C, thin solution: a litre is 0.998 kg.
    public const double LitresPerKgWater = 1.0018;

    private const double MostMmolPerLitre = 60;

    /// <summary>log10 of the carbon dioxide pressure supposed where no pH is given, atm: ground water holds about eight times what the air does (common practice, no source).</summary>
    public static double Log10PCO2Atmospheres(WaterOrigin origin) => origin == WaterOrigin.Ground ? -2.5 : -3.4;

    /// <summary>Carbon that gives this pH, mmol/L; null with a reason when none does.</summary>
    public static (double? MmolPerLitre, string? Why) AtPH(WaterGuess water, double pH, Temperature temperature)
    {
        double PH(double carbon) => EquilibriumSolver.Solve(water.MolPerKgWater(carbon, LitresPerKgWater), new SolveConditions { Temperature = temperature }).Required().PH;
        // More carbon dioxide at the same alkalinity always lowers the pH.
        var (low, high) = (0.0, MostMmolPerLitre);
        if (PH(low) < pH)
        {
            return (null, $"A pH of {WaterFacts.Say(pH)} needs more alkalinity than {WaterFacts.Say(water.AlkalinityMeqPerLitre)} meq/L. Measure one of them again; a pH pen wanders in water this soft.");
        }

        if (PH(high) > pH)
        {
            return (null, $"A pH of {WaterFacts.Say(pH)} does not go with an alkalinity of {WaterFacts.Say(water.AlkalinityMeqPerLitre)} meq/L. Measure one of them again.");
        }

        for (var i = 0; i < 60 && high - low > 1e-9 * high; i++)
        {
            var middle = i < 20 && low > 0 ? Math.Sqrt(low * high) : (low + high) / 2;
            (low, high) = PH(middle) > pH ? (middle, high) : (low, middle);
        }

        return ((low + high) / 2, null);
    }

    /// <summary>Carbon in balance with a carbon dioxide pressure, mmol/L.</summary>
    public static double AtPressure(WaterGuess water, double log10PCO2Atmospheres, Temperature temperature)
    {
        var carbon = Math.Max(water.AlkalinityMeqPerLitre, 0) + 1e-3;
        var solution = EquilibriumSolver.Solve(
            water.MolPerKgWater(carbon, LitresPerKgWater), new SolveConditions { Temperature = temperature, Air = Air.Open(log10PCO2Atmospheres) }).Required();
        return solution.TotalsMolPerKgWater[Component.Carbonate] * 1000 / LitresPerKgWater;
    }
}
