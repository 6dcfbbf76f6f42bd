namespace Rootwater.Growing.Mixing;

/// <summary>
/// Keeps declared biuret below its limit by capping doses. Biuret is no ion and takes no part in the chemistry; what declares it (products, the rest of an older
/// can) shares the limit evenly, so that no mix of them breaks it.
/// </summary>
internal static class BiuretCap
{
    public static IReadOnlyList<Column> On(IReadOnlyList<Column> columns, double litres, HardLimits limits)
    {
        var declaring = columns.Count(IsCapped);
        if (declaring == 0)
        {
            return columns;
        }

        // What stands in a can that is being repaired cannot be dosed less: it leaves the rest that much less room.
        var present = columns.Where(column => column.MustBeAllUsed).Sum(column => column.MostSteps * column.Step * Upper(column));
        var each = Math.Max(0, limits.BiuretMgPerLitre * litres - present) / declaring;
        return [.. columns.Select(column => IsCapped(column) ? column with { MostSteps = Math.Min(column.MostSteps, Most(column, each)) } : column)];
    }

    /// <summary>Declared biuret of a can, mg/L.</summary>
    public static double MgPerLitre(IReadOnlyList<Column> columns, CanContents contents) =>
        columns.Select((column, j) => contents.Steps[j] * column.Step * column.BiuretMgPerUnit).Sum() / contents.Litres;

    private static bool IsCapped(Column column) => column.BiuretMgPerUnit > 0 && !column.MustBeAllUsed;

    // At the upper edge of label and tool.
    private static double Upper(Column column) => column.BiuretMgPerUnit * (1 + ErrorSpread.Interval * column.RelativeUncertainty);

    private static double Most(Column column, double milligrams) =>
        Math.Max(0, Math.Floor((milligrams / Upper(column) - ErrorSpread.Interval * column.MeasuringError) / column.Step));
}
