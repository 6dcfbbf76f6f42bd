namespace Rootwater.Growing.Pots;

/// <summary>A parameter that is known badly: how far off it may be, and how to set it. The bands vary these; a calibration fits them.</summary>
/// <param name="Name">In words.</param>
/// <param name="Low">The parameters with it at its low edge.</param>
/// <param name="High">The parameters with it at its high edge.</param>
/// <param name="Spread">Its spread in words, about one standard deviation.</param>
public sealed record Uncertain(string Name, Func<PotParameters, PotParameters> Low, Func<PotParameters, PotParameters> High, string Spread)
{
    /// <summary>The four that matter most between feeds. Spreads are from memory: what one pot may differ from the next.</summary>
    public static IReadOnlyList<Uncertain> All { get; } =
    [
        new("rate at which the medium gives base", p => p with { ExchangeFactor = p.ExchangeFactor / 2 }, p => p with { ExchangeFactor = p.ExchangeFactor * 2 }, "half to double"),
        new("water lost to the air", p => p with { WaterLossFactor = p.WaterLossFactor / 1.4 }, p => p with { WaterLossFactor = p.WaterLossFactor * 1.4 }, "÷1.4 to ×1.4"),
        new("uptake of nutrients", p => p with { UptakeFactor = p.UptakeFactor / 1.6 }, p => p with { UptakeFactor = p.UptakeFactor * 1.6 }, "÷1.6 to ×1.6"),
        new("carbon dioxide in the pot", p => p with { Log10PCO2Shift = p.Log10PCO2Shift - 0.3 }, p => p with { Log10PCO2Shift = p.Log10PCO2Shift + 0.3 }, "half to double"),
    ];
}
