using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Cupboard;

/// <summary>Up to which pH chelators hold their metals (data/growing/chelate-ranges.csv).</summary>
public static class ChelateRanges
{
    private static readonly Lazy<IReadOnlyDictionary<Chelator, double>> s_highestPH = new(() =>
        EmbeddedTable.Read("chelate-ranges.csv").ToDictionary(row => Enum.Parse<Chelator>(row["chelator"], ignoreCase: true), row => row.Number("highest_ph")));

    /// <summary>The highest pH; null for no chelator or one that is not named.</summary>
    public static double? HighestPH(Chelator chelator) => s_highestPH.Value.TryGetValue(chelator, out var pH) ? pH : null;

    /// <summary>The lowest of those limits among the salts; null where none is a chelate.</summary>
    internal static double? HighestPH(IEnumerable<Salt> salts) => salts.Select(salt => HighestPH(LabelEquations.ChelatorOf(salt))).Min();
}
