using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Formulas;

/// <summary>The groups a formula reader knows as they are usually written, longest first.</summary>
internal static class FormulaGroups
{
    /// <param name="Written">As it stands in a formula.</param>
    /// <param name="Atoms">The atoms it stands for.</param>
    /// <param name="Component">What it brings.</param>
    /// <param name="IsWord">A word may be written in any case and leaves its protons unsaid.</param>
    /// <param name="NeedsIron">Kept only as its iron(III) chelate.</param>
    internal sealed record Group(string Written, (string Element, int Count)[] Atoms, Component Component, bool IsWord = false, bool NeedsIron = false);

    private static readonly (string, int)[] s_citrate = [("C", 6), ("H", 5), ("O", 7)];
    private static readonly (string, int)[] s_acetate = [("C", 2), ("H", 3), ("O", 2)];
    private static readonly (string, int)[] s_edta = [("C", 10), ("H", 12), ("N", 2), ("O", 8)];
    private static readonly (string, int)[] s_urea = [("C", 1), ("H", 4), ("N", 2), ("O", 1)];

    public static IReadOnlyList<Group> All { get; } =
    [
        .. new Group[]
        {
            new("EDDHA", [("C", 18), ("H", 16), ("N", 2), ("O", 6)], Component.IronEddha, IsWord: true, NeedsIron: true),
            new("HEDTA", [("C", 10), ("H", 15), ("N", 2), ("O", 7)], Component.IronHedta, IsWord: true, NeedsIron: true),
            new("DTPA", [("C", 14), ("H", 18), ("N", 3), ("O", 10)], Component.IronDtpa, IsWord: true, NeedsIron: true),
            new("EDTA", s_edta, Component.Edta, IsWord: true),
            new("Citrate", s_citrate, Component.Citrate, IsWord: true),
            new("Acetate", s_acetate, Component.Acetate, IsWord: true),
            new("Urea", s_urea, Component.Urea, IsWord: true),
            new("C10H12N2O8", s_edta, Component.Edta),
            new("C10H14N2O8", [("C", 10), ("H", 14), ("N", 2), ("O", 8)], Component.Edta),
            new("C10H16N2O8", [("C", 10), ("H", 16), ("N", 2), ("O", 8)], Component.Edta),
            new("C6H5O7", s_citrate, Component.Citrate),
            new("C6H8O7", [("C", 6), ("H", 8), ("O", 7)], Component.Citrate),
            new("CH3COO", s_acetate, Component.Acetate),
            new("CH3CO2", s_acetate, Component.Acetate),
            new("C2H3O2", s_acetate, Component.Acetate),
            new("C2H4O2", [("C", 2), ("H", 4), ("O", 2)], Component.Acetate),
            new("CO(NH2)2", s_urea, Component.Urea),
            new("(NH2)2CO", s_urea, Component.Urea),
            new("CH4N2O", s_urea, Component.Urea),
            new("NH4", [("N", 1), ("H", 4)], Component.Ammonium),
            new("NH3", [("N", 1), ("H", 3)], Component.Ammonium),
            new("NO3", [("N", 1), ("O", 3)], Component.Nitrate),
        }.OrderByDescending(group => group.Written.Length),
    ];
}
