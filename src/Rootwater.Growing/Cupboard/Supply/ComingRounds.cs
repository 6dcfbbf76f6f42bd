namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>Days between two feeds of a plant, or between two walks, that did pass.</summary>
/// <param name="From">The day of the first.</param>
/// <param name="Days">1 or more.</param>
public readonly record struct PastGap(DateOnly From, int Days);

/// <summary>A plant that stands on the bench and is to be fed again.</summary>
/// <param name="PlantId">Which.</param>
/// <param name="Recipe">What decides from which cans it is fed: the name of its want.</param>
/// <param name="LastFedOn">Null where never.</param>
/// <param name="EveryDays">Days between feeds that its pot asks for.</param>
/// <param name="Millilitres">Of one feed.</param>
/// <param name="Gaps">Days between its own feeds so far: rests, leaches and "still full" are in them.</param>
public sealed record FedPlant(Guid PlantId, string Recipe, DateOnly? LastFedOn, int EveryDays, double Millilitres, IReadOnlyList<PastGap> Gaps);

/// <summary>A can of the past as a pattern for one to come.</summary>
/// <param name="On">When it was mixed.</param>
/// <param name="GramsPerLitre">Of each product.</param>
/// <param name="WaterShares">Share of each water in it; adds up to about 1.</param>
/// <param name="MixedPerPoured">Litres mixed for each litre that reached a plant, 1 or more: what is left goes down the drain.</param>
/// <param name="Recipes">Millilitres that went to plants of each recipe: how likely it is the pattern for them.</param>
public sealed record CanPattern(DateOnly On, IReadOnlyDictionary<Guid, double> GramsPerLitre, IReadOnlyDictionary<Guid, double> WaterShares, double MixedPerPoured, IReadOnlyDictionary<string, double> Recipes);

/// <summary>One can of a drawn future.</summary>
/// <param name="On">When.</param>
/// <param name="Pattern">Mixed like this one.</param>
/// <param name="Litres">Mixed, waste included.</param>
/// <param name="Plants">Fed from it.</param>
public readonly record struct ComingCan(DateOnly On, CanPattern Pattern, double Litres, int Plants);

/// <summary>The coming rounds, drawn from who is due.</summary>
/// <remarks>
/// Each plant that stands here is fed again after a gap drawn from its own gaps of the season (45 days either side in the newest year; where there are fewer than two 75 days, then those
/// of other years, then all), with fewer than two in all from those of plants of its recipe, stretched by what the pots ask for; the first gap only from those longer than what has passed
/// already. Older years are asked last: a grower who takes up leaching, or a pot that is fuller, feeds otherwise than three years ago. Walks come at the gaps
/// they came at; a plant is fed on the walk nearest to its day. Those fed on one walk by one recipe share a can, drawn from the newest year of that season's cans in
/// the share they fed that recipe. Plants that come or go later are not foreseen.
/// </remarks>
public sealed class ComingRounds
{
    private const int SeasonDays = 45, LeastInSeason = 5, LeastGaps = 2, LeastOwn = 2, Months = 12, NewestDays = 400;
    private static readonly int[] s_seasons = [SeasonDays, 75];
    private const int UsualWalkDays = 7;
    private const int QuartersPerYear = 4, MostQuarters = 12, QuarterDays = 91, LeastFeeds = 20;

    private readonly DateOnly _today;
    private readonly DateOnly? _lastWalk;
    private readonly PastGap[] _walks;
    private readonly int[][] _walksByMonth;
    private readonly Seasoned[] _plants;
    private readonly Dictionary<string, (CanPattern Pattern, double Weight)[][]> _patterns;
    private readonly double _halfWalk;

