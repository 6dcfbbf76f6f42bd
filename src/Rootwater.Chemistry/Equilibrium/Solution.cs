using System.Collections.Immutable;
using Rootwater.Chemistry.Conductivity;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Saturation;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>A solved solution: what was found. Immutable.</summary>
public sealed class Solution
{
    private const double Ln10 = 2.302585092994046;

    private readonly NetworkAtTemperature _at;
    private readonly double[] _molalities;
    private readonly double[] _lnGamma;
    private readonly double _lnWaterActivity;

    internal Solution(EquilibriumWorkspace workspace, SolveConditions conditions, ComponentAmounts askedMolPerKgWater)
    {
        _at = workspace.At;
        _molalities = workspace.Molalities.ToArray();
        _lnGamma = new double[_molalities.Length];
        for (var s = 0; s < _lnGamma.Length; s++)
        {
            _lnGamma[s] = workspace.LnGammaOf(s);
        }

        _lnWaterActivity = Math.Log(workspace.WaterActivity);
        Conditions = conditions;
        PH = workspace.PH;
        IonicStrengthMolPerKgWater = workspace.IonicStrengthMolPerKgWater;

        var hydrogen = 0.0;
        var carbon = 0.0;
        for (var s = 0; s < _molalities.Length; s++)
        {
            hydrogen += _molalities[s] * Network.Species[s].Stoichiometry[(int)Component.Hydrogen];
            carbon += _molalities[s] * Network.Carbons[s];
        }

        HydrogenMolPerKgWater = hydrogen;
        var totals = askedMolPerKgWater.With(Component.Carbonate, carbon);
        TotalsMolPerKgWater = conditions.Air.IsOpen || conditions.FixedPH is not null ? totals.With(Component.Hydrogen, hydrogen) : askedMolPerKgWater;
    }

    /// <summary>The conditions it was solved under.</summary>
    public SolveConditions Conditions { get; }

    /// <summary>The totals it holds, mol per kg of water. In open air carbonate and hydrogen are what the balance gave, at a fixed pH hydrogen is.</summary>
    public ComponentAmounts TotalsMolPerKgWater { get; }

    /// <summary>Minus log10 of the activity of H+.</summary>
    public double PH { get; }

    /// <summary>Of the free species after ion pairing, mol per kg of water.</summary>
    public double IonicStrengthMolPerKgWater { get; }

    /// <summary>Activity of water.</summary>
    public double WaterActivity => Math.Exp(_lnWaterActivity);

    /// <summary>Total hydrogen in the sense of <see cref="Component.Hydrogen"/>, mol per kg of water; at a fixed pH this is the answer.</summary>
    public double HydrogenMolPerKgWater { get; }

    /// <summary>
    /// Alkalinity, meq per kg of water: the strong acid that would bring every component to its zero level, which is
    /// H2CO3, H2PO4-, NH4+, H3BO3, H4SiO4, SO4-2, MoO4-2, the carboxylic acids as their ions, and metals unhydrolysed.
    /// </summary>
    public double AlkalinityMeqPerKgWater
    {
        get
        {
            var totals = TotalsMolPerKgWater;
            return 1000 * (2 * totals[Component.Carbonate] + 2 * totals[Component.Phosphate] - HydrogenMolPerKgWater);
        }
    }

    /// <summary>Dissolved inorganic carbon, mmol per kg of water.</summary>
    public double DissolvedInorganicCarbonMmolPerKgWater => 1000 * TotalsMolPerKgWater[Component.Carbonate];

    /// <summary>EC at the solution's own temperature, µS/cm.</summary>
    public double ConductivityMicrosiemensPerCm
    {
        get
        {
            var ions = _at.Ions;
            return OnsagerConductivity.MicrosiemensPerCm(
                ions.Charges, ions.Limiting, ions.ClosestApproachAngstrom, _molalities, 1 / LitresPerKgWater, IonicStrengthMolPerKgWater, Conditions.Temperature);
        }
    }

