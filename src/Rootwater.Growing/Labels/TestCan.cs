using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Labels;

/// <summary>A little of one product in a known water, and what the pens read in it. The first step of taking a new product on.</summary>
/// <remarks>EC cannot see urea, phosphite or traces: a can that reads as expected says nothing of them.</remarks>
public sealed record TestCan
{
    // Pure water at 25 °C, kg/L.
    private const double KgOfWaterPerLitre = 0.99705;

    public required double GramsPerLitre { get; init; }

    /// <summary>The water, mol per kg; pure when nothing is said.</summary>
    public ComponentAmounts WaterMolPerKgWater { get; init; } = ComponentAmounts.Zero;

    public Temperature Temperature { get; init; } = Temperature.Reference;

    /// <summary>pH read; null when it was not.</summary>
    public double? PH { get; init; }

    /// <summary>One standard deviation of that reading: a grower's pen, in water that has some buffer.</summary>
    public double PHSigma { get; init; } = 0.15;

    /// <summary>EC read, compensated to 25 °C, µS/cm; null when it was not.</summary>
    public double? EcMicrosiemensPerCm { get; init; }

    /// <summary>One standard deviation of that reading, relative: pen, scale and volume together.</summary>
    public double EcRelativeSigma { get; init; } = 0.03;

    /// <summary>What the pens should read if the product holds this.</summary>
    /// <param name="molPerKg">Moles of each component in a kilogram of product.</param>
    internal (double PH, double EcMicrosiemensPerCm) Expected(ComponentAmounts molPerKg)
    {
        var solution = EquilibriumSolver.Solve(
            WaterMolPerKgWater.PlusScaled(molPerKg, GramsPerLitre / 1000 / KgOfWaterPerLitre), new SolveConditions { Temperature = Temperature }).Required();
        return (solution.PH, solution.ConductivityAt25MicrosiemensPerCm());
    }
}
