using System.Text.RegularExpressions;

namespace Rootwater.Growing.Labels;

/// <summary>Gives chelators that are named apart from an amount to the amounts they speak of.</summary>
internal static partial class LabelChelators
{
    private static readonly DeclaredForm[] s_metals = [DeclaredForm.Iron, DeclaredForm.Manganese, DeclaredForm.Zinc, DeclaredForm.Copper];

    /// <summary>
    /// "Iron 0.1 % EDTA": the nearest metal of the line. "Fe, Mn, Zn chelated by EDTA": those, wherever their amounts stand. "* as chelate of EDTA": those marked with a
    /// star. "Trace elements chelated by EDTA": all four.
    /// </summary>
    public static void Name(List<Declaration> declarations, IReadOnlyList<LabelItem> items, IReadOnlyList<(NutrientItem Name, AmountItem Amount)> pairs, string plain, List<InputProblem> problems)
    {
        var paired = pairs.Select(pair => pair.Name).ToHashSet();
        foreach (var chelator in items.OfType<NutrientItem>().Where(item => item.Chelator != Chelator.None && !paired.Contains(item)))
        {
            var inLine = items.OfType<NutrientItem>().Where(item => item.Line == chelator.Line && item.Form is { } form && form.IsChelatable()).ToList();
            var amounts = inLine.Where(paired.Contains).ToList();
            HashSet<DeclaredForm> meant = (amounts.Count, inLine.Count) switch
            {
                ( > 0, _) => [NearestTo(chelator, amounts).Form!.Value],
                (0, > 0) => [.. inLine.Select(item => item.Form!.Value)],
                _ when LineOf(plain, chelator.Span.Start).TrimStart().StartsWith('*') => [.. pairs.Where(pair => IsStarred(plain, pair)).Select(pair => pair.Name.Form!.Value)],
                _ when TraceWords().IsMatch(LineOf(plain, chelator.Span.Start)) => [.. s_metals],
                _ => [],
            };
            for (var i = 0; i < declarations.Count; i++)
            {
                var line = declarations[i];
                var near = amounts.Count == 0 || (line.ReadFrom is { } span && Math.Abs(span.Start - chelator.Span.Start) < 80);
                if (near && meant.Contains(line.Form) && line.Form.IsChelatable() && line.Chelator is (Chelator.None or Chelator.Unnamed))
                {
                    declarations[i] = declarations[i] with { Chelator = chelator.Chelator, WaterSoluble = false };
                }
            }
        }

        foreach (var line in declarations.Where(line => line.Chelator == Chelator.Unnamed))
        {
            problems.Add(InputProblem.Note(line.Form.Words(), null, "It is chelated, but the label does not say by what."));
        }
    }

    private static NutrientItem NearestTo(NutrientItem chelator, List<NutrientItem> candidates) =>
        candidates.Where(item => item.Span.Start <= chelator.Span.Start).MaxBy(item => item.Span.Start) ?? candidates.MinBy(item => item.Span.Start)!;

    private static bool IsStarred(string plain, (NutrientItem Name, AmountItem Amount) pair)
    {
        var end = Math.Max(pair.Name.Span.End, pair.Amount.Span.End);
        return plain.AsSpan(end, Math.Min(3, plain.Length - end)).TrimStart(" )").StartsWith("*");
    }

    private static string LineOf(string plain, int at)
    {
        var start = at == 0 ? 0 : plain.LastIndexOf('\n', at - 1) + 1;
        var end = plain.IndexOf('\n', at);
        return plain[start..(end < 0 ? plain.Length : end)];
    }

    [GeneratedRegex(@"trace|micro|oligo|spuren|minor", RegexOptions.IgnoreCase)]
    private static partial Regex TraceWords();
}
