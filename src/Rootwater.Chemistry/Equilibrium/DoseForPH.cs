using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>The dose that brings a solution to a pH.</summary>
/// <param name="Amount">In the unit of the reagent's vector (kg of product per kg of water, or mol per kg of water); null when it cannot be reached.</param>
/// <param name="Solution">The solution with the dose in it.</param>
/// <param name="Why">Why it cannot be reached, in words.</param>
public sealed record DoseOutcome(double? Amount, Solution? Solution, string? Why);

/// <summary>How much of an acid or base brings a solution to a pH.</summary>
/// <remarks>pH is monotonic in the dose of an acid or a base, so the dose is bracketed and closed in on by regula falsi with bisection (Illinois form).</remarks>
public static class DoseForPH
{
    private const double PHTolerance = 1e-7;
    private const int MostSolves = 100;

    /// <summary>Finds the dose.</summary>
    /// <param name="molPerKgWater">The solution.</param>
    /// <param name="molPerUnitDose">What one unit of dose adds, mol per kg of water.</param>
    /// <param name="targetPH">0 to 14.</param>
    /// <param name="mostDose">The most that may be tried, in dose units; above 0.</param>
    /// <param name="conditions">Temperature and air.</param>
    /// <exception cref="ArgumentOutOfRangeException">The pH or the most dose is outside its range.</exception>
    public static DoseOutcome Find(ComponentAmounts molPerKgWater, ComponentAmounts molPerUnitDose, double targetPH, double mostDose, SolveConditions? conditions = null)
    {
        if (targetPH is not (>= 0 and <= 14))
        {
            throw new ArgumentOutOfRangeException(nameof(targetPH), targetPH, "A pH from 0 to 14 is accepted.");
        }

        if (!(mostDose > 0) || !double.IsFinite(mostDose))
        {
            throw new ArgumentOutOfRangeException(nameof(mostDose), mostDose, "The most dose must be a finite number above 0.");
        }

        conditions ??= SolveConditions.Default;
        var start = EquilibriumSolver.Solve(molPerKgWater, conditions);
        if (start.Solution is null)
        {
            return new DoseOutcome(null, null, start.Why);
        }

        var low = 0.0;
        var atLow = start.Solution.PH - targetPH;
        if (Math.Abs(atLow) <= PHTolerance)
        {
            return new DoseOutcome(0, start.Solution, null);
        }

        var end = EquilibriumSolver.Solve(molPerKgWater.PlusScaled(molPerUnitDose, mostDose), conditions);
        if (end.Solution is null)
        {
            return new DoseOutcome(null, null, end.Why);
        }

        var high = mostDose;
        var atHigh = end.Solution.PH - targetPH;
        if (Math.Sign(atHigh) == Math.Sign(atLow))
        {
            return new DoseOutcome(null, null, FormattableString.Invariant(
                $"The pH starts at {start.Solution.PH:0.00} and is {end.Solution.PH:0.00} at the most dose: {targetPH:0.00} is not between them."));
        }

        for (var i = 0; i < MostSolves; i++)
        {
            var falsi = (low * atHigh - high * atLow) / (atHigh - atLow);
            var middle = i % 3 == 2 || !(falsi > low && falsi < high) ? 0.5 * (low + high) : falsi;
            var outcome = EquilibriumSolver.Solve(molPerKgWater.PlusScaled(molPerUnitDose, middle), conditions);
            if (outcome.Solution is null)
            {
                return new DoseOutcome(null, null, outcome.Why);
            }

            var at = outcome.Solution.PH - targetPH;
            if (Math.Abs(at) <= PHTolerance || high - low <= 1e-15 * mostDose)
            {
                return new DoseOutcome(middle, outcome.Solution, null);
            }

            if (Math.Sign(at) == Math.Sign(atLow))
            {
                (low, atLow) = (middle, at);
            }
            else
            {
                (high, atHigh) = (middle, at);
            }
        }

        return new DoseOutcome(null, null, "The dose could not be closed in on.");
    }
}
