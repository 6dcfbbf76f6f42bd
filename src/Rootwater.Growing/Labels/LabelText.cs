using System.Text.RegularExpressions;

namespace Rootwater.Growing.Labels;

/// <summary>Reads a label from text: copied from a shop's page, or taken off a photo by a camera's text recognition.</summary>
/// <remarks>
/// English, German and French words, oxide and element, point and comma, name before or after the amount, lines broken anywhere. A
/// grade ("14-4-12") counts N, P2O5 and K2O unless the same text declares P or K as elements with the same numbers. What was assumed
/// is in the problems; nothing is assumed silently.
/// </remarks>
public static partial class LabelText
{
    private const string Number = @"\d+(?:[.,]\d+)?";

    /// <summary>Reads the text.</summary>
    /// <param name="text">The label's text, up to 20,000 characters.</param>
    /// <param name="densityKgPerLitre">The density, where the grower knows it and the label does not say.</param>
    public static LabelReading Parse(string text, double? densityKgPerLitre = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (string.IsNullOrWhiteSpace(text))
        {
            return new LabelReading(null, [InputProblem.Error("text", null, "There is no text. Paste the guaranteed analysis, for example \"N 14 %, P2O5 4 %, K2O 12 %\".")]);
        }

        if (text.Length > 20_000)
        {
            return new LabelReading(null, [InputProblem.Error("text", $"{text.Length} characters", "That is longer than a label. Paste only the label, up to 20,000 characters.")]);
        }

        return new Reader(text, densityKgPerLitre).Read();
    }

    private sealed class Reader(string text, double? densityKgPerLitre)
    {
        private readonly string _plain = PastedText.Plain(text);
        private readonly bool[] _taken = new bool[text.Length];
        private readonly List<Declaration> _declarations = [];
        private readonly List<InputProblem> _problems = [];
        private readonly List<string> _directions = [];
        private double? _density = densityKgPerLitre;
        private IReadOnlyList<string> _derivedFrom = [];
        private StatedReading? _pH;
        private StatedReading? _ec;
        private double? _tolerance;

        public LabelReading Read()
        {
            TakeDerivedFrom();
            TakeDirections();
            TakeStatedReadings();
            TakeDensity();
            TakeTolerance();
            foreach (Match match in SolvingPhrase().Matches(_plain))
            {
                Take(match);
            }

            var grade = TakeGrade();
            var items = LabelPhrases.Gather(LabelTokens.Cut(_plain, _taken));
            var pairs = LabelPairing.Pair(items, _plain);
            var basis = DecideBasis(pairs);
            AddPairs(items, pairs, basis);
            LabelChelators.Name(_declarations, items, pairs, _plain, _problems);
            AddGrade(grade, basis);
            ReportUnread(items, pairs);

            if (_declarations.Count == 0)
            {
                _problems.Add(InputProblem.Error("text", FirstLine(), "No nutrient with an amount was found in it. Expected something like \"N 14 %\" or \"14-4-12\"."));
                return new LabelReading(null, _problems);
            }

            var label = new Label
            {
                Name = FirstLine(),
                Basis = basis,
                DensityKgPerLitre = _density,
                Declarations = [.. _declarations.OrderBy(line => line.ReadFrom?.Start)],
                DerivedFrom = _derivedFrom,
                StatedPH = _pH is { GramsPerLitre: 0 } ? _pH with { GramsPerLitre = basis == LabelBasis.ByVolume || _density is not null ? 1000 * (_density ?? 1) : 10 } : _pH,
                StatedEcMicrosiemensPerCm = _ec,
                RelativeTolerance = _tolerance,
                Directions = _directions.Count == 0 ? null : string.Join('\n', _directions),
                Text = text,
            };
            _problems.AddRange(LabelCheck.Of(label));
            return new LabelReading(label, _problems);
        }

        private void TakeDerivedFrom()
        {
            if (DerivedFromPhrase().Match(_plain) is { Success: true } match)
            {
                _derivedFrom = [.. SaltTable.NamedIn(match.Groups["list"].Value).Select(salt => salt.Formula)];
                Take(match);
            }
        }

