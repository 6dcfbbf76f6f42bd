using Rootwater.Chemistry.Equilibrium;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Web.Pages.Cupboard;

/// <summary>What a gram of a product in a litre of pure water shows at 25 °C, sealed: the quickest check of a new package against its label.</summary>
/// <param name="EcMicrosiemensPerCm">At 25 °C.</param>
/// <param name="PH">Of the sealed solution.</param>
public readonly record struct OneGram(double EcMicrosiemensPerCm, double PH)
{
    /// <summary>Null where the chemistry finds no answer: better no figure than a made-up one.</summary>
    public static OneGram? Of(Product product) =>
        EquilibriumSolver.Solve(product.MolPerKg.Scaled(0.001)).Solution is { } solution ? new OneGram(solution.ConductivityAt25MicrosiemensPerCm(), solution.PH) : null;
}
