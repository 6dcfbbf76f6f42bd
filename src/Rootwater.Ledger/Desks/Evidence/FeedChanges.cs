using Rootwater.Growing;
using Rootwater.Growing.Evidence.Series;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Days on which a feed changed: shifts in the monthly mean strength of each nutrient poured to a group, by least squares with as many shifts as the Bayes criterion bears.</summary>
internal static class FeedChanges
{
    /// <summary>A change counts from here on: a third more, or a quarter less.</summary>
    private const double LeastLog2 = 0.42;
    private const int SmallestMonths = 4;
    private const int MostShifts = 5;

    private static readonly (string Name, Func<NutrientAmounts, double> Of)[] s_nutrients =
    [
        ("nitrogen", mg => mg.TotalNitrogen), ("potassium", mg => mg[Nutrient.Potassium]), ("phosphorus", mg => mg[Nutrient.Phosphorus]),
        ("calcium", mg => mg[Nutrient.Calcium]), ("magnesium", mg => mg[Nutrient.Magnesium]),
    ];

    /// <summary>Newest first.</summary>
    public static IReadOnlyList<FeedChange> Find(FeedHistory history, IReadOnlyList<EvidencePlant> plants)
    {
        var pours = plants.SelectMany(plant => history.Of(plant.Id)).Where(pour => pour.MgPerLitre is not null).OrderBy(pour => pour.Day).ToList();
        var months = pours.GroupBy(pour => new DateOnly(pour.Day.Year, pour.Day.Month, 1)).OrderBy(month => month.Key).ToList();
        if (months.Count < 2 * SmallestMonths)
        {
            return [];
        }

        var found = new List<(DateOnly Day, string Words, double Log2)>();
        foreach (var (name, of) in s_nutrients)
        {
            var strength = months.Select(month => month.Sum(pour => pour.Millilitres * of(pour.MgPerLitre!)) / month.Sum(pour => pour.Millilitres)).ToArray();
            // A floor, so that a trace against nothing is no doubling.
            var logs = strength.Select(mg => Math.Log2(Math.Max(mg, 2))).ToArray();
            var best = ChangePoints.Segment(logs, SmallestMonths, MostShifts).MinBy(segmentation => segmentation.Bic)!;
            int[] bounds = [0, .. best.LastBefore, logs.Length];
            for (var i = 1; i < bounds.Length - 1; i++)
            {
                var before = strength[bounds[i - 1]..bounds[i]].Average();
                var since = strength[bounds[i]..bounds[i + 1]].Average();
                var change = Math.Log2(Math.Max(since, 2) / Math.Max(before, 2));
                if (Math.Abs(change) >= LeastLog2)
                {
                    found.Add((FirstDay(months[bounds[i]].ToList(), months[bounds[i] - 1].ToList(), of, before, since), FactWords.Say($"{name} {before:0} → {since:0} mg/L"), change));
                }
            }
        }

        return [.. Together(found).OrderByDescending(change => change.Day)];
    }

    // The month is known; the day is the first whose pour is nearer the new strength than the old and stays so to the month's end.
    private static DateOnly FirstDay(List<Pour> month, List<Pour> monthBefore, Func<NutrientAmounts, double> of, double before, double since)
    {
        var days = monthBefore.Concat(month).GroupBy(pour => pour.Day).OrderBy(day => day.Key)
            .Select(day => (Day: day.Key, New: Math.Abs(day.Average(pour => of(pour.MgPerLitre!)) - since) < Math.Abs(day.Average(pour => of(pour.MgPerLitre!)) - before))).ToList();
        var first = days.Count - 1;
        while (first > 0 && days[first - 1].New)
        {
            first--;
        }

        return days[first].New ? days[first].Day : month[0].Day;
    }

    // What changed within six weeks is one change.
    private static IEnumerable<FeedChange> Together(List<(DateOnly Day, string Words, double Log2)> found)
    {
        List<(DateOnly Day, string Words, double Log2)> open = [];
        foreach (var change in found.OrderBy(change => change.Day))
        {
            if (open.Count > 0 && change.Day.DayNumber - open[0].Day.DayNumber > 45)
            {
                yield return One(open);
                open = [];
            }

            open.Add(change);
        }

        if (open.Count > 0)
        {
            yield return One(open);
        }
    }

    private static FeedChange One(List<(DateOnly Day, string Words, double Log2)> open)
    {
        var largest = open.MaxBy(change => Math.Abs(change.Log2));
        return new FeedChange(largest.Day, string.Join(", ", open.OrderByDescending(change => Math.Abs(change.Log2)).Select(change => change.Words)), largest.Log2);
    }
}
