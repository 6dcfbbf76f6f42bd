using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>How a solve ended. <see cref="Solution"/> is null when it did not converge: there is never a silent number.</summary>
public sealed record SolveOutcome
{
    /// <summary>What was found, or null.</summary>
    public required Solution? Solution { get; init; }

    /// <summary>Whether all balances closed.</summary>
    public bool Converged => Solution is not null;

    /// <summary>Newton steps taken.</summary>
    public required int Iterations { get; init; }

    /// <summary>Largest relative error of a mass balance.</summary>
    public required double MassBalanceError { get; init; }

    /// <summary>|Σ z m| / Σ |z| m.</summary>
    public required double ChargeBalanceError { get; init; }

    /// <summary>Why it failed, in words; null when it converged.</summary>
    public string? Why { get; init; }

    /// <summary>The solution, or an exception that says why there is none.</summary>
    /// <exception cref="InvalidOperationException">The solve did not converge.</exception>
    public Solution Required() => Solution ?? throw new InvalidOperationException(Why);
}

/// <summary>Solves totals to species. Thread-safe.</summary>
public static class EquilibriumSolver
{
    /// <summary>Solves totals, mol per kg of water, under the conditions.</summary>
    /// <exception cref="ArgumentException">An amount is negative (hydrogen aside) or absurd, or the temperature is outside 0 to 50 °C.</exception>
    public static SolveOutcome Solve(ComponentAmounts molPerKgWater, SolveConditions? conditions = null, SolveOptions? options = null) =>
        throw new NotSupportedException("The solver lands next.");
}
