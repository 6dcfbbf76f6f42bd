using System.Text.RegularExpressions;

namespace Rootwater.Growing.Waters;

/// <summary>What <see cref="WaterReportText"/> read.</summary>
/// <param name="Report">Null when nothing was read.</param>
/// <param name="Problems">What could not be read, and what was assumed.</param>
public sealed record WaterTextReading(WaterReport? Report, IReadOnlyList<InputProblem> Problems)
{
    /// <summary>True when there is a report and no error.</summary>
    public bool IsUsable => Report is not null && Problems.All(problem => problem.Severity != Severity.Error);
}

/// <summary>Reads a water report from text: a supplier's table pasted, or "EC 412 µS/cm, GH 9, KH 6, pH 7.6".</summary>
/// <remarks>Name, then number, then unit, one after the other or in lines. GH and KH without a unit are German degrees, as their drops count; ions without a unit are mg/L; both
/// are said. "&lt; 0.5" is read as half of it. Limits of drinking-water law in further columns are not read.</remarks>
public static partial class WaterReportText
{
    /// <summary>Reads the text.</summary>
    /// <param name="text">Up to 20,000 characters.</param>
    /// <param name="name">What the grower calls the water.</param>
    /// <param name="origin">Where it comes from.</param>
    public static WaterTextReading Parse(string text, string name, WaterOrigin origin = WaterOrigin.Ground)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > 20_000)
        {
            return new WaterTextReading(null, [InputProblem.Error("text", $"{text.Length} characters", "That is longer than a water report. Paste only its values, up to 20,000 characters.")]);
        }

        var plain = PastedText.Plain(text);
        var folded = PastedText.Fold(plain);
        // Folding drops accents, which may shorten a text written with combining ones; then it is read as folded throughout.
        plain = folded.Length == plain.Length ? plain : folded;
        var readings = new List<WaterReading>();
        var problems = new List<InputProblem>();
        var ecAt20 = false;
        foreach (Match match in Line().Matches(folded))
        {
            if (!WaterWords.TryQuantity(match.Groups["word"].Value, out var quantity))
            {
                continue;
            }

            var unitText = plain.Substring(match.Groups["unit"].Index, match.Groups["unit"].Length).Trim();
            if (match.Groups["form"].Success || match.Groups["word"].Value.EndsWith("-n", StringComparison.Ordinal) || match.Groups["word"].Value.EndsWith("-p", StringComparison.Ordinal))
            {
                unitText = unitText.Length == 0 || unitText == "mg/L" || unitText == "mg/l" ? "mg/l as N" : unitText;
            }

            if (unitText.Length == 0 && quantity is not (WaterQuantity.PH or WaterQuantity.Temperature))
            {
                if (quantity == WaterQuantity.Conductivity)
                {
                    problems.Add(InputProblem.Error("EC unit", plain.Substring(match.Index, match.Length).Trim(), "An EC needs its unit: µS/cm, mS/cm, or meter ppm with its scale (0.5, 0.64 or 0.7)."));
                    continue;
                }

                unitText = quantity is WaterQuantity.Hardness or WaterQuantity.Alkalinity ? "°dH" : "mg/l";
                problems.Add(InputProblem.Note(WaterFacts.Name(quantity), plain.Substring(match.Index, match.Length).Trim(), $"No unit is given; read as {(unitText == "mg/l" ? "mg/L" : "German degrees, as drops count")}."));
            }

            if (!WaterWords.TryUnit(unitText, quantity, out var unit, out var problem))
            {
                problems.Add(problem!);
                continue;
            }

            var value = PastedText.ReadNumber(match.Groups["value"].Value).Value;
            if (match.Groups["less"].Success)
            {
                problems.Add(InputProblem.Note(WaterFacts.Name(quantity), plain.Substring(match.Index, match.Length).Trim(), "Below what the laboratory can see; half of it is taken."));
                value /= 2;
            }

            ecAt20 |= quantity == WaterQuantity.Conductivity && match.Groups["at20"].Success;
            if (quantity == WaterQuantity.Conductivity && unit is WaterUnit.MeterPpm500 or WaterUnit.MeterPpm640 or WaterUnit.MeterPpm700)
            {
                problems.Add(InputProblem.Note("EC", plain.Substring(match.Index, match.Length).Trim(), $"That is {WaterUnits.MicrosiemensPerCm(value, unit):0} µS/cm."));
            }

            if (readings.All(reading => reading.Quantity != quantity || reading.Unit != unit || reading.Value != value))
            {
                readings.Add(new WaterReading(quantity, value, unit));
            }
        }

        if (readings.Count == 0)
        {
            problems.Add(InputProblem.Error("text", null, "No reading was found in it. Expected something like \"EC 412 µS/cm, GH 9 °dH, KH 6 °dH, pH 7.6\"."));
            return new WaterTextReading(null, problems);
        }

        return new WaterTextReading(new WaterReport { Name = name, Readings = readings, Origin = origin, EcReferenceCelsius = ecAt20 ? 20 : 25 }, problems);
    }

    // Matched on the text in lower case without accents. Between name and number: symbols in brackets, dots, colons, "as", a temperature the EC is stated for.
    [GeneratedRegex(
        @"(?<![\p{L}\d])(?<word>total alkalinity|carbonate hardness|acid capacity|saurekapazitat bis ph 4,3|saurekapazitat|karbonatharte|carbonatharte|alkalinity|alcalinite|total hardness|general hardness|gesamtharte|wasserharte|hardness|harte|durete totale|durete|electrical conductivity|elektrische leitfahigkeit|conductivity|leitfahigkeit|conductivite|water temperature|wassertemperatur|temperature|temperatur|temp|ph-wert|ph-value|ph value|ks4\.3|ks 4\.3|hydrogen carbonate|hydrogencarbonat|hydrogenkarbonat|hydrogenocarbonates|bicarbonates?|hco3-?|calcium|kalzium|magnesium|sodium|natrium|potassium|kalium|ammonium|ammonia|nitrates?|nitrat|chlorides?|chlorid|chlorures?|sulfates?|sulphate|sulfat|phosphate?|silica|silicate|silikat|kieselsaure|silice|boron|bore?|iron|eisen|fer|manganese|mangan|zinc|zink|copper|kupfer|cuivre|no3-n|nh4-n|po4-p|no3|nh4|po4|sio2|so4|ec|tds|ph|gh|kh|th|tac|alk|ca|mg|na|k|cl|b|fe|mn|zn|cu)(?:2\+|\+\+|\+|--|-|2-)?(?![\p{L}])"
        + @"(?<form> ?\(? ?(?:as|als|-) ?[np]\b\)?)?(?:[ .:=|*]|\(?(?<at20>20) ?°c\)?|\([^)\n]{0,24}\)|\[[^\]\n]{0,12}\]|\b(?:bei|at|a|is|as|als|ph|of|in|value|wert)\b|25 ?°c|4[.,]3(?= *\)?[: ]))*"
        + @"(?<less><)? ?(?<value>\d+(?:[.,]\d+)?) ?"
        + @"(?<unit>mg ?/ ?l(?: ?(?:\(?as |als )?(?:caco3|n|p|s|si)\b\)?)?|ppm(?: ?\(?0[.,](?:5|64|7)\b\)?| ?[567][04]0\b| ?(?:as )?caco3)?|µg ?/ ?l|ug ?/ ?l|ppb|mmol ?/ ?l|meq ?/ ?l|mval ?/ ?l|[µu]s ?/ ?cm|ms ?/ ?cm|ds ?/ ?m|ms ?/ ?m\b|°? ?d[hgk]h?\b|°f[h]?\b|fh\b|°e\b|°?clark|gpg|grains?(?: ?(?:/|per) ?(?:us )?gal(?:lon)?)?|°c\b|°f\b|°)?(?: (?:bei|at) (?<at20>20) ?°c)?",
        RegexOptions.CultureInvariant)]
    private static partial Regex Line();
}