    /// <param name="plants">Those that stand here.</param>
    /// <param name="patterns">Cans of the past.</param>
    /// <param name="walks">Days on which anything was fed.</param>
    /// <param name="today">Nothing is drawn before it.</param>
    public ComingRounds(IReadOnlyList<FedPlant> plants, IReadOnlyList<CanPattern> patterns, IReadOnlyCollection<DateOnly> walks, DateOnly today)
    {
        _today = today;
        var days = walks.Where(day => day <= today).Distinct().Order().ToList();
        _lastWalk = days.Count > 0 ? days[^1] : null;
        _walks = [.. days.Zip(days.Skip(1), (one, next) => new PastGap(one, next.DayNumber - one.DayNumber))];
        _walksByMonth = ByMonth(_walks, today);
        _halfWalk = (_walks.Length > 0 ? _walks.Average(gap => gap.Days) : UsualWalkDays) / 2;
        _patterns = plants.Select(plant => plant.Recipe).Distinct().ToDictionary(recipe => recipe, recipe => PatternsOf(recipe, patterns, today));
        var byRecipe = plants.ToLookup(plant => plant.Recipe);
        _plants = [.. plants.Where(plant => _patterns[plant.Recipe][0].Length > 0).Select(plant => new Seasoned(plant, ByMonth(GapsFor(plant, byRecipe[plant.Recipe]), today)))];
        YearSpread = SpreadOf([.. _plants.Select(plant => plant.Plant)], today);
        Unfed = [.. plants.Where(plant => _patterns[plant.Recipe][0].Length == 0).Select(plant => plant.PlantId)];
    }

    /// <summary>Plants of whose recipe no can is on record: what they will take nobody can say.</summary>
    public IReadOnlyList<Guid> Unfed { get; }

    /// <summary>How far one year's feeding differs from the next for the whole bench at once (weather, habits), as a standard deviation of its logarithm, beyond what chance of the single gaps does; 0 where there are not two years of record.</summary>
    public double YearSpread { get; }

    /// <summary>Whether anything can be drawn at all.</summary>
    public bool HasAny => _plants.Length > 0;

    /// <summary>One future up to a day, in order.</summary>
    public IEnumerable<ComingCan> Draw(DateOnly end, Random random)
    {
        var next = new double[_plants.Length];
        for (var i = 0; i < _plants.Length; i++)
        {
            next[i] = FirstDay(_plants[i], random);
        }

        var served = new Dictionary<string, (double Litres, int Plants)>();
        for (var day = FirstWalk(random); day <= end; day = day.AddDays(GapFrom(_walksByMonth, day, random, UsualWalkDays)))
        {
            served.Clear();
            for (var i = 0; i < _plants.Length; i++)
            {
                // The walk nearest to its day.
                if (next[i] > day.DayNumber + _halfWalk)
                {
                    continue;
                }

                var plant = _plants[i].Plant;
                served.TryGetValue(plant.Recipe, out var so);
                served[plant.Recipe] = (so.Litres + plant.Millilitres / 1000, so.Plants + 1);
                next[i] = day.DayNumber + GapFrom(_plants[i].GapsByMonth, day, random, plant.EveryDays);
            }

            foreach (var (recipe, (litres, plants)) in served)
            {
                var pattern = Pick(_patterns[recipe][day.Month - 1], random);
                yield return new ComingCan(day, pattern, litres * pattern.MixedPerPoured, plants);
            }
        }
    }

    private DateOnly FirstWalk(Random random)
    {
        if (_lastWalk is not { } last)
        {
            return _today;
        }

        var day = last.AddDays(LongerThan(_walks, _today.DayNumber - last.DayNumber, random) ?? 0);
        return day < _today ? _today : day;
    }

    private double FirstDay(Seasoned plant, Random random)
    {
        if (plant.Plant.LastFedOn is not { } last)
        {
            return _today.DayNumber;
        }

        var passed = _today.DayNumber - last.DayNumber;
        var season = plant.GapsByMonth[last.Month - 1];
        var longer = season.Where(days => days > passed).ToArray();
        return longer.Length > 0 ? last.DayNumber + longer[random.Next(longer.Length)]
            : season.Length == 0 && plant.Plant.EveryDays > passed ? last.DayNumber + plant.Plant.EveryDays
            : _today.DayNumber;
    }

    private static int? LongerThan(PastGap[] gaps, int passed, Random random)
    {
        var longer = gaps.Where(gap => gap.Days >= passed).ToArray();
        return longer.Length > 0 ? longer[random.Next(longer.Length)].Days : null;
    }

    private static int GapFrom(int[][] byMonth, DateOnly day, Random random, int usual) =>
        byMonth[day.Month - 1] is { Length: > 0 } gaps ? gaps[random.Next(gaps.Length)] : Math.Max(1, usual);

