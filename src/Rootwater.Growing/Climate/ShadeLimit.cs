namespace Rootwater.Growing.Climate;

/// <summary>The light above which leaves of a genus are likely to burn, from data/growing/shade-limits.csv. Growers' figures: weak.</summary>
/// <param name="Genus">"Paphiopedilum".</param>
/// <param name="Ppfd">µmol m⁻² s⁻¹, held for an hour of the day in all.</param>
/// <param name="Source">Who says so.</param>
public sealed record ShadeLimit(string Genus, double Ppfd, string Source)
{
    private const double HourMinutes = 60;

    public static IReadOnlyList<ShadeLimit> All { get; } = [.. EmbeddedTable.Read("shade-limits.csv").Select(row => new ShadeLimit(row["genus"], row.Number("ppfd_one_hour"), row["source"]))];

    /// <summary>Of a genus; null where nobody gives one.</summary>
    public static ShadeLimit? For(string genus) => All.FirstOrDefault(limit => string.Equals(limit.Genus, genus, StringComparison.OrdinalIgnoreCase));

    /// <summary>The light that was reached or exceeded for an hour of the day in all; null where light was read for less than an hour.</summary>
    /// <param name="samples">Minute of the day (rising) and PPFD, µmol m⁻² s⁻¹. A gap over <see cref="DailyLight.LongestGapMinutes"/> counts as not read.</param>
    public static double? HeldForAnHour(IReadOnlyList<(int Minute, double Ppfd)> samples)
    {
        var pieces = new List<(double Ppfd, double Minutes)>();
        for (var i = 1; i < samples.Count; i++)
        {
            var minutes = samples[i].Minute - samples[i - 1].Minute;
            if (minutes is > 0 and <= DailyLight.LongestGapMinutes)
            {
                pieces.Add(((samples[i].Ppfd + samples[i - 1].Ppfd) / 2, minutes));
            }
        }

        var sum = 0.0;
        foreach (var (ppfd, minutes) in pieces.OrderByDescending(piece => piece.Ppfd))
        {
            sum += minutes;
            if (sum >= HourMinutes)
            {
                return ppfd;
            }
        }

        return null;
    }
}
