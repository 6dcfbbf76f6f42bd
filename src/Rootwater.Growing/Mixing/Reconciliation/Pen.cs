using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>What a pen reads.</summary>
public enum PenKind
{
    Ec,
    PH,
}

/// <summary>A pen at hand. Tools know the usual error of a kind of pen; this is one particular pen with a log of its own.</summary>
public sealed record Pen
{
    public required Guid Id { get; init; }

    /// <summary>What the grower calls it.</summary>
    public required string Name { get; init; }
    public required PenKind Kind { get; init; }

    /// <summary>An EC pen's own compensation per °C, as a share of the reading at its reference (0.019 or 0.02 are usual; 0 compensates nothing). Of no account for a pH pen.</summary>
    public double CompensationPerCelsius { get; init; } = 0.02;

    /// <summary>The temperature an EC pen refers its readings to, °C: 25, or 20 on some.</summary>
    public double ReferenceCelsius { get; init; } = 25;

    /// <summary>No longer used from then on; its log stays.</summary>
    public DateOnly? RetiredOn { get; init; }
    public string? Note { get; init; }

    /// <summary>What an EC pen without any error shows of a solution, as a factor on its true EC at 25 °C: its fixed compensation is not quite the solution's own.</summary>
    /// <param name="molPerKgWater">What is in the solution.</param>
    /// <param name="celsius">Its temperature.</param>
    /// <param name="compensationPerCelsius">Of the pen.</param>
    /// <param name="referenceCelsius">Of the pen.</param>
    /// <returns>1 where the solution cannot be solved or conducts nothing.</returns>
    public static double ShownShare(ComponentAmounts molPerKgWater, double celsius, double compensationPerCelsius, double referenceCelsius = 25)
    {
        var here = EquilibriumSolver.Solve(molPerKgWater, new SolveConditions { Temperature = Temperature.FromCelsius(celsius) }).Solution;
        var at25 = here?.ConductivityAt25MicrosiemensPerCm() ?? 0;
        return at25 > 1 ? here!.ConductivityMicrosiemensPerCm / (1 + compensationPerCelsius * (celsius - referenceCelsius)) / at25 : 1;
    }
}