        // A line of directions speaks of grams per litre of feed, not of shares of the product; its numbers must not be paired.
        private void TakeDirections()
        {
            foreach (Match line in WholeLine().Matches(_plain))
            {
                if (line.Length > 0 && DosingVerb().Match(line.Value) is { Success: true } verb && (verb.Index <= 3 || !line.Value.Contains('%')))
                {
                    _directions.Add(text.Substring(line.Index, line.Length).Trim());
                    Take(line);
                }
            }
        }

        private void TakeStatedReadings()
        {
            if (PHPhrase().Match(_plain) is { Success: true } pH && !_taken[pH.Index])
            {
                var value = PastedText.ReadNumber(pH.Groups["v"].Value).Value;
                if (value <= 14)
                {
                    _pH = new StatedReading(value, Strength(pH));
                    Take(pH);
                }
            }

            if (EcPhrase().Match(_plain) is { Success: true } ec && !_taken[ec.Index])
            {
                var value = PastedText.ReadNumber(ec.Groups["v"].Value).Value;
                _ec = new StatedReading(value * (ec.Groups["u"].Value[0] is 'µ' or 'u' ? 1 : 1000), Strength(ec));
                Take(ec);
            }

            // Labels state pH for a 1 % solution (a liquid's as sold, settled once that is known) and EC for 1 g/L unless they say otherwise
            // (common practice, no source).
            double Strength(Match match)
            {
                var group = match.Groups["s"];
                if (!group.Success)
                {
                    return match.Value.StartsWith("pH", StringComparison.OrdinalIgnoreCase) ? 0 : 1;
                }

                return PastedText.ReadNumber(group.Value).Value * (match.Groups["su"].Value.StartsWith('%') ? 10 : 1);
            }
        }

        private void TakeDensity()
        {
            var match = DensityPhrase().Match(_plain);
            if (!match.Success)
            {
                match = DensityUnit().Match(_plain);
            }

            if (match.Success && !_taken[match.Index])
            {
                var value = PastedText.ReadNumber(match.Groups["v"].Value).Value;
                _density ??= value > 100 ? value / 1000 : value;
                Take(match);
            }
        }

        // "± 5 %" behind an amount is that line's own and may count points of percent; alone on its line, or called a tolerance, it speaks of the product.
        private void TakeTolerance()
        {
            foreach (Match match in TolerancePhrase().Matches(_plain).Where(match => !_taken[match.Index]))
            {
                if (match.Groups["word"].Success || LineOf(match.Index).Count(c => c is '%' or '％') == 1)
                {
                    var percent = PastedText.ReadNumber(match.Groups["v"].Value).Value;
                    Take(match);
                    if (percent is > 0 and <= Label.MostTolerancePercent)
                    {
                        _tolerance ??= Label.ToleranceOf(percent);
                    }
                    else
                    {
                        _problems.Add(InputProblem.Warning("tolerance", match.Groups["v"].Value, "A tolerance is above 0 and at most 30 %; this one is left out."));
                    }
                }
            }
        }

        private sealed record Grade(TextSpan Span, IReadOnlyList<(DeclaredForm Form, string Number, TextSpan Span)> Parts);

        private Grade? TakeGrade()
        {
            var match = GradePhrase().Matches(_plain).Concat(NpkPhrase().Matches(_plain)).FirstOrDefault(match => !_taken[match.Index]);
            if (match is null)
            {
                return null;
            }

            var parts = new List<(DeclaredForm, string, TextSpan)>
            {
                (DeclaredForm.TotalNitrogen, match.Groups["n"].Value, SpanOf(match.Groups["n"])),
                (DeclaredForm.PhosphorusPentoxide, match.Groups["p"].Value, SpanOf(match.Groups["p"])),
                (DeclaredForm.PotassiumOxide, match.Groups["k"].Value, SpanOf(match.Groups["k"])),
            };
            Take(match);
            var end = match.Index + match.Length;
            if (GradePlus().Match(_plain, end) is { Success: true } plus && plus.Index == end)
            {
                for (var i = 0; i < plus.Groups["v"].Captures.Count; i++)
                {
                    var value = plus.Groups["v"].Captures[i];
                    var word = plus.Groups["w"].Captures.Count > i ? plus.Groups["w"].Captures[i].Value : string.Empty;
                    var form = NutrientWords.Meaning(word.Replace('0', 'O') is "CaO" or "MgO" ? word.ToUpperInvariant().Replace('0', 'O') : word)?.Form ?? DeclaredForm.MagnesiumOxide;
                    parts.Add((form, value.Value, new TextSpan(value.Index, value.Length)));
                    if (word.Length == 0)
                    {
                        _problems.Add(InputProblem.Warning("magnesium oxide", value.Value, "The fourth number of the grade is read as MgO, as is the custom; the label does not say."));
                    }
                }

                Take(plus);
            }

            return new Grade(SpanOf(match), parts);
        }

