namespace Rootwater.Growing.Climate;

/// <summary>A kind of light and what a lux meter makes of it.</summary>
/// <param name="Name">"sun", "white LED".</param>
/// <param name="LuxPerMicromole">Lux for each µmol m⁻² s⁻¹ of photosynthetically active photons.</param>
/// <param name="Source">Who measured it.</param>
public sealed record Lamp(string Name, double LuxPerMicromole, string Source)
{
    /// <summary>The lamps with a published factor, the sun first.</summary>
    public static IReadOnlyList<Lamp> All { get; } =
        [.. EmbeddedTable.Read("lamp-factors.csv").Select(row => new Lamp(row["lamp"], row.Number("lux_per_micromole"), row["source"]))];

    public static Lamp Sun => All[0];

    /// <summary>The lamp of that name; null for none, and for red and blue LEDs, whose light a lux meter does not see.</summary>
    public static Lamp? Named(string? name) => All.FirstOrDefault(lamp => string.Equals(lamp.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>PPFD, µmol m⁻² s⁻¹, from lux.</summary>
    public double Ppfd(double lux) => lux / LuxPerMicromole;
}