    /// <summary>Litres of solution that hold one kg of water.</summary>
    public double LitresPerKgWater => SolutionVolume.LitresPerKgWater(TotalsMolPerKgWater, Conditions.Temperature);

    /// <summary>H+ less OH-, mol per kg of water.</summary>
    public double FreeProtonsMolPerKgWater => MolalityOf("H+") - MolalityOf("OH-");

    private SpeciesNetwork Network => _at.Network;

    /// <summary>EC of the same totals solved again at 25 °C, µS/cm.</summary>
    /// <exception cref="InvalidOperationException">The solve at 25 °C did not converge.</exception>
    public double ConductivityAt25MicrosiemensPerCm() => Conditions.Temperature == Temperature.Reference
        ? ConductivityMicrosiemensPerCm
        : EquilibriumSolver.Solve(TotalsMolPerKgWater, new SolveConditions { Temperature = Temperature.Reference, Air = Conditions.Air }).Required().ConductivityMicrosiemensPerCm;

    /// <summary>log10(ion activity product / solubility product); null where an ingredient is absent.</summary>
    public double? SaturationIndex(Mineral mineral)
    {
        var phase = SpeciesDatabase.Minerals[mineral];
        var log = phase.Waters * _lnWaterActivity / Ln10 - phase.Constant.Log10At(Conditions.Temperature);
        for (var c = 0; c < ComponentAmounts.Count; c++)
        {
            if (phase.Stoichiometry[c] != 0)
            {
                if (Log10Activity((Component)c) is not { } activity)
                {
                    return null;
                }

                log += phase.Stoichiometry[c] * activity;
            }
        }

        return log;
    }

    /// <summary>Molality of a species by name ("CaHPO4", "HCO3-", "Fe(Edta)-"), mol per kg of water; zero where absent.</summary>
    public double MolalityOf(string species)
    {
        var s = Array.FindIndex(Network.Species, candidate => candidate.Name == species);
        return s < 0 ? 0 : _molalities[s];
    }

    /// <summary>Every species present with its molality, mol per kg of water.</summary>
    public ImmutableArray<(string Species, int Charge, double MolPerKgWater)> Species() =>
        [.. Network.Species.Select((s, index) => (s.Name, s.Charge, _molalities[index]))];

    /// <summary>
    /// Average number of protons one mole of the component carries here, counted from its master species
    /// (phosphate near 2 at pH 5, carbonate near 1.7, ammonium slightly below 0). With these the proton condition is linear in the
    /// totals near this state: hydrogen = Σ total × protons + <see cref="FreeProtonsMolPerKgWater"/>.
    /// </summary>
    /// <remarks>The protons of an ion pair belong to its ligand (of several, the first in the order of <see cref="Component"/> that is an anion), those of a hydroxide to its metal.</remarks>
    public double ProtonsPerMole(Component component)
    {
        var total = TotalsMolPerKgWater[component];
        if (component == Component.Hydrogen || total == 0)
        {
            return 0;
        }

        var protons = 0.0;
        for (var s = 0; s < _molalities.Length; s++)
        {
            var nu = Network.Species[s].Stoichiometry;
            if (nu[0] != 0 && ProtonCarrier(nu) == component)
            {
                protons += nu[0] * _molalities[s];
            }
        }

        return protons / total;
    }

    private static Component ProtonCarrier(double[] nu)
    {
        var metal = Component.Hydrogen;
        for (var c = 1; c < nu.Length; c++)
        {
            if (nu[c] == 0)
            {
                continue;
            }

            if (((Component)c).Charge() <= 0 && nu[0] > 0)
            {
                return (Component)c;
            }

            metal = (Component)c;
        }

        return metal;
    }

    private double? Log10Activity(Component component)
    {
        if (component == Component.Carbonate && Network.Open)
        {
            return _at.Log10Carbonate + 2 * PH + _lnWaterActivity / Ln10;
        }

        var j = Network.UnknownOf[(int)component];
        return j < 0 || _molalities[j] <= 0 ? null : (Math.Log(_molalities[j]) + _lnGamma[j]) / Ln10;
    }
}
