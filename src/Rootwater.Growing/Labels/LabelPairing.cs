namespace Rootwater.Growing.Labels;

/// <summary>Finds which amount belongs to which name.</summary>
/// <remarks>
/// Labels are printed name first ("Nitrogen (N) 14 %"), amount first ("14 % N"), both on one package, and broken over lines anywhere. Only
/// neighbours may pair, so the best pairing is the heaviest matching on a path, found exactly by dynamic programming; the weight of
/// a pair says how much it looks like one (same line, a percent sign, nothing between). Both orders are tried and the heavier whole is kept.
/// </remarks>
internal static class LabelPairing
{
    /// <summary>Pairs of indices into the items: the name and its amount.</summary>
    public static IReadOnlyList<(NutrientItem Name, AmountItem Amount)> Pair(IReadOnlyList<LabelItem> items, string plain)
    {
        var columns = Columns(items);
        var tabled = columns.SelectMany(pair => new LabelItem[] { pair.Name, pair.Amount }).ToHashSet();
        items = [.. items.Where(item => !tabled.Contains(item))];
        var (nameFirst, weightNameFirst) = Heaviest(items, plain, nameFirst: true);
        var (amountFirst, weightAmountFirst) = Heaviest(items, plain, nameFirst: false);
        return [.. columns, .. weightNameFirst >= weightAmountFirst ? nameFirst : amountFirst];
    }

    /// <summary>A line of names alone over a line of as many amounts alone is a table.</summary>
    private static List<(NutrientItem Name, AmountItem Amount)> Columns(IReadOnlyList<LabelItem> items)
    {
        var pairs = new List<(NutrientItem, AmountItem)>();
        var lines = items.GroupBy(item => item.Line).OrderBy(line => line.Key).Select(line => line.ToList()).ToList();
        for (var i = 1; i < lines.Count; i++)
        {
            var (names, amounts) = (lines[i - 1], lines[i]);
            if (names.Count >= 2 && names.Count == amounts.Count && names.TrueForAll(item => item is NutrientItem { Form: not null }) && amounts.TrueForAll(item => item is AmountItem { Quantity.IsShare: true }))
            {
                pairs.AddRange(names.Cast<NutrientItem>().Zip(amounts.Cast<AmountItem>()));
            }
        }

        return pairs;
    }

    private static (List<(NutrientItem, AmountItem)> Pairs, double Weight) Heaviest(IReadOnlyList<LabelItem> items, string plain, bool nameFirst)
    {
        // best[i]: the heaviest pairing among the first i items.
        var best = new double[items.Count + 1];
        var paired = new bool[items.Count + 1];
        var inLine = items.CountBy(item => item.Line).ToDictionary();
        for (var i = 2; i <= items.Count; i++)
        {
            best[i] = best[i - 1];
            var alone = inLine[items[i - 2].Line] == 1 && inLine[items[i - 1].Line] == 1;
            var weight = Weight(items[i - 2], items[i - 1], plain, nameFirst, alone);
            if (weight > 0 && best[i - 2] + weight > best[i])
            {
                best[i] = best[i - 2] + weight;
                paired[i] = true;
            }
        }

        var pairs = new List<(NutrientItem, AmountItem)>();
        for (var i = items.Count; i > 1;)
        {
            if (!paired[i])
            {
                i--;
                continue;
            }

            pairs.Add(items[i - 1] is AmountItem amount ? ((NutrientItem)items[i - 2], amount) : ((NutrientItem)items[i - 1], (AmountItem)items[i - 2]));
            i -= 2;
        }

        pairs.Reverse();
        return (pairs, best[items.Count]);
    }

    private static double Weight(LabelItem first, LabelItem second, string plain, bool nameFirst, bool eachAloneInItsLine)
    {
        var (name, amount) = (first, second) switch
        {
            (NutrientItem n, AmountItem a) => (n, a),
            (AmountItem a, NutrientItem n) => (n, a),
            _ => (null, null),
        };
        if (name is null || !amount!.Quantity.IsShare)
        {
            return 0;
        }

        var lines = second.Line - first.Line;
        var bare = amount.Quantity.Unit == QuantityUnit.Bare;
        // A number without a unit may belong to a symbol ("N 14"), hardly to a word of running text.
        // Over a line's end it may belong to a name only where both stand alone: else a column would be read askew.
        if (lines > 2 || (bare && name.Sureness < 2 && name.Span.Length > 1) || (bare && lines > 0 && !eachAloneInItsLine))
        {
            return 0;
        }

        var between = plain.AsSpan(first.Span.End, second.Span.Start - first.Span.End);
        var weight = 10.0;
        weight += lines == 0 ? 5 : -2 * lines;
        weight += bare ? 0 : 2;
        weight += between.ContainsAny(',', ';', '|') ? -4 : 0;
        weight += between.ContainsAny('+', '/') ? -2 : 0;
        weight += nameFirst == (first is NutrientItem) ? 2 : 0;
        weight += name.IsQualifier ? -3 : 0;
        weight -= Math.Min(3, between.Trim(" .:").Length / 8.0);
        return weight;
    }
}
