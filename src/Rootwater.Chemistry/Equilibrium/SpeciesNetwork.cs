using System.Collections.Concurrent;
using Rootwater.Chemistry.Activity;
using Rootwater.Chemistry.Conductivity;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>
/// What can exist for one set of components, laid out for the inner solver: unknowns are the logarithms of the master molalities, hydrogen
/// first. In open air carbonate is no unknown: CO3-2 is written as CO2(g) + H2O - 2 H+, so its species count in the hydrogen balance with
/// two protons fewer.
/// </summary>
/// <remarks>Immutable and shared; one per set of components and air.</remarks>
internal sealed class SpeciesNetwork
{
    private static readonly ConcurrentDictionary<(uint Present, bool Open), SpeciesNetwork> s_cache = new();

    private SpeciesNetwork(uint present, bool open)
    {
        Open = open;
        var unknowns = new List<Component> { Component.Hydrogen };
        unknowns.AddRange(Components.All.Where(component =>
            component != Component.Hydrogen && Has(present, component) && !(open && component == Component.Carbonate)));
        Unknowns = [.. unknowns];
        UnknownOf = new int[ComponentAmounts.Count];
        Array.Fill(UnknownOf, -1);
        for (var j = 0; j < Unknowns.Length; j++)
        {
            UnknownOf[(int)Unknowns[j]] = j;
        }

        var allowed = present | 1u | (open ? 1u << (int)Component.Carbonate : 0);
        // Masters first and in the order of the unknowns, so that species j is master j.
        var species = SpeciesDatabase.Species
            .Where(s => s.Stoichiometry.Select((nu, c) => nu == 0 || Has(allowed, (Component)c)).All(ok => ok))
            .OrderBy(s => s.IsMaster && UnknownOf[MasterIndex(s)] >= 0 ? UnknownOf[MasterIndex(s)] : int.MaxValue)
            .ToArray();
        Species = species;
        var k = Unknowns.Length;
        Carbons = [.. species.Select(s => s.Stoichiometry[(int)Component.Carbonate])];
        Waters = [.. species.Select(s => s.Waters + (open ? s.Stoichiometry[(int)Component.Carbonate] : 0))];
        Nu = new double[species.Length][];
        for (var s = 0; s < species.Length; s++)
        {
            var row = new double[k];
            for (var c = 0; c < ComponentAmounts.Count; c++)
            {
                if (UnknownOf[c] >= 0)
                {
                    row[UnknownOf[c]] = species[s].Stoichiometry[c];
                }
            }

            if (open)
            {
                row[0] -= 2 * Carbons[s];
            }

            Nu[s] = row;
        }

        ChargeSquared = [.. species.Select(s => (double)(s.Charge * s.Charge))];
        BuildActivityClasses(out var classes, out var classOf);
        Classes = classes;
        ClassOf = classOf;
        BuildProducts();
        BuildNormalEquations();
        BuildAcids();
    }

    public bool Open { get; }

    /// <summary>The components solved for, hydrogen at 0.</summary>
    public Component[] Unknowns { get; }

    /// <summary>Index of a component among the unknowns, or -1.</summary>
    public int[] UnknownOf { get; }

    public AqueousSpecies[] Species { get; }

    /// <summary>Stoichiometry of each species in the unknowns.</summary>
    public double[][] Nu { get; }

    public double[] Carbons { get; }

    public double[] Waters { get; }

    public double[] ChargeSquared { get; }

    public ActivityModel[] Classes { get; }

    public int[] ClassOf { get; }

    /// <summary>For species s past the masters, factors FactorStart[s]..FactorStart[s+1] are indices of molalities to multiply (k stands for 1/H).</summary>
    public int[] FactorStart { get; private set; } = [];

    public int[] Factors { get; private set; } = [];

    /// <summary>For species s, entries of its gradient: unknown and ν.</summary>
    public int[] GradientStart { get; private set; } = [];

    public int[] GradientIndex { get; private set; } = [];

    public double[] GradientNu { get; private set; } = [];

    /// <summary>Activity class of the unknown of each gradient entry.</summary>
    public int[] GradientClass { get; private set; } = [];

