namespace Rootwater.Chemistry.Species;

/// <summary>What is fixed about each component: its master species, charge and composition.</summary>
public static class Components
{
    private static readonly Entry[] s_entries =
    [
        new("H+", 1, 1, 0),
        new("Na+", 1, 0, 0),
        new("K+", 1, 0, 0),
        new("Ca+2", 2, 0, 0),
        new("Mg+2", 2, 0, 0),
        new("NH4+", 1, 4, 0),
        new("NO3-", -1, 0, 3),
        new("Cl-", -1, 0, 0),
        new("SO4-2", -2, 0, 4),
        new("PO4-3", -3, 0, 4),
        new("CO3-2", -2, 0, 3),
        new("H3BO3", 0, 3, 3),
        new("H4SiO4", 0, 4, 4),
        new("MoO4-2", -2, 0, 4),
        new("Citrate-3", -3, 5, 7),
        new("Acetate-", -1, 3, 2),
        new("Fe+2", 2, 0, 0),
        new("Fe+3", 3, 0, 0),
        new("Mn+2", 2, 0, 0),
        new("Zn+2", 2, 0, 0),
        new("Cu+2", 2, 0, 0),
        new("Edta-4", -4, 12, 8),
        new("Fe(Dtpa)-2", -2, 18, 10),
        new("Fe(Hedta)", 0, 15, 7),
        new("Fe(Eddha)-", -1, 16, 6),
        new("Urea", 0, 4, 1),
    ];

    private static readonly Dictionary<string, Component> s_byMaster =
        s_entries.Select((entry, index) => (entry.Master, (Component)index)).ToDictionary(pair => pair.Master, pair => pair.Item2);

    /// <summary>Every component.</summary>
    public static IReadOnlyList<Component> All { get; } = Enum.GetValues<Component>();

    /// <summary>The name of the component's master species, as "SO4-2".</summary>
    public static string MasterSpecies(this Component component) => s_entries[(int)component].Master;

    /// <summary>Charge number of the master species.</summary>
    public static int Charge(this Component component) => s_entries[(int)component].Charge;

    /// <summary>Net charge of the amounts, in their own unit: zero for anything that can be poured.</summary>
    public static double NetCharge(this ComponentAmounts amounts)
    {
        var charge = 0.0;
        foreach (var component in All)
        {
            charge += amounts[component] * component.Charge();
        }

        return charge;
    }

    internal static int Hydrogens(this Component component) => s_entries[(int)component].Hydrogens;

    internal static int Oxygens(this Component component) => s_entries[(int)component].Oxygens;

    internal static bool TryFromMaster(string species, out Component component) => s_byMaster.TryGetValue(species, out component);

    private sealed record Entry(string Master, int Charge, int Hydrogens, int Oxygens);
}