        private LabelBasis DecideBasis(IReadOnlyList<(NutrientItem Name, AmountItem Amount)> pairs)
        {
            var byVolume = pairs.Count(pair => pair.Amount.Quantity.Unit == QuantityUnit.PercentByVolume);
            var byWeight = pairs.Count(pair => pair.Amount.Quantity.Unit == QuantityUnit.Percent);
            if (byVolume > 0 && byWeight > 0)
            {
                _problems.Add(InputProblem.Warning("basis", $"{byVolume} amounts by volume, {byWeight} by weight",
                    $"The label counts some amounts per volume and some per weight; the {(byVolume >= byWeight ? "weight" : "volume")} ones are left out."));
            }

            if (byVolume == 0 && ByVolumeWord().IsMatch(_plain))
            {
                return LabelBasis.ByVolume;
            }

            return byVolume > 0 && byVolume >= byWeight ? LabelBasis.ByVolume : LabelBasis.ByWeight;
        }

        private void AddPairs(IReadOnlyList<LabelItem> items, IReadOnlyList<(NutrientItem Name, AmountItem Amount)> pairs, LabelBasis basis)
        {
            // Only where the label counts both ways is one of them left out; a bare "% " under the words "w/v" is by volume.
            var both = pairs.Any(pair => pair.Amount.Quantity.Unit == QuantityUnit.Percent) && pairs.Any(pair => pair.Amount.Quantity.Unit == QuantityUnit.PercentByVolume);
            QuantityUnit? leftOut = !both ? null : basis == LabelBasis.ByVolume ? QuantityUnit.Percent : QuantityUnit.PercentByVolume;
            var paired = pairs.Select(pair => pair.Name).ToHashSet();
            NutrientItem? before = null;
            foreach (var (name, amount) in pairs)
            {
                var span = TextSpan.Between(Math.Min(name.Span.Start, amount.Span.Start), Math.Max(name.Span.End, amount.Span.End));
                var quantity = amount.Quantity;
                if (leftOut is { } unit && quantity.Unit == unit)
                {
                    continue;
                }

                var named = Surer(name, amount, items, paired);
                if (name.IsQualifier)
                {
                    // "of which 0.08 % chelated by EDTA": a part of the nutrient before. "100 % water-soluble" speaks of the product.
                    if (before is null || quantity.Percent >= 100)
                    {
                        continue;
                    }

                    named = before with { Soluble = name.Soluble, Chelator = name.Chelator, Sureness = 4 };
                }
                else
                {
                    before = name;
                }

                if (named.Form is not { } form)
                {
                    continue;
                }

                if (named.Sureness == 1 && form is DeclaredForm.PhosphorusPentoxide or DeclaredForm.PotassiumOxide)
                {
                    _problems.Add(InputProblem.Warning(named.Span.In(text), amount.Span.In(text), $"\"{named.Span.In(text)}\" does not say whether the oxide or the element is meant; read as {form.Symbol()}, as is the custom."));
                }

                _declarations.Add(new Declaration(form, quantity.Percent)
                {
                    RoundingPercent = quantity.RoundingPercent,
                    WaterSoluble = named.Soluble && named.Chelator == Chelator.None,
                    Chelator = form.IsChelatable() ? named.Chelator : Chelator.None,
                    ReadFrom = span,
                });
            }
        }