    /// <summary>|ν| of hydrogen in each species: the size against which the proton balance is judged.</summary>
    public double[] ProtonSize { get; private set; } = [];

    /// <summary>For species s past the masters, entries of the lower triangle it adds to, and ν ν.</summary>
    public int[] HessianStart { get; private set; } = [];

    public int[] HessianIndex { get; private set; } = [];

    public double[] HessianNuNu { get; private set; } = [];

    /// <summary>Species made of one unknown and protons only: the acids and bases that set a first guess of the pH.</summary>
    public Acid[] Acids { get; private set; } = [];

    /// <summary>Species made of protons (and, in open air, carbon dioxide) alone.</summary>
    public ProtonForm[] ProtonOnly { get; private set; } = [];

    /// <summary>The species metal + EDTA-4, and the metal of each.</summary>
    public int[] ChelateSpecies { get; private set; } = [];

    public int[] ChelateMetals { get; private set; } = [];

    public static SpeciesNetwork For(uint present, bool open) =>
        s_cache.GetOrAdd((present | 1u, open), static key => new SpeciesNetwork(key.Present, key.Open));

    public static bool Has(uint present, Component component) => (present >> (int)component & 1) != 0;

    private static int MasterIndex(AqueousSpecies species) => Array.FindIndex(species.Stoichiometry, nu => nu != 0);

    private void BuildActivityClasses(out ActivityModel[] classes, out int[] classOf)
    {
        var distinct = Species.Select(s => s.Activity).Distinct().ToList();
        classes = [.. distinct];
        classOf = [.. Species.Select(s => distinct.IndexOf(s.Activity))];
    }

    private void BuildProducts()
    {
        var k = Unknowns.Length;
        var start = new int[Species.Length + 1];
        var factors = new List<int>();
        for (var s = 0; s < Species.Length; s++)
        {
            start[s] = factors.Count;
            if (s < k)
            {
                continue;
            }

            for (var j = 0; j < k; j++)
            {
                var nu = (int)Nu[s][j];
                if (nu < 0 && j != 0)
                {
                    throw new InvalidOperationException($"The species '{Species[s].Name}' takes a negative amount of {Unknowns[j]}.");
                }

                factors.AddRange(Enumerable.Repeat(nu < 0 ? k : j, Math.Abs(nu)));
            }
        }

        start[Species.Length] = factors.Count;
        FactorStart = start;
        Factors = [.. factors];
    }

    private void BuildNormalEquations()
    {
        var k = Unknowns.Length;
        var gradientStart = new List<int> { 0 };
        var gradientIndex = new List<int>();
        var gradientNu = new List<double>();
        var hessianStart = new List<int> { 0 };
        var hessianIndex = new List<int>();
        var hessianNuNu = new List<double>();
        foreach (var row in Nu)
        {
            for (var i = 0; i < k; i++)
            {
                if (row[i] == 0)
                {
                    continue;
                }

                gradientIndex.Add(i);
                gradientNu.Add(row[i]);
                for (var j = 0; j <= i; j++)
                {
                    if (row[j] != 0)
                    {
                        hessianIndex.Add(i * k + j);
                        hessianNuNu.Add(row[i] * row[j]);
                    }
                }
            }

            gradientStart.Add(gradientIndex.Count);
            hessianStart.Add(hessianIndex.Count);
        }

        GradientStart = [.. gradientStart];
        GradientIndex = [.. gradientIndex];
        GradientNu = [.. gradientNu];
        GradientClass = [.. gradientIndex.Select(j => ClassOf[j])];
        ProtonSize = [.. Nu.Select(row => Math.Abs(row[0]))];
        HessianStart = [.. hessianStart];
        HessianIndex = [.. hessianIndex];
        HessianNuNu = [.. hessianNuNu];
    }

