using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing;

/// <summary>What a grower would not do without need: an acid and a base in one can, and an acid that microbes eat where another would do.</summary>
internal static class AdjusterCost
{
    public static bool IsAcid(Column column) => column.Product?.Kind == ProductKind.Acid;

    public static bool IsBase(Column column) => column.Product?.Kind == ProductKind.Base;

    /// <summary>What using it costs because the can then ages: it brings citrate or acetate.</summary>
    public static double Ageing(Column column) =>
        column.MolPerStep[Component.Citrate] > 0 || column.MolPerStep[Component.Acetate] > 0 ? PlanWeights.AgeingAcid : 0;

    /// <summary>What acid and base together cost at these doses.</summary>
    public static double Together(IReadOnlyList<Column> columns, IReadOnlyList<double> steps)
    {
        var (acid, lye) = (false, false);
        for (var j = 0; j < columns.Count; j++)
        {
            acid |= steps[j] > 0 && IsAcid(columns[j]);
            lye |= steps[j] > 0 && IsBase(columns[j]);
        }

        return acid && lye ? PlanWeights.AcidAndBase : 0;
    }
}
