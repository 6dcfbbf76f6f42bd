namespace Rootwater.Growing.Labels;

/// <summary>Something on a label that an amount may belong to, or an amount.</summary>
internal abstract record LabelItem(TextSpan Span, int Line);

/// <summary>An amount; one that is no share of the product still separates what stands on its two sides.</summary>
internal sealed record AmountItem(QuantityToken Quantity) : LabelItem(Quantity.Span, Quantity.Line);

/// <summary>Words that together name one nutrient ("Total nitrogen (N)"), or qualify the one before ("chelated by EDTA").</summary>
internal sealed record NutrientItem(TextSpan Span, int Line, string? Element, DeclaredForm? Form, int Sureness, bool Total, bool Soluble, Chelator Chelator) : LabelItem(Span, Line)
{
    /// <summary>Qualifies the nutrient before it and names none itself.</summary>
    public bool IsQualifier => Element is null && (Soluble || Chelator != Chelator.None);
}

/// <summary>Gathers neighbouring words into names of nutrients.</summary>
internal static class LabelPhrases
{
    private static readonly HashSet<string> s_glue = ["as", "of", "from", "in", "form", "als", "aus", "sous", "forme", "de", "d", "dans", "l", "eau", "water", "wasser", "by", "mit", "par", "with", "available", "combined", "elemental", "neutral", "cold", "the", "davon", "which", "dont", "wovon", "is", "sind"];

    /// <summary>Amounts and names in reading order.</summary>
    public static IReadOnlyList<LabelItem> Gather(IReadOnlyList<LabelToken> tokens)
    {
        var items = new List<LabelItem>();
        var phrase = new Phrase();
        foreach (var token in tokens)
        {
            switch (token)
            {
                case QuantityToken quantity:
                    phrase.EndInto(items);
                    items.Add(new AmountItem(quantity));
                    break;
                case WordToken word when NutrientWords.Meaning(word.Text) is { } meaning:
                    if (!phrase.Takes(meaning, word.Line))
                    {
                        phrase.EndInto(items);
                    }

                    phrase.Add(meaning, word);
                    break;
                case WordToken word when !s_glue.Contains(PastedText.Fold(word.Text)):
                    phrase.EndInto(items);
                    break;
                case MarkToken { Mark: '(' or '[' }:
                    phrase.OpensParenthesis(token.Line);
                    break;
                case MarkToken { Mark: ')' or ']' } when phrase.ClosesParenthesis():
                    break;
                case MarkToken { Mark: ',' or ';' or '|' or '+' or ')' or ']' }:
                    phrase.EndInto(items);
                    break;
            }
        }

        phrase.EndInto(items);
        return items;
    }

    private sealed class Phrase
    {
        private int _start = -1;
        private int _end;
        private int _lastLine;
        private int _parenthesisLine = -1;
        private int _open;
        private WordMeaning _all = new();

        public bool Takes(WordMeaning next, int line)
        {
            if (_start < 0)
            {
                return true;
            }

            // Over a line's end only a symbol in parentheses, or the noun after its qualifier, still belongs to the words before.
            if (line != _lastLine && _parenthesisLine != line && !IsOnlyQualifier(_all) && !(_all.Sureness == 2 && next is { Element: "N", Sureness: 1 } && _all.Element == "N"))
            {
                return false;
            }

            if (next.Element is not null && _all.Element is not null)
            {
                return next.Element == _all.Element && (next.Form == _all.Form || next.Sureness != _all.Sureness);
            }

            return true;
        }

        public void OpensParenthesis(int line)
        {
            _parenthesisLine = line;
            _open += _start >= 0 ? 1 : 0;
        }

        /// <summary>True when the closing one was opened inside the phrase; one opened before it ends the phrase.</summary>
        public bool ClosesParenthesis() => _open > 0 && _open-- > 0;

        public void Add(WordMeaning meaning, WordToken word)
        {
            if (_start < 0)
            {
                _start = word.Span.Start;
            }

            _end = word.Span.End;
            _lastLine = word.Line;
            var surer = meaning.Sureness > _all.Sureness ? meaning : _all;
            _all = new WordMeaning(_all.Element ?? meaning.Element, surer.Form, surer.Sureness)
            {
                Total = _all.Total || meaning.Total,
                Soluble = _all.Soluble || meaning.Soluble,
                Oxide = _all.Oxide || meaning.Oxide,
                Chelator = meaning.Chelator is Chelator.None || (meaning.Chelator == Chelator.Unnamed && _all.Chelator != Chelator.None) ? _all.Chelator : meaning.Chelator,
            };
        }

        public void EndInto(List<LabelItem> items)
        {
            if (_start >= 0 && (_all.Element is not null || _all.Soluble || _all.Chelator != Chelator.None))
            {
                var (form, sureness) = _all is { Oxide: true, Sureness: < 3 } && OxideOf(_all.Element) is { } oxide ? (oxide, 2) : (_all.Form, _all.Sureness);
                items.Add(new NutrientItem(TextSpan.Between(_start, _end), _lastLine, _all.Element, form, sureness, _all.Total, _all.Soluble, _all.Chelator));
            }

            _start = -1;
            _open = 0;
            _all = new WordMeaning();
            _parenthesisLine = -1;
        }

        private static bool IsOnlyQualifier(WordMeaning meaning) => meaning.Element is null;

        private static DeclaredForm? OxideOf(string? element) => element switch
        {
            "P" => DeclaredForm.PhosphorusPentoxide,
            "K" => DeclaredForm.PotassiumOxide,
            "Ca" => DeclaredForm.CalciumOxide,
            "Mg" => DeclaredForm.MagnesiumOxide,
            "S" => DeclaredForm.SulfurTrioxide,
            "Na" => DeclaredForm.SodiumOxide,
            "Si" => DeclaredForm.SiliconDioxide,
            _ => null,
        };
    }
}