    private void BuildAcids()
    {
        var acids = new List<Acid>();
        for (var j = 1; j < Unknowns.Length; j++)
        {
            var forms = new List<(int Species, int Protons)>();
            for (var s = Unknowns.Length; s < Species.Length; s++)
            {
                if (Nu[s][j] == 1 && Nu[s].Select((nu, i) => i == 0 || i == j || nu == 0).All(only => only))
                {
                    forms.Add((s, (int)Nu[s][0]));
                }
            }

            if (forms.Count > 0)
            {
                acids.Add(new Acid(j, [.. forms.Select(f => f.Species)], [.. forms.Select(f => f.Protons)]));
            }
        }

        Acids = [.. acids];
        ProtonOnly = [.. Enumerable.Range(0, Species.Length)
            .Where(s => s >= Unknowns.Length && Nu[s].Skip(1).All(nu => nu == 0))
            .Select(s => new ProtonForm(s, (int)Nu[s][0]))];
        var edta = UnknownOf[(int)Component.Edta];
        if (edta >= 0)
        {
            ChelateSpecies = [.. Enumerable.Range(Unknowns.Length, Species.Length - Unknowns.Length)
                .Where(s => Nu[s][edta] == 1 && Nu[s][0] == 0 && Nu[s].Count(nu => nu != 0) == 2)];
            ChelateMetals = [.. ChelateSpecies.Select(s => Array.FindIndex(Nu[s], nu => nu != 0) is var j && j != edta
                ? j
                : Array.FindLastIndex(Nu[s], nu => nu != 0))];
        }
    }

    internal sealed record Acid(int Unknown, int[] Forms, int[] Protons);

    internal readonly record struct ProtonForm(int Species, int Protons);
}

/// <summary>A network's constants at one temperature and, in open air, one carbon dioxide pressure.</summary>
internal sealed class NetworkAtTemperature
{
    private const double Ln10 = 2.302585092994046;

    public NetworkAtTemperature(SpeciesNetwork network, Temperature temperature, Air air)
    {
        Network = network;
        Temperature = temperature;
        Air = air;
        var debyeHuckel = DebyeHuckel.At(temperature);
        var padded = (network.Classes.Length + 3) / 4 * 4;
        ClassSlope = new double[padded];
        ClassSize = new double[padded];
        ClassLinear = new double[padded];
        for (var c = 0; c < network.Classes.Length; c++)
        {
            (ClassSlope[c], ClassSize[c], ClassLinear[c]) = debyeHuckel.LnGammaTerms(network.Classes[c]);
        }

        LnK = [.. network.Species.Select(s => s.Constant.Log10At(temperature) * Ln10)];
        if (air.IsOpen)
        {
            // ln a(CO3-2) + 2 ln a(H+) = ln(p K) - ln K(CO2) + ln a(H2O), with K the solubility of the gas and K(CO2) the formation of CO2 from carbonate.
            var gas = SpeciesDatabase.CarbonDioxideGas;
            var lnCarbonate = Ln10 * (air.Log10PCO2Atmospheres + gas.Constant.Log10At(temperature));
            for (var s = 0; s < LnK.Length; s++)
            {
                LnK[s] += network.Carbons[s] * lnCarbonate;
            }

            Log10Carbonate = lnCarbonate / Ln10;
        }

        Ions = new IonTable(
            [.. network.Species.Select(s => s.Charge)],
            [.. network.Species.Select(s => IonicMobilities.LimitingAt(s.Name, temperature))],
            [.. network.Species.Select(s => IonicMobilities.ClosestApproachAngstrom(s.Name))]);
    }

    public SpeciesNetwork Network { get; }

    public Temperature Temperature { get; }

    public Air Air { get; }

    /// <summary>ln γ = slope √I / (1 + size √I) + linear I, for every activity class; padded to whole vectors.</summary>
    public double[] ClassSlope { get; }

    public double[] ClassSize { get; }

    public double[] ClassLinear { get; }

    /// <summary>Natural logarithms of the formation constants, the carbon dioxide pressure included in open air.</summary>
    public double[] LnK { get; }

    /// <summary>What the conductivity needs to know of each species.</summary>
    public IonTable Ions { get; }

    /// <summary>In open air, log10 of a(CO3-2) a(H+)² / a(H2O).</summary>
    public double Log10Carbonate { get; }
}

/// <summary>Charge number, limiting molar conductivity (S cm²/mol) and closest approach (ångström) of each species.</summary>
internal sealed record IonTable(int[] Charges, double[] Limiting, double[] ClosestApproachAngstrom);
