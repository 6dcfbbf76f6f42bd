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
    private const double MostMolPerKgWater = 20;

    [ThreadStatic]
    private static EquilibriumWorkspace? t_workspace;

    /// <summary>Solves totals, mol per kg of water, under the conditions.</summary>
    /// <exception cref="ArgumentException">An amount is negative (hydrogen aside) or above 20 mol/kg, the temperature is outside 0 to 50 °C, or the pH outside 0 to 14.</exception>
    public static SolveOutcome Solve(ComponentAmounts molPerKgWater, SolveConditions? conditions = null, SolveOptions? options = null)
    {
        conditions ??= SolveConditions.Default;
        options ??= SolveOptions.Default;
        Check(molPerKgWater, conditions);
        var workspace = t_workspace ??= new EquilibriumWorkspace();
        var status = workspace.Solve(molPerKgWater.AsSpan(), conditions, options);
        if (!status.Converged)
        {
            return new SolveOutcome
            {
                Solution = null,
                Iterations = status.Iterations,
                MassBalanceError = status.MassBalanceError,
                ChargeBalanceError = double.NaN,
                Why = FormattableString.Invariant($"No balance was found in {status.Iterations} steps: the largest mass balance error is still {status.MassBalanceError:0.##E+0}."),
            };
        }

        double net = 0, gross = 0;
        var molalities = workspace.Molalities;
        for (var s = 0; s < molalities.Length; s++)
        {
            var charge = workspace.At.Network.Species[s].Charge * molalities[s];
            net += charge;
            gross += Math.Abs(charge);
        }

        return new SolveOutcome
        {
            Solution = new Solution(workspace, conditions, molPerKgWater),
            Iterations = status.Iterations,
            MassBalanceError = status.MassBalanceError,
            ChargeBalanceError = gross == 0 ? 0 : Math.Abs(net) / gross,
        };
    }

    private static void Check(ComponentAmounts molPerKgWater, SolveConditions conditions)
    {
        foreach (var component in Components.All)
        {
            var amount = molPerKgWater[component];
            if (amount < 0 && component != Component.Hydrogen)
            {
                throw new ArgumentException(FormattableString.Invariant($"{component} is {amount} mol/kg: an amount cannot be negative."), nameof(molPerKgWater));
            }

            if (Math.Abs(amount) > MostMolPerKgWater)
            {
                throw new ArgumentException(FormattableString.Invariant($"{component} is {amount} mol/kg: at most {MostMolPerKgWater} mol/kg makes sense."), nameof(molPerKgWater));
            }
        }

        if (conditions.Temperature.Celsius is not (>= 0 and <= 50))
        {
            throw new ArgumentException($"The temperature is {conditions.Temperature}: 0 to 50 °C is what the constants hold for.", nameof(conditions));
        }

        if (conditions.FixedPH is { } ph and not (>= 0 and <= 14))
        {
            throw new ArgumentException(FormattableString.Invariant($"The pH is {ph}: 0 to 14 is accepted."), nameof(conditions));
        }
    }
}
