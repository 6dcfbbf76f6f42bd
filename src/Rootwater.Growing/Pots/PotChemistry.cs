using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>What the pot asks of the chemistry: pH and EC of totals, carbon in balance with the pot air, and the base at which a medium rests.</summary>
internal sealed class PotChemistry
{
    /// <summary>Charge of one mole of each component in the order of <see cref="Component"/>; the totals of any water add up to none.</summary>
    public static double[] Charges { get; } = [.. Components.All.Select(component => (double)component.Charge())];

    private const double NothingMolPerKgWater = 1e-13;
    private const double MostTraceMolPerKgWater = 0.2e-3;

    private static readonly Component[] s_traces =
    [
        Component.Borate, Component.Molybdate, Component.IronII, Component.IronIII, Component.Manganese, Component.Zinc, Component.Copper, Component.Edta,
        Component.IronDtpa, Component.IronHedta, Component.IronEddha,
    ];

    /// <summary>The components that carry protons, apart from carbonate; what the resting base depends on.</summary>
    private static readonly Component[] s_buffers =
        [Component.Phosphate, Component.Ammonium, Component.Borate, Component.Silicate, Component.Citrate, Component.Acetate];

    private readonly SolveConditions _closed;
    private readonly SolveConditions _open;
    private readonly SolveConditions _resting;

    public PotChemistry(double celsius, double log10PCO2Atmospheres, double restingPH)
    {
        var temperature = Temperature.FromCelsius(celsius);
        _closed = new SolveConditions { Temperature = temperature };
        _open = new SolveConditions { Temperature = temperature, Air = Air.Open(log10PCO2Atmospheres) };
        _resting = _open with { FixedPH = restingPH };
        RestingPH = restingPH;
        FreeCarbonDioxideMolPerKgWater = Math.Pow(10, -1.5 + log10PCO2Atmospheres);
    }

    /// <summary>Protons on a mole of each trace, once a solve has told; a run may lend them to another of the same pot.</summary>
    public double[]? TraceProtons { get; set; }

    /// <summary>Roughly what dissolves at the pot's pressure (Henry's constant 10^-1.5 mol/kg/atm near 25 °C); only a yardstick for "near enough to balance".</summary>
    public double FreeCarbonDioxideMolPerKgWater { get; }

    /// <summary>pH and EC at the pot's temperature of totals as they stand.</summary>
    public Solution Closed(ReadOnlySpan<double> mol, double litres) => Found(EquilibriumSolver.Solve(Reduced(mol, litres), _closed));

    /// <summary>The same once carbon dioxide is in balance with the pot air.</summary>
    public Solution Open(ReadOnlySpan<double> mol, double litres) => Found(EquilibriumSolver.Solve(Reduced(mol, litres), _open));

    /// <summary>The pH the medium rests at.</summary>
    public double RestingPH { get; }

    /// <summary>The same at that pH.</summary>
    public Solution AtRest(ReadOnlySpan<double> mol, double litres) => Found(EquilibriumSolver.Solve(Reduced(mol, litres), _resting));

    /// <summary>
    /// The base without carbon dioxide (2 CO3 - H, mol) at which the medium rests, as a linear function of what carries protons:
    /// base = litres × Constant - Σ protons × mol. Exact where it was made, and close to it while the totals drift.
    /// </summary>
    public static RestingBase RestingBaseOf(Solution solution, ReadOnlySpan<double> mol, double litres)
    {
        var constant = 2 * solution.TotalsMolPerKgWater[Component.Carbonate] - solution.HydrogenMolPerKgWater;
        var protons = new RestingBase();
        for (var i = 0; i < s_buffers.Length; i++)
        {
            var amount = mol[(int)s_buffers[i]];
            protons[i] = amount > 0 ? solution.ProtonsPerMole(s_buffers[i]) : 0;
            constant += protons[i] * amount / litres;
        }

        protons.Constant = constant;
        return protons;
    }

    private static Solution Found(SolveOutcome outcome) => outcome.Solution
        ?? throw new PotInputException("solutions", "a water that came about in this pot", $"totals whose balance can be found ({outcome.Why})");

    /// <summary>Base the water lacks (positive) or has too much of (negative) against the medium's rest, mol.</summary>
    public static double BaseWanted(in RestingBase rest, ReadOnlySpan<double> mol, double litres)
    {
        var wanted = rest.Constant * litres;
        for (var i = 0; i < s_buffers.Length; i++)
        {
            wanted -= rest[i] * mol[(int)s_buffers[i]];
        }

        return wanted - (2 * mol[(int)Component.Carbonate] - mol[(int)Component.Hydrogen]);
    }

    /// <summary>
    /// Totals in mol per kg of water, without boron and chelated traces: below 0.2 mmol/kg, the metals bound to their chelator, they change neither pH nor
    /// EC by what a pen shows, and the solve is four times as fast. The protons they carry are taken from one solve with all of them; their
    /// charge stays, as sodium or chloride.
    /// </summary>
    private ComponentAmounts Reduced(ReadOnlySpan<double> mol, double litres)
    {
        Span<double> totals = stackalloc double[ComponentAmounts.Count];
        for (var i = 0; i < totals.Length; i++)
        {
            var perLitre = mol[i] / litres;

            // What roots and microbes have used up leaves traces down to 1e-300; logarithms of those only trouble the solver.
            totals[i] = Math.Abs(perLitre) < NothingMolPerKgWater ? 0 : perLitre;
        }

        double trace = 0, charge = 0;
        foreach (var component in s_traces)
        {
            trace += totals[(int)component];
            charge += totals[(int)component] * Charges[(int)component];
        }

        var chelated = totals[(int)Component.IronIII] <= totals[(int)Component.Edta] * 1.001
            && totals[(int)Component.Edta] <= 1.001 * (totals[(int)Component.IronII] + totals[(int)Component.IronIII] + totals[(int)Component.Manganese] + totals[(int)Component.Zinc] + totals[(int)Component.Copper]);
        if (trace is > 0 and < MostTraceMolPerKgWater && chelated)
        {
            TraceProtons ??= TraceProtonsIn(totals);
            for (var i = 0; i < s_traces.Length; i++)
            {
                var protons = totals[(int)s_traces[i]] * TraceProtons[i];
                totals[(int)Component.Hydrogen] -= protons;
                charge += protons;
                totals[(int)s_traces[i]] = 0;
            }

            totals[(int)(charge > 0 ? Component.Sodium : Component.Chloride)] += Math.Abs(charge);
        }

        return ComponentAmounts.FromSpan(totals);
    }

    private double[] TraceProtonsIn(ReadOnlySpan<double> totals)
    {
        var solution = Found(EquilibriumSolver.Solve(ComponentAmounts.FromSpan(totals), _closed));
        return [.. s_traces.Select(solution.ProtonsPerMole)];
    }
}

/// <summary>See <see cref="PotChemistry.RestingBaseOf"/>.</summary>
internal struct RestingBase
{
    /// <summary>mol per kg of water.</summary>
    public double Constant;

    private Protons _protons;

    /// <summary>Protons on one mole of the i-th buffer at rest.</summary>
    public double this[int i]
    {
        readonly get => _protons[i];
        set => _protons[i] = value;
    }

    [System.Runtime.CompilerServices.InlineArray(6)]
    private struct Protons
    {
        private double _first;
    }
}
