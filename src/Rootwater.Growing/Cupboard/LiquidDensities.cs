namespace Rootwater.Growing.Cupboard;

/// <summary>About how dense an acid or base is at its strength (data/growing/liquid-densities.csv): to suggest a density, and to doubt one that belongs to another acid.</summary>
public static class LiquidDensities
{
    private static readonly Lazy<ILookup<string, (double Percent, double KgPerLitre)>> s_points = new(() =>
        EmbeddedTable.Read("liquid-densities.csv").ToLookup(row => row["formula"], row => (row.Number("percent_by_weight"), row.Number("density_kg_per_l"))));

    /// <summary>kg/L at 20 °C, by straight lines between the table's points; null for a substance or strength outside the table.</summary>
    public static double? KgPerLitre(string formula, double percentByWeight)
    {
        var points = s_points.Value[formula].OrderBy(point => point.Percent).ToList();
        for (var i = 1; i < points.Count; i++)
        {
            if (percentByWeight >= points[i - 1].Percent && percentByWeight <= points[i].Percent)
            {
                var share = (percentByWeight - points[i - 1].Percent) / (points[i].Percent - points[i - 1].Percent);
                return points[i - 1].KgPerLitre + share * (points[i].KgPerLitre - points[i - 1].KgPerLitre);
            }
        }

        return null;
    }
}
