namespace Rootwater.Growing.Cupboard;

/// <summary>How a salt, acid or base is handled (data/growing/salts.csv): what it is for, what can hurt, how much dissolves. What is in it stands in <c>Labels.Salt</c>.</summary>
/// <param name="Formula">The key, as in the table.</param>
/// <param name="Kind">What it is for.</param>
/// <param name="Hazards">Of the pure substance.</param>
/// <param name="SolubilityGramsPerLitre">Grams as written that dissolve in a litre of pure water at 20 °C; null where unknown or without limit.</param>
/// <param name="SolubilitySource">Where that is from.</param>
public sealed record SaltFacts(string Formula, ProductKind Kind, Hazards Hazards, double? SolubilityGramsPerLitre, string SolubilitySource)
{
    private static readonly Lazy<IReadOnlyDictionary<string, SaltFacts>> s_all = new(() => EmbeddedTable.Read("salts.csv").Select(row => new SaltFacts(
        row["formula"], Enum.Parse<ProductKind>(row["kind"]), Enum.Parse<Hazards>(row["hazards"].Replace('|', ',')), row.NumberOrNull("solubility_g_per_l_20c"), row["solubility_source"]))
        .ToDictionary(facts => facts.Formula));

    public static IEnumerable<SaltFacts> All => s_all.Value.Values;

    /// <summary>The facts of a salt; null for one that is not in the table.</summary>
    public static SaltFacts? Find(string formula) => Labels.SaltTable.Find(formula) is { } salt ? s_all.Value[salt.Formula] : null;
}
