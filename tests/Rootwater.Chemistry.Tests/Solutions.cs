using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests;

/// <summary>Short ways to write a solution down.</summary>
internal static class Solutions
{
    /// <summary>"KNO3=5;KCl=1", mmol per kg of water.</summary>
    public static ComponentAmounts MillimolesPerKgWater(string recipe)
    {
        var totals = ComponentAmounts.Zero;
        foreach (var reagent in recipe.Split(';', StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = reagent.Split('=');
            totals = totals.PlusScaled(Formula.Parse(parts[0]).ComponentsPerMole, double.Parse(parts[1], CultureInfo.InvariantCulture) / 1000);
        }

        return totals;
    }

    public static Solution Solve(string recipeMillimolesPerKgWater, double celsius = 25, Air air = default) =>
        EquilibriumSolver.Solve(MillimolesPerKgWater(recipeMillimolesPerKgWater), At(celsius, air)).Required();

    public static SolveConditions At(double celsius, Air air = default) => new() { Temperature = Temperature.FromCelsius(celsius), Air = air };
}
