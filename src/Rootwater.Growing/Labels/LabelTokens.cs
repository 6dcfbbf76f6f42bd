using System.Text.RegularExpressions;

namespace Rootwater.Growing.Labels;

/// <summary>What a number on a label counts.</summary>
internal enum QuantityUnit
{
    Bare,
    Percent,
    PercentByVolume,

    /// <summary>Kilograms, litres, °C and the like: no share of the product.</summary>
    NotAShare,
}

/// <summary>A piece of a label's text.</summary>
internal abstract record LabelToken(TextSpan Span, int Line);

/// <summary>A number with its unit; <see cref="Percent"/> is already in g per 100 g or g per 100 mL.</summary>
internal sealed record QuantityToken(TextSpan Span, int Line, double Percent, double RoundingPercent, QuantityUnit Unit) : LabelToken(Span, Line)
{
    public bool IsShare => Unit != QuantityUnit.NotAShare;
}

/// <summary>A word or formula.</summary>
internal sealed record WordToken(TextSpan Span, int Line, string Text) : LabelToken(Span, Line);

/// <summary>One other character that is no space.</summary>
internal sealed record MarkToken(TextSpan Span, int Line, char Mark) : LabelToken(Span, Line);

/// <summary>Cuts a label's text into numbers with units, words, formulas and marks.</summary>
internal static partial class LabelTokens
{
    private const string Number = @"\d+(?:[.,]\d+)?";

    public static IReadOnlyList<LabelToken> Cut(string plain, bool[] taken)
    {
        var tokens = new List<LabelToken>();
        var line = 0;
        for (var at = 0; at < plain.Length;)
        {
            if (plain[at] == '\n')
            {
                line++;
                at++;
            }
            else if (taken[at] || plain[at] == ' ')
            {
                at++;
            }
            else if (TryFormula(plain, at, line) is { } formula)
            {
                tokens.Add(formula);
                at = formula.Span.End;
            }
            else if (TryQuantity(plain, at, line) is { } quantity)
            {
                tokens.Add(quantity);
                at = quantity.Span.End;
            }
            else if (WordPattern().Match(plain, at) is { Success: true } word && word.Index == at)
            {
                tokens.Add(new WordToken(new(at, word.Length), line, word.Value));
                at += word.Length;
            }
            else
            {
                tokens.Add(new MarkToken(new(at, 1), line, plain[at]));
                at++;
            }
        }

        return tokens;
    }

    private static WordToken? TryFormula(string plain, int at, int line)
    {
        var match = FormulaPattern().Match(plain, at);
        if (!match.Success || match.Index != at || (at > 0 && char.IsLetterOrDigit(plain[at - 1])))
        {
            return null;
        }

        // "P205" and "K20" are how a camera reads P2O5 and K2O.
        var text = match.Value.Replace(" ", string.Empty, StringComparison.Ordinal).ToUpperInvariant().Replace('0', 'O');
        return new WordToken(new(at, match.Length), line, text);
    }

    private static QuantityToken? TryQuantity(string plain, int at, int line)
    {
        var match = QuantityPattern().Match(plain, at);
        if (!match.Success || match.Index != at)
        {
            return null;
        }

        var (value, half) = PastedText.ReadNumber(match.Groups["n"].Value);
        var unit = match.Groups["u"].Value.Replace(" ", string.Empty, StringComparison.Ordinal).ToLowerInvariant();
        var (factor, kind) = unit switch
        {
            "" => (1, QuantityUnit.Bare),
            _ when unit.Contains('%') || unit.StartsWith("per", StringComparison.Ordinal) || unit.StartsWith("pro", StringComparison.Ordinal) || unit.StartsWith("pour", StringComparison.Ordinal) =>
                (1, unit.Contains("/v", StringComparison.Ordinal) || unit.Contains("vol", StringComparison.Ordinal) ? QuantityUnit.PercentByVolume : QuantityUnit.Percent),
            "g/100ml" => (1, QuantityUnit.PercentByVolume),
            "g/100g" => (1, QuantityUnit.Percent),
            "g/l" => (0.1, QuantityUnit.PercentByVolume),
            "mg/l" => (1e-4, QuantityUnit.PercentByVolume),
            "g/kg" => (0.1, QuantityUnit.Percent),
            "mg/kg" or "ppm" => (1e-4, QuantityUnit.Percent),
            _ => (1.0, QuantityUnit.NotAShare),
        };
        return new QuantityToken(new(at, match.Length), line, value * factor, half * factor, kind);
    }

    [GeneratedRegex(@"(?:P ?2 ?[O0] ?5|K ?2 ?[O0]|Na2[O0]|S[O0] ?3|S[O0] ?4|Si[O0] ?2|Ca[O0]|Mg[O0]|N ?- ?NO3|NO3 ?- ?N|NO3|N ?- ?NH4|NH4 ?- ?N|NH4|N ?- ?NH2|NH2 ?- ?N|NH2)(?![\p{L}\d])", RegexOptions.IgnoreCase)]
    private static partial Regex FormulaPattern();

    [GeneratedRegex(@"\p{L}+")]
    private static partial Regex WordPattern();

    // Where a percent sign follows, a stray space beside the point and a letter l, I or O for a digit are forgiven, as cameras make them.
    [GeneratedRegex(@"(?:(?<n>[\dlIO]*\d[\dlIO]*(?: ?[.,] ?[\dlIO]+)?)(?= ?%)|(?<n>" + Number + @"))(?: ?(?<u>%(?: ?\(?[wmp] ?/ ?[wmpv]\b\)?| ?vol\b)?|(?:Gew|Masse|Mass)\.? ?-? ?%|percent\b|per cent\b|Prozent\b|pour ?cent\b|g ?/ ?100 ?ml\b|g ?/ ?100 ?g\b|g ?/ ?l\b|g ?/ ?kg\b|mg ?/ ?kg\b|mg ?/ ?l\b|ppm\b|kg ?/ ?l\b|[mµ]S ?/ ?cm\b|dS ?/ ?m\b|(?:kg|mg|ml|g|l|L|oz|lbs?|gal|litres?|liters?|Liter|gallons?|tsp|teaspoons?|drops?|days?|weeks?|years?|months?|cm|mm|m)\b|°|€|\$|£))?", RegexOptions.IgnoreCase)]
    private static partial Regex QuantityPattern();
}
