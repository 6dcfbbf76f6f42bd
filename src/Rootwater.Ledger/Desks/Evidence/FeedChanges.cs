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
        var months = Days(history, plants).GroupBy(day => new DateOnly(day.Day.Year, day.Day.Month, 1)).OrderBy(month => month.Key).Select(month => month.OrderBy(day => day.Day).ToList()).ToList();
        if (months.Count < 2 * SmallestMonths)
        {
            return [];
        }

        var found = new List<(DateOnly Day, string Words, double Log2)>();
        for (var nutrient = 0; nutrient < s_nutrients.Length; nutrient++)
        {
            var strength = months.Select(month => month.Sum(day => day.Milligrams[nutrient]) / month.Sum(day => day.Litres)).ToArray();
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
                    found.Add((FirstDay(months[bounds[i]], months[bounds[i] - 1], nutrient, before, since), FactWords.Say($"{s_nutrients[nutrient].Name} {before:0} → {since:0} mg/L"), change));
                }
            }
        }

        return [.. Together(found).OrderByDescending(change => change.Day)];
    }

    // Day by day, not pouring by pouring: a large bench has a quarter of a million of them.
    private static IReadOnlyCollection<DayPoured> Days(FeedHistory history, IReadOnlyList<EvidencePlant> plants)
    {
        var days = new Dictionary<DateOnly, DayPoured>();
        foreach (var pour in plants.SelectMany(plant => history.Of(plant.Id)))
        {
            if (pour.MgPerLitre is not { } mg)
            {
                continue;
            }

            if (!days.TryGetValue(pour.Day, out var day))
            {
                days[pour.Day] = day = new DayPoured(pour.Day);
            }

            day.Pours++;
            day.Litres += pour.Millilitres / 1000;
            for (var nutrient = 0; nutrient < s_nutrients.Length; nutrient++)
            {
                var strength = s_nutrients[nutrient].Of(mg);
                day.MgPerLitre[nutrient] += strength;
                day.Milligrams[nutrient] += strength * pour.Millilitres / 1000;
            }
        }

        return days.Values;
    }

    // The month is known; the day is the first whose pour is nearer the new strength than the old and stays so to the month's end.
    private static DateOnly FirstDay(List<DayPoured> month, List<DayPoured> monthBefore, int nutrient, double before, double since)
    {
        var days = monthBefore.Concat(month).Select(day => (day.Day, New: Math.Abs(Mean(day) - since) < Math.Abs(Mean(day) - before))).ToList();
        var first = days.Count - 1;
        while (first > 0 && days[first - 1].New)
        {
            first--;
        }

        return days[first].New ? days[first].Day : month[0].Day;

        double Mean(DayPoured day) => day.MgPerLitre[nutrient] / day.Pours;
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

    /// <summary>What was poured of feeds on one day, nutrient by nutrient.</summary>
    private sealed class DayPoured(DateOnly day)
    {
        public DateOnly Day => day;

        public int Pours { get; set; }

        public double Litres { get; set; }

        /// <summary>Sums over pourings.</summary>
        public double[] MgPerLitre { get; } = new double[s_nutrients.Length];

        public double[] Milligrams { get; } = new double[s_nutrients.Length];
    }
}
