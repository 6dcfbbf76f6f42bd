using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>The dose that brings a solution to a pH.</summary>
/// <param name="Amount">In the unit of the reagent's vector (kg of product per kg of water, or mol per kg of water); null when it cannot be reached.</param>
/// <param name="Solution">The solution with the dose in it.</param>
/// <param name="Why">Why it cannot be reached, in words.</param>
public sealed record DoseOutcome(double? Amount, Solution? Solution, string? Why);

/// <summary>How much of an acid or base brings a solution to a pH.</summary>
public static class DoseForPH
{
    /// <summary>Finds the dose.</summary>
    /// <param name="molPerKgWater">The solution.</param>
    /// <param name="molPerUnitDose">What one unit of dose adds, mol per kg of water.</param>
    /// <param name="targetPH">0 to 14.</param>
    /// <param name="mostDose">The most that may be tried, in dose units.</param>
    /// <param name="conditions">Temperature and air.</param>
    public static DoseOutcome Find(ComponentAmounts molPerKgWater, ComponentAmounts molPerUnitDose, double targetPH, double mostDose, SolveConditions? conditions = null) =>
        throw new NotSupportedException("The solver lands next.");
}

/// <summary>How the pH creeps as carbon dioxide leaves (or enters) an open can.</summary>
public static class CarbonDioxideExchange
{
    /// <summary>The solution after some hours of first-order exchange: dCO2/dt = -rate (CO2 - CO2 at balance), alkalinity kept.</summary>
    /// <param name="molPerKgWater">The closed totals at the start.</param>
    /// <param name="ratePerHour">Exchange rate of dissolved CO2, per hour.</param>
    /// <param name="hours">How long.</param>
    /// <param name="log10AirPCO2">log10 of the pressure outside, atm.</param>
    /// <param name="conditions">Temperature.</param>
    public static SolveOutcome After(ComponentAmounts molPerKgWater, double ratePerHour, double hours, double log10AirPCO2 = -3.4, SolveConditions? conditions = null) =>
        throw new NotSupportedException("The solver lands next.");
}