    private static CanPattern Pick((CanPattern Pattern, double Weight)[] from, Random random)
    {
        var left = random.NextDouble() * from.Sum(each => each.Weight);
        foreach (var (pattern, weight) in from)
        {
            left -= weight;
            if (left <= 0)
            {
                return pattern;
            }
        }

        return from[^1].Pattern;
    }

    private static IReadOnlyList<PastGap> GapsFor(FedPlant plant, IEnumerable<FedPlant> sisters) => plant.Gaps.Count >= LeastOwn
        ? plant.Gaps
        : [.. sisters.Where(sister => sister.PlantId != plant.PlantId).SelectMany(sister => sister.Gaps.Select(gap => gap with { Days = Math.Max(1, (int)Math.Round(gap.Days * (double)plant.EveryDays / sister.EveryDays)) }))];

    // By the middle of each month. A resting plant has few gaps in winter, and they are its long ones: a wider season before another year, and that before all.
    private static int[][] ByMonth(IReadOnlyList<PastGap> gaps, DateOnly today)
    {
        IReadOnlyList<PastGap> newest = [.. gaps.Where(gap => today.DayNumber - gap.From.DayNumber <= NewestDays)];
        return
        [
            .. Enumerable.Range(1, Months).Select(month => new[] { newest, gaps }.SelectMany(years => s_seasons.Select(days => years.Where(gap => Apart(gap.From, month) <= days).Select(gap => gap.Days).ToArray()))
                .FirstOrDefault(season => season.Length >= LeastGaps) ?? [.. gaps.Select(gap => gap.Days)]),
        ];
    }

    // Quarter by quarter against the same quarter a year earlier, over the plants that were fed in both; what uneven gaps do by chance is taken off.
    private static double SpreadOf(FedPlant[] plants, DateOnly today)
    {
        var (squares, pairs) = (0.0, 0);
        for (var quarter = 0; quarter + QuartersPerYear < MostQuarters; quarter++)
        {
            var (now, then, chance) = (0, 0, 0.0);
            foreach (var plant in plants)
            {
                var (one, other) = (InQuarter(plant, quarter, today), InQuarter(plant, quarter + QuartersPerYear, today));
                if (one.Length == 0 || other.Length == 0)
                {
                    continue;
                }

                (now, then) = (now + one.Length, then + other.Length);
                var all = one.Concat(other).ToArray();
                var mean = all.Average();
                chance += all.Length * all.Sum(days => (days - mean) * (days - mean)) / all.Length / (mean * mean);
            }

            if (Math.Min(now, then) >= LeastFeeds)
            {
                // A count of renewals scatters by n times the squared coefficient of variation of its gaps (Cox 1962, "Renewal theory", from memory).
                squares += Math.Pow(Math.Log((double)now / then), 2) - chance / 2 * (1.0 / now / now + 1.0 / then / then);
                pairs++;
            }
        }

        return pairs >= QuartersPerYear ? Math.Sqrt(Math.Max(0, squares / pairs)) : 0;
    }

    private static int[] InQuarter(FedPlant plant, int quarter, DateOnly today)
    {
        var end = today.DayNumber - quarter * QuarterDays;
        return [.. plant.Gaps.Where(gap => gap.From.DayNumber < end && gap.From.DayNumber >= end - QuarterDays).Select(gap => gap.Days)];
    }

    private static (CanPattern, double)[][] PatternsOf(string recipe, IReadOnlyList<CanPattern> patterns, DateOnly today)
    {
        var all = patterns.Where(pattern => pattern.Recipes.GetValueOrDefault(recipe) > 0).ToList();
        var newest = all.Where(pattern => today.DayNumber - pattern.On.DayNumber <= NewestDays).ToList();
        return
        [
            .. Enumerable.Range(1, Months).Select(month =>
            {
                var season = newest.Where(pattern => Apart(pattern.On, month) <= SeasonDays).ToList();
                var from = season.Count >= LeastInSeason ? season : newest.Count >= LeastInSeason ? newest : all;
                return from.Select(pattern => (pattern, pattern.Recipes[recipe])).ToArray();
            }),
        ];
    }

    private static int Apart(DateOnly day, int month)
    {
        var days = Math.Abs(day.DayOfYear - new DateOnly(2001, month, 15).DayOfYear);
        return Math.Min(days, 365 - days);
    }

    private sealed record Seasoned(FedPlant Plant, int[][] GapsByMonth);
}
