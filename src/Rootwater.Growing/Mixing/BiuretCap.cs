namespace Rootwater.Growing.Mixing;

/// <summary>
/// Keeps declared biuret below its limit by capping doses. Biuret is no ion and takes no part in the chemistry; products that declare it share the limit
/// evenly, so that no mix of them breaks it.
/// </summary>
internal static class BiuretCap
{
    public static IReadOnlyList<Column> On(IReadOnlyList<Column> columns, double litres, HardLimits limits)
    {
        var declaring = columns.Count(Declares);
        return declaring == 0 ? columns : [.. columns.Select(column => Declares(column) ? column with { MostSteps = Math.Min(column.MostSteps, Most(column, limits.BiuretMgPerLitre * litres / declaring)) } : column)];
    }

    private static bool Declares(Column column) => column.Product?.BiuretPercent > 0;

    // At the upper edge of label and tool.
    private static double Most(Column column, double milligrams)
    {
        var perUnit = column.GramsPerUnit * column.Product!.BiuretPercent!.Value * 10 * (1 + ErrorSpread.Interval * column.RelativeUncertainty);
        return Math.Max(0, Math.Floor((milligrams / perUnit - ErrorSpread.Interval * column.MeasuringError) / column.Step));
    }
}
