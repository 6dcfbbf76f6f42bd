using System.Text;

namespace Rootwater.Growing.Mixing;

/// <summary>A want that ships with Rootwater, for a kind (a genus, or a section where the genus is too wide) in a state.</summary>
/// <param name="Kind">"Phalaenopsis", "Dendrobium nobile", or "any".</param>
/// <param name="State">As in <c>Bench.PlantState</c>, in lower camel case: "leafGrowth".</param>
/// <param name="Want">The bands, with their source.</param>
public sealed record DefaultWant(string Kind, string State, Want Want);

/// <summary>The wants of data/growing/wants.csv: a start for growers who have none of their own, never a rule.</summary>
public static class DefaultWants
{
    /// <summary>The kind that stands for all without a row of their own.</summary>
    public const string AnyKind = "any";

    private static readonly Lazy<IReadOnlyList<DefaultWant>> s_all = new(Read);

    public static IReadOnlyList<DefaultWant> All => s_all.Value;

    /// <summary>The want of a kind in a state; of <see cref="AnyKind"/> where the kind has no row; null where the state is unknown.</summary>
    /// <param name="kind">A genus or a fuller name: the longest row whose words all begin it wins, so that "Dendrobium nobile 'Alba'" finds "Dendrobium nobile".</param>
    /// <param name="state">"leafGrowth", "LeafGrowth" or "leaf growth".</param>
    public static Want? Find(string kind, string state)
    {
        var wanted = Plain(state);
        var rows = All.Where(row => Plain(row.State) == wanted).ToList();
        return (rows.Where(row => Plain(kind).StartsWith(Plain(row.Kind), StringComparison.Ordinal)).MaxBy(row => row.Kind.Length)
            ?? rows.FirstOrDefault(row => Plain(row.Kind.Split(',')[0]) == Plain(kind.Trim().Split(' ')[0]))
            ?? rows.FirstOrDefault(row => row.Kind == AnyKind))?.Want;
    }

    private static string Plain(string text)
    {
        var plain = new StringBuilder(text.Length);
        foreach (var c in text)
        {
            if (char.IsLetter(c))
            {
                plain.Append(char.ToLowerInvariant(c));
            }
        }

        return plain.ToString();
    }

    private static List<DefaultWant> Read()
    {
        var wants = new List<DefaultWant>();
        foreach (var row in EmbeddedTable.Read("wants.csv"))
        {
            var (kind, state) = (row["kind"], row["state"]);
            wants.Add(new DefaultWant(kind, state, new Want
            {
                Name = $"{kind}, {Spaced(state)}",
                FeedMgPerLitre = new Dictionary<Nutrient, Band>
                {
                    [Nutrient.Phosphorus] = Band("p"),
                    [Nutrient.Potassium] = Band("k"),
                    [Nutrient.Calcium] = Band("ca"),
                    [Nutrient.Magnesium] = Band("mg"),
                },
                TotalNitrogenMgPerLitre = Band("n"),
                EcMicrosiemensPerCm = Band("ec"),
                RootPH = Band("root_ph"),
                Limits = new HardLimits { AmmoniumShareOfNitrogen = row.Number("ammonium_share_most") },
                Source = row["source"],
            }));

            Band Band(string column) => new(row.Number($"{column}_low"), row.Number($"{column}_ideal"), row.Number($"{column}_high"));
        }

        return wants;
    }

    private static string Spaced(string state)
    {
        var spaced = new StringBuilder();
        foreach (var c in state)
        {
            _ = char.IsUpper(c) ? spaced.Append(' ').Append(char.ToLowerInvariant(c)) : spaced.Append(c);
        }

        return spaced.ToString();
    }
}
