using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Desks;

/// <summary>Growths as they are kept in hand for years: what was read comes in lists with room to grow, a list for every leaf that has no mark too, half as large again as what stands in them.</summary>
internal static class TightGrowth
{
    public static IReadOnlyList<Growth> Of(IEnumerable<Growth> growths) => growths.Select(growth => growth with
    {
        Leaves = growth.Leaves.Select(leaf => leaf with { Measures = leaf.Measures.ToArray(), Marks = leaf.Marks.ToArray() }).ToArray(),
        Spikes = growth.Spikes.Select(spike => spike with { Measures = spike.Measures.ToArray() }).ToArray(),
    }).ToArray();
}
