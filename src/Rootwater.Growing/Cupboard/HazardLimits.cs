namespace Rootwater.Growing.Cupboard;

/// <summary>How dangerous a dissolved acid or base is at its strength (data/growing/hazard-limits.csv).</summary>
internal static class HazardLimits
{
    private static readonly Lazy<IReadOnlyList<EmbeddedTable.Row>> s_rows = new(() => EmbeddedTable.Read("hazard-limits.csv"));

    /// <summary>Hazards at a strength; for what is not in the table, the hazards of the pure substance.</summary>
    public static Hazards Of(string formula, double percentByWeight)
    {
        var pure = SaltFacts.Find(formula)?.Hazards ?? Hazards.None;
        var row = s_rows.Value.FirstOrDefault(row => row["formula"] == formula);
        if (row is null)
        {
            return pure;
        }

        var isBase = pure.HasFlag(Hazards.CorrosiveBase) || formula.EndsWith("OH", StringComparison.Ordinal);
        var hazards = Hazards.None;
        if (percentByWeight >= row.NumberOrNull("corrosive_from_percent"))
        {
            hazards |= isBase ? Hazards.CorrosiveBase : Hazards.CorrosiveAcid;
        }
        else if (percentByWeight >= row.NumberOrNull("irritant_from_percent"))
        {
            hazards |= Hazards.Irritant;
        }

        return percentByWeight >= row.NumberOrNull("oxidiser_from_percent") ? hazards | Hazards.Oxidiser : hazards;
    }
}