        /// <summary>"Silicon 8 % as SiO2", "potassium 5 % K2O": a formula of the same element, left over beside the pair, says what is counted.</summary>
        private static NutrientItem Surer(NutrientItem name, AmountItem amount, IReadOnlyList<LabelItem> items, HashSet<NutrientItem> paired)
        {
            var neighbour = items.OfType<NutrientItem>().FirstOrDefault(item => !paired.Contains(item) && item.Line == amount.Line && item.Element is not null && item.Element == name.Element
                && item.Sureness > name.Sureness && item.Span.Start >= amount.Span.End && item.Span.Start - amount.Span.End < 24
                && !items.Any(between => between.Span.Start >= amount.Span.End && between.Span.Start < item.Span.Start));
            return neighbour is null ? name : name with { Form = neighbour.Form, Sureness = neighbour.Sureness };
        }

        private void AddGrade(Grade? grade, LabelBasis basis)
        {
            if (grade is null)
            {
                return;
            }

            if (basis == LabelBasis.ByVolume && _declarations.Count > 0)
            {
                _problems.Add(InputProblem.Note("grade", grade.Span.In(text), "The amounts are per volume and the grade may be per weight: the amounts are used, the grade is left out."));
                return;
            }

            foreach (var (form, number, span) in grade.Parts)
            {
                var (percent, half) = PastedText.ReadNumber(number);
                // Where phosphorus or potassium is declared as the element with the grade's own number, the grade counts elements.
                var counted = form switch
                {
                    DeclaredForm.PhosphorusPentoxide when SaidAsElement(DeclaredForm.Phosphorus, percent) => DeclaredForm.Phosphorus,
                    DeclaredForm.PotassiumOxide when SaidAsElement(DeclaredForm.Potassium, percent) => DeclaredForm.Potassium,
                    _ => form,
                };
                if (_declarations.Any(line => line.Form == counted && line.Chelator == Chelator.None && Math.Abs(line.Percent - percent) <= half + 1e-9))
                {
                    _problems.RemoveAll(problem => problem.Severity == Severity.Warning && problem.Message.Contains($"read as {counted.Symbol()}, as is the custom", StringComparison.Ordinal));
                    continue;
                }

                _declarations.Add(new Declaration(counted, percent) { RoundingPercent = half, ReadFrom = span });
            }

            bool SaidAsElement(DeclaredForm element, double percent) =>
                percent > 0 && _declarations.Any(line => line.Form == element && Math.Abs(line.Percent - percent) <= line.RoundingPercent + 1e-9);
        }

        private void ReportUnread(IReadOnlyList<LabelItem> items, IReadOnlyList<(NutrientItem Name, AmountItem Amount)> pairs)
        {
            var paired = pairs.Select(pair => pair.Amount).ToHashSet();
            foreach (var amount in items.OfType<AmountItem>().Where(item => item.Quantity.Unit is QuantityUnit.Percent or QuantityUnit.PercentByVolume && !paired.Contains(item)))
            {
                if (amount.Quantity.Percent < 100)
                {
                    _problems.Add(InputProblem.Warning($"line {amount.Line + 1}", amount.Span.In(text), $"No nutrient was found for this amount in \"{LineOf(amount.Span.Start).Trim()}\"."));
                }
            }
        }

        private void Take(Match match) => _taken.AsSpan(match.Index, match.Length).Fill(true);

        private static TextSpan SpanOf(Group group) => new(group.Index, group.Length);

        private string LineOf(int at)
        {
            var start = at == 0 ? 0 : text.LastIndexOf('\n', at - 1) + 1;
            var end = text.IndexOf('\n', at);
            return text[start..(end < 0 ? text.Length : end)];
        }

        private string FirstLine()
        {
            var line = text.Split('\n').Select(line => line.Trim()).First(line => line.Length > 0);
            return line.Length <= 80 ? line : line[..80].TrimEnd();
        }
    }

