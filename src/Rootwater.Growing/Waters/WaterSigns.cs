namespace Rootwater.Growing.Waters;

/// <summary>What a water tells of itself: softened, salty, metals from the roof, cold.</summary>
public static class WaterSigns
{
    /// <summary>Below this a pour chills the roots (common practice, no source).</summary>
    public const double LowestPouringCelsius = 15;

    private static readonly Lazy<IReadOnlyList<EmbeddedTable.Row>> s_ceilings = new(() => EmbeddedTable.Read("water-ceilings.csv"));

    /// <summary>Reads the signs of a completed water.</summary>
    internal static IEnumerable<InputProblem> Of(WaterGuess water, double? celsius)
    {
        var hardnessMeq = 2 * (water[WaterQuantity.Calcium] + water[WaterQuantity.Magnesium]);
        if (water.AlkalinityMeqPerLitre > hardnessMeq + 0.3)
        {
            yield return InputProblem.Warning("alkalinity", $"{WaterFacts.Say(water.AlkalinityMeqPerLitre)} meq/L",
                $"There is more alkalinity (KH) than hardness (GH, {WaterFacts.Say(hardnessMeq)} meq/L): sodium stands in for calcium, as in softened water. Take it from before the softener, or blend with rain.");
        }

        foreach (var row in s_ceilings.Value)
        {
            var ion = WaterIon.Find(Enum.Parse<WaterQuantity>(row["quantity"]))!;
            var mgPerLitre = water[ion.Quantity] * ion.IonGramsPerMole;
            if (mgPerLitre >= row.Number("high_mg_per_l"))
            {
                yield return InputProblem.Warning(WaterFacts.Name(ion.Quantity), $"{mgPerLitre:0.##} mg/L", $"Too much {WaterFacts.Name(ion.Quantity)}: {row["why"]}. Blend it with rain or purified water to below {row["high_mg_per_l"]} mg/L.");
            }
            else if (mgPerLitre >= row.Number("warn_mg_per_l"))
            {
                yield return InputProblem.Note(WaterFacts.Name(ion.Quantity), $"{mgPerLitre:0.##} mg/L", $"Much {WaterFacts.Name(ion.Quantity)}: {row["why"]}.");
            }
        }

        if (celsius < LowestPouringCelsius)
        {
            yield return InputProblem.Warning("temperature", $"{celsius:0.#} °C", $"Water below {LowestPouringCelsius:0} °C is a cold shock to roots. Let it stand in the room before pouring.");
        }
    }
}
