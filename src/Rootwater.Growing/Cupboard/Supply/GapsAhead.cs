namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>Days between the feeds of a plant that does not rest, by the month in which they begin.</summary>
/// <remarks>
/// Its own gaps in a pot of its present culture, of the season (45 days either side in the newest year; where there are fewer than two 75 days, then those of other years). What it has not lived
/// through in such a pot, a first winter above a reservoir, is borrowed from the others in such pots, stretched by its own pace: its gaps so far against theirs of the same months,
/// begun at what the pots ask for.
/// </remarks>
internal sealed class GapsAhead
{
    private const int SeasonDays = 45, WideSeasonDays = 75, LeastGaps = 2, Months = 12, NewestDays = 400, MostLent = 300;

    // As many gaps of its own as weigh like what its pot asks for.
    private const double PaceOfPot = 2;

    private static readonly int[] s_middles = [.. Enumerable.Range(1, Months).Select(month => new DateOnly(2001, month, 15).DayOfYear)];

    private readonly DateOnly _today;
    private readonly Dictionary<Guid, IReadOnlyList<PastGap>> _own;
    private readonly Dictionary<Guid, double> _pace = [];
    private readonly Dictionary<Culture, double[][]> _lent = [];

    public GapsAhead(IReadOnlyList<FedPlant> plants, IReadOnlyDictionary<Guid, RestsAhead> rests, DateOnly today)
    {
        _today = today;
        _own = plants.ToDictionary(plant => plant.PlantId, plant => (IReadOnlyList<PastGap>)[.. rests[plant.PlantId].Waking.Where(gap => gap.In == plant.Culture)]);
        foreach (var alike in plants.GroupBy(plant => plant.Culture))
        {
            var asked = alike.Where(plant => Own(plant).Count > 0).Select(plant => (double)plant.EveryDays).DefaultIfEmpty(alike.Average(plant => plant.EveryDays)).Average();
            var usual = UsualByMonth([.. alike.SelectMany(Own)]);
            foreach (var plant in alike)
            {
                var own = Own(plant);
                var known = own.Count > 0 ? own.Average(gap => usual[gap.From.Month - 1]) : 1;
                _pace[plant.PlantId] = (own.Sum(gap => gap.Days) + PaceOfPot * known * plant.EveryDays / asked) / (own.Sum(gap => usual[gap.From.Month - 1]) + PaceOfPot * known);
            }

            _lent[alike.Key] = LentByMonth([.. alike]);
        }

        // Of a culture that is new here nothing is known: as in the others.
        if (_lent.Where(lent => lent.Value.All(month => month.Length == 0)).Select(lent => lent.Key).ToList() is { Count: > 0 } unknown)
        {
            var all = LentByMonth(plants);
            unknown.ForEach(culture => _lent[culture] = all);
        }
    }

    /// <summary>Gaps of a plant in pots of its present culture, rests apart.</summary>
    public IReadOnlyList<PastGap> Own(FedPlant plant) => _own[plant.PlantId];

    /// <summary>Days to draw from in each month.</summary>
    public int[][] ByMonth(FedPlant plant)
    {
        var own = Own(plant);
        var lent = _lent[plant.Culture];
        var pace = _pace[plant.PlantId];
        var since = own.Count > 0 ? own.Min(gap => gap.From) : _today;
        return
        [
            .. Enumerable.Range(1, Months).Select(month =>
                LastMiddle(month) >= since && Season(own, month, _today) is { } lived ? lived
                : lent[month - 1].Length > 0 ? lent[month - 1].Select(days => Math.Max(1, (int)Math.Round(days * pace))).ToArray()
                : Season(own, month, _today) ?? [.. own.Select(gap => gap.Days)]),
        ];
    }

    /// <summary>Days to draw from in each month, of gaps of one thing.</summary>
    public static int[][] ByMonth(IReadOnlyList<PastGap> gaps, DateOnly today) => [.. Enumerable.Range(1, Months).Select(month => Season(gaps, month, today) ?? [.. gaps.Select(gap => gap.Days)])];

    /// <summary>Days between a day of the year and the middle of a month, the shorter way round.</summary>
    public static int Apart(DateOnly day, int month)
    {
        var days = Math.Abs(day.DayOfYear - s_middles[month - 1]);
        return Math.Min(days, 365 - days);
    }

    // At pace 1. A few hundred say as much as all of a large bench.
    private double[][] LentByMonth(IReadOnlyList<FedPlant> plants)
    {
        List<(DateOnly From, double Days)> lent = [.. plants.SelectMany(plant => Own(plant).Select(gap => (gap.From, gap.Days / _pace[plant.PlantId])))];
        return [.. Enumerable.Range(1, Months).Select(month =>
        {
            var season = SeasonOf(lent, gap => gap.From, month, _today) ?? [];
            var each = season.Count / MostLent + 1;
            return season.Where((_, i) => i % each == 0).Select(gap => gap.Days).ToArray();
        })];
    }

    private static int[]? Season(IReadOnlyList<PastGap> gaps, int month, DateOnly today) => SeasonOf(gaps, gap => gap.From, month, today)?.Select(gap => gap.Days).ToArray();

    // A plant has few gaps in winter, and they are its long ones: a wider season before another year.
    private static List<T>? SeasonOf<T>(IReadOnlyList<T> gaps, Func<T, DateOnly> from, int month, DateOnly today)
    {
        List<T> near = [.. gaps.Where(gap => Apart(from(gap), month) <= WideSeasonDays)];
        foreach (var newest in new[] { true, false })
        {
            foreach (var wide in new[] { SeasonDays, WideSeasonDays })
            {
                List<T> season = [.. near.Where(gap => (!newest || today.DayNumber - from(gap).DayNumber <= NewestDays) && Apart(from(gap), month) <= wide)];
                if (season.Count >= LeastGaps)
                {
                    return season;
                }
            }
        }

        return null;
    }

    private double[] UsualByMonth(List<PastGap> gaps) => [.. Enumerable.Range(1, Months).Select(month => (Season(gaps, month, _today) ?? [.. gaps.Select(gap => gap.Days)]).DefaultIfEmpty(1).Average())];

    private DateOnly LastMiddle(int month)
    {
        var middle = new DateOnly(_today.Year, month, 15);
        return middle > _today ? middle.AddYears(-1) : middle;
    }
}
