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
        var (nameFirst, weightNameFirst) = Heaviest(items, plain, nameFirst: true);
        var (amountFirst, weightAmountFirst) = Heaviest(items, plain, nameFirst: false);
        return weightNameFirst >= weightAmountFirst ? nameFirst : amountFirst;
    }

    private static (List<(NutrientItem, AmountItem)> Pairs, double Weight) Heaviest(IReadOnlyList<LabelItem> items, string plain, bool nameFirst)
    {
        // best[i]: the heaviest pairing among the first i items.
        var best = new double[items.Count + 1];
        var paired = new bool[items.Count + 1];
        for (var i = 2; i <= items.Count; i++)
        {
            best[i] = best[i - 1];
            var weight = Weight(items[i - 2], items[i - 1], plain, nameFirst);
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

    private static double Weight(LabelItem first, LabelItem second, string plain, bool nameFirst)
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
        if (lines > 2 || (bare && name.Sureness < 2 && name.Span.Length > 1))
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
