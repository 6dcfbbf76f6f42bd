namespace Rootwater.Growing.Bench.Names;

/// <summary>Genera and their usual abbreviations, from data/growing/orchid-genera.csv.</summary>
public static class OrchidGenera
{
    private static readonly Lazy<IReadOnlyList<OrchidGenus>> s_all = new(() =>
        [.. EmbeddedTable.Read("orchid-genera.csv").Select(row => new OrchidGenus(row["abbreviation"], row["genus"], row["notho"] == "yes", row["source"]))]);

    public static IReadOnlyList<OrchidGenus> All => s_all.Value;

    public static OrchidGenus? ByAbbreviation(string abbreviation) => All.FirstOrDefault(genus => genus.Abbreviation.Equals(abbreviation, StringComparison.OrdinalIgnoreCase));

    public static OrchidGenus? ByName(string name) => All.FirstOrDefault(genus => genus.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
}

/// <summary>A genus on the list.</summary>
/// <param name="Abbreviation">With its full stop.</param>
/// <param name="Name">Written out.</param>
/// <param name="IsNothogenus">A hybrid genus: takes the sign.</param>
/// <param name="Source">Where the pair was read, or "from memory".</param>
public sealed record OrchidGenus(string Abbreviation, string Name, bool IsNothogenus, string Source);
