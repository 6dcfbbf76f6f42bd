using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Formulas;

/// <summary>What stands in a formula: all atoms, the groups recognised in it, and the words (chelators) among them.</summary>
internal sealed class FormulaContents
{
    /// <summary>All atoms, those of groups included.</summary>
    public Dictionary<string, double> Atoms { get; } = [];

    /// <summary>Groups whose component is certain from how they are written.</summary>
    public Dictionary<Component, double> Groups { get; } = [];

    /// <summary>Chelators that are kept only as their iron chelate.</summary>
    public Dictionary<Component, double> IronChelators { get; } = [];

    /// <summary>Whether a word stood in it, so that unsaid protons are added.</summary>
    public bool HasWords { get; set; }

    public void AddAtoms(string element, double count) => Atoms[element] = Atoms.GetValueOrDefault(element) + count;

    public void Add(FormulaContents other, double times)
    {
        Merge(Atoms, other.Atoms, times);
        Merge(Groups, other.Groups, times);
        Merge(IronChelators, other.IronChelators, times);
        HasWords |= other.HasWords;
    }

    private static void Merge<T>(Dictionary<T, double> into, Dictionary<T, double> from, double times)
        where T : notnull
    {
        foreach (var (key, count) in from)
        {
            into[key] = into.GetValueOrDefault(key) + times * count;
        }
    }
}
