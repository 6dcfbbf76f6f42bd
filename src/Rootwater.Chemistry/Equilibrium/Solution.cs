using Rootwater.Chemistry.Saturation;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>A solved solution: what was found. Immutable.</summary>
public sealed class Solution
{
    /// <summary>The conditions it was solved under.</summary>
    public SolveConditions Conditions { get; } = SolveConditions.Default;

    /// <summary>The totals it was solved for, mol per kg of water. In open air, carbonate is what the balance gave.</summary>
    public ComponentAmounts TotalsMolPerKgWater => throw new NotSupportedException("The solver lands next.");

    /// <summary>Minus log10 of the activity of H+.</summary>
    public double PH => throw new NotSupportedException("The solver lands next.");

    /// <summary>Of the free species after ion pairing, mol per kg of water.</summary>
    public double IonicStrengthMolPerKgWater => throw new NotSupportedException("The solver lands next.");

    /// <summary>Activity of water.</summary>
    public double WaterActivity => throw new NotSupportedException("The solver lands next.");

    /// <summary>Alkalinity, meq per kg of water; zero level H2CO3, H2PO4-, NH4+, H3BO3, SO4-2.</summary>
    public double AlkalinityMeqPerKgWater => throw new NotSupportedException("The solver lands next.");

    /// <summary>Dissolved inorganic carbon, mmol per kg of water.</summary>
    public double DissolvedInorganicCarbonMmolPerKgWater => throw new NotSupportedException("The solver lands next.");

    /// <summary>Total hydrogen in the sense of <see cref="Component.Hydrogen"/>, mol per kg of water; at a fixed pH this is the answer.</summary>
    public double HydrogenMolPerKgWater => throw new NotSupportedException("The solver lands next.");

    /// <summary>EC at the solution's own temperature, µS/cm.</summary>
    public double ConductivityMicrosiemensPerCm => throw new NotSupportedException("The solver lands next.");

    /// <summary>EC of the same totals solved again at 25 °C, µS/cm.</summary>
    public double ConductivityAt25MicrosiemensPerCm() => throw new NotSupportedException("The solver lands next.");

    /// <summary>Litres of solution that hold one kg of water.</summary>
    public double LitresPerKgWater => throw new NotSupportedException("The solver lands next.");

    /// <summary>log10(ion activity product / solubility product); null where an ingredient is absent.</summary>
    public double? SaturationIndex(Mineral mineral) => throw new NotSupportedException("The solver lands next.");

    /// <summary>Molality of a species by name ("CaHPO4", "HCO3-", "Fe(Edta)-"), mol per kg of water; zero where absent.</summary>
    public double MolalityOf(string species) => throw new NotSupportedException("The solver lands next.");

    /// <summary>
    /// Average number of protons one mole of the component carries here, counted from its master species
    /// (phosphate near 2 at pH 5, carbonate near 1.7, ammonium slightly below 0). With these the proton condition is linear in the
    /// totals near this state: hydrogen = Σ total × protons + <see cref="FreeProtonsMolPerKgWater"/>.
    /// </summary>
    public double ProtonsPerMole(Component component) => throw new NotSupportedException("The solver lands next.");

    /// <summary>H+ less OH-, mol per kg of water.</summary>
    public double FreeProtonsMolPerKgWater => throw new NotSupportedException("The solver lands next.");
}
