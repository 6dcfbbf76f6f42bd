using System.Collections.Frozen;
using Rootwater.Chemistry.Data;

namespace Rootwater.Chemistry.Formulas;

/// <summary>IUPAC standard atomic weights (2021, abridged), g/mol, from <c>data/chemistry/atomic-weights.2021.csv</c>.</summary>
public static class AtomicWeights
{
    private static readonly FrozenDictionary<string, double> s_gramsPerMole =
        Table.Load("atomic-weights.2021.csv").Rows.ToFrozenDictionary(row => row.Text("symbol"), row => row.Number("grams_per_mole"));

    /// <summary>Grams per mole of an element.</summary>
    /// <exception cref="ArgumentException">The symbol is not in the table.</exception>
    public static double GramsPerMole(string symbol) => s_gramsPerMole.TryGetValue(symbol, out var weight)
        ? weight
        : throw new ArgumentException($"'{symbol}' is not an element of the table.", nameof(symbol));

    internal static bool Knows(string symbol) => s_gramsPerMole.ContainsKey(symbol);
}
