using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>How the pH creeps as carbon dioxide leaves (or enters) an open can.</summary>
/// <remarks>
/// dC/dt = -k ([CO2] - [CO2] in balance), C the dissolved inorganic carbon and k the exchange rate; the alkalinity does not move. Solved by
/// steps that are exact where [CO2] and C fall alike (exponential Euler), halved until the pH at the end moves less than 0.001.
/// </remarks>
public static class CarbonDioxideExchange
{
    private const int LeastSteps = 8;
    private const int MostSteps = 256;

    /// <summary>The solution after some hours of first-order exchange.</summary>
    /// <param name="molPerKgWater">The closed totals at the start.</param>
    /// <param name="ratePerHour">Exchange rate of dissolved CO2, per hour; 0 or more.</param>
    /// <param name="hours">How long; 0 or more.</param>
    /// <param name="log10AirPCO2">log10 of the pressure outside, atm.</param>
    /// <param name="conditions">Temperature; the air in it is not used.</param>
    /// <exception cref="ArgumentOutOfRangeException">A rate or time below 0.</exception>
    public static SolveOutcome After(ComponentAmounts molPerKgWater, double ratePerHour, double hours, double log10AirPCO2 = -3.4, SolveConditions? conditions = null)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(ratePerHour);
        ArgumentOutOfRangeException.ThrowIfNegative(hours);
        var closed = (conditions ?? SolveConditions.Default) with { Air = Air.Closed };
        var open = EquilibriumSolver.Solve(molPerKgWater, closed with { Air = Air.Open(log10AirPCO2) });
        if (open.Solution is not { } balance)
        {
            return open;
        }

        var balanceMolality = balance.MolalityOf("CO2");
        SolveOutcome? coarse = null;
        for (var steps = LeastSteps; steps <= MostSteps; steps *= 2)
        {
            var fine = March(molPerKgWater, balanceMolality, ratePerHour, hours, steps, closed);
            if (fine.Solution is null || coarse?.Solution is { } before && Math.Abs(before.PH - fine.Solution.PH) < 1e-3)
            {
                return fine;
            }

            coarse = fine;
        }

        return coarse!;
    }

    private static SolveOutcome March(ComponentAmounts totals, double balanceMolality, double ratePerHour, double hours, int steps, SolveConditions closed)
    {
        var outcome = EquilibriumSolver.Solve(totals, closed);
        var step = hours / steps;
        for (var i = 0; i < steps; i++)
        {
            if (outcome.Solution is not { } now)
            {
                return outcome;
            }

            // With the alkalinity held, a mole of CO2 that leaves lowers C and [CO2] alike (bicarbonate is what the alkalinity says it is).
            var molality = now.MolalityOf("CO2");
            var carbon = totals[Component.Carbonate];
            var gone = Math.Min((molality - balanceMolality) * (1 - Math.Exp(-ratePerHour * step)), carbon);
            // CO2 + H2O = CO3-2 + 2 H+ in components, so the alkalinity stays.
            totals = totals.With(Component.Carbonate, carbon - gone).With(Component.Hydrogen, totals[Component.Hydrogen] - 2 * gone);
            outcome = EquilibriumSolver.Solve(totals, closed);
        }

        return outcome;
    }
}