    [GeneratedRegex(@"(?:derived\s+from|hergestellt\s+aus|ingredients?|ausgangsstoffe|obtenu\s+à\s+partir\s+de)\s*:?\s*(?<list>[^.\d%]*(?:\([IV]+\)[^.\d%]*)*)\.?", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex DerivedFromPhrase();

    [GeneratedRegex(@"[^\n]*")]
    private static partial Regex WholeLine();

    [GeneratedRegex(@"\b(?:directions?|apply|application rate|use \d|usage|dosage|dose[sr]?|dosing|dissolve|dilute|dosierung|anwendung|verdünnen|auflösen|lösen|geben sie|gießen|mode d'emploi|diluer|dissoudre|arroser)\b", RegexOptions.IgnoreCase)]
    private static partial Regex DosingVerb();

    [GeneratedRegex(@"\bpH\b(?:[ -]?(?:value|wert))? ?(?:\(?(?:of |at |in |bei |à )?(?:a |einer )?(?<s>" + Number + @") ?(?<su>%|g ?/ ?l)[^\d\n]{0,30}?)?[^\d\n%]{0,20}?(?<v>" + Number + @")(?! ?[%\d])", RegexOptions.IgnoreCase)]
    private static partial Regex PHPhrase();

    [GeneratedRegex(@"\b(?:EC|conductivity|leitfähigkeit|conductivité)\b ?(?:\(?(?:of |at |in |bei |à )?(?:a |einer )?(?<s>" + Number + @") ?(?<su>%|g ?/ ?l)[^\d\n]{0,30}?)?[^\d\n%]{0,20}?(?<v>" + Number + @") ?(?<u>[mµu]S ?/ ?cm|dS ?/ ?m)(?: ?\(?(?:at|bei|à) (?<s>" + Number + @") ?(?<su>%|g ?/ ?l)\)?)?", RegexOptions.IgnoreCase)]
    private static partial Regex EcPhrase();

    [GeneratedRegex(@"\b(?:density|specific gravity|sp\. ?gr\.?|s\.?g\.|dichte|densité)[^\d\n]{0,25}(?<v>" + Number + @")(?: ?(?:kg ?/ ?l|g ?/ ?ml|g ?/ ?cm3|kg ?/ ?dm3|kg ?/ ?m3|g ?/ ?l))?", RegexOptions.IgnoreCase)]
    private static partial Regex DensityPhrase();

    [GeneratedRegex(@"(?<v>" + Number + @") ?(?:kg ?/ ?l\b|g ?/ ?ml\b|g ?/ ?cm3|kg ?/ ?dm3)", RegexOptions.IgnoreCase)]
    private static partial Regex DensityUnit();

    [GeneratedRegex(@"(?<word>\btol[eé]ran(?:ces?|cias?)\b|\btoleranz(?:en)?\b)[^\d%\n]{0,30}(?<v>" + Number + @") ?%|(?:±|\+ ?/ ?-) ?(?<v>" + Number + @") ?%(?:[^\w\n]{0,3}(?<word>tol[eé]rances?|toleranz))?", RegexOptions.IgnoreCase)]
    private static partial Regex TolerancePhrase();

    [GeneratedRegex(@"(?:neutral(?:em|er)? )?ammonium ?citrate?(?: (?:solution|and water))?|(?:neutral-?)?ammoncitrat\w*", RegexOptions.IgnoreCase)]
    private static partial Regex SolvingPhrase();

    [GeneratedRegex(@"(?<![\w.,/-])(?<n>\d{1,2}(?:[.,]\d+)?) ?- ?(?<p>\d{1,2}(?:[.,]\d+)?) ?- ?(?<k>\d{1,2}(?:[.,]\d+)?)(?![\d/-]|[.,]\d)")]
    private static partial Regex GradePhrase();

    [GeneratedRegex(@"N ?[-+:/]? ?P ?[-+:/]? ?K\b[^\d\n]{0,14}(?<n>\d{1,2}(?:[.,]\d+)?) ?[-+:/x ] ?(?<p>\d{1,2}(?:[.,]\d+)?) ?[-+:/x ] ?(?<k>\d{1,2}(?:[.,]\d+)?)(?!\d)", RegexOptions.IgnoreCase)]
    private static partial Regex NpkPhrase();

    [GeneratedRegex(@"(?: ?(?:\(? ?\+|\() ?(?<v>" + Number + @") ?%? ?(?<w>CaO|Ca|MgO|Mg|Fe|SO3|S|)(?![\p{L}\d]) ?\)?)+")]
    private static partial Regex GradePlus();

    [GeneratedRegex(@"(?<![\p{L}\d])[wm] ?/ ?v(?![\p{L}\d])", RegexOptions.IgnoreCase)]
    private static partial Regex ByVolumeWord();
}
