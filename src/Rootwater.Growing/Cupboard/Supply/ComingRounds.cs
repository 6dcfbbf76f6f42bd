namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>Days between two feeds of a plant, or between two walks, that did pass.</summary>
/// <param name="From">The day of the first.</param>
/// <param name="Days">1 or more.</param>
/// <param name="In">Of a feed: how the pot held water that was filled on that day.</param>
/// <param name="Millilitres">Of a feed: how much it got on that day.</param>
public readonly record struct PastGap(DateOnly From, int Days, Culture In = Culture.Wicking, double Millilitres = 0)
{
    public DateOnly To => From.AddDays(Days);
}

/// <summary>A plant that stands on the bench and is to be fed again.</summary>
/// <param name="PlantId">Which.</param>
/// <param name="Recipe">What decides from which cans it is fed: the name of its want.</param>
/// <param name="LastFedOn">Null where never.</param>
/// <param name="EveryDays">Days between feeds that its pot asks for.</param>
/// <param name="Millilitres">Of one feed.</param>
/// <param name="Gaps">Days between its own feeds so far: rests, leaches and "still full" are in them.</param>
public sealed record FedPlant(Guid PlantId, string Recipe, DateOnly? LastFedOn, int EveryDays, double Millilitres, IReadOnlyList<PastGap> Gaps)
{
    /// <summary>Of the pot it stands in. Gaps in a pot of another culture say nothing of those to come: an open mix is fed twice as often as a reservoir.</summary>
    public Culture Culture { get; init; } = Culture.Wicking;

    /// <summary>As on its tag: plants of one kind rest alike. Empty where not known.</summary>
    public string Kind { get; init; } = "";

    /// <summary>The months in which its kind takes no feed, here; for a plant that nothing on this bench tells more of. Null where it has no such rest.</summary>
    public FeedlessMonths? KindRests { get; init; }

    /// <summary>False where its kind is known to grow on all year: a long gap is then chance, or a pot that was full in the dark months.</summary>
    public bool MayRest { get; init; } = true;

    /// <summary>Seen at rest, and not seen to wake since.</summary>
    public bool IsResting { get; init; }

    /// <summary>As it stood on a day of its past; null where it was not fed twice by then.</summary>
    internal FedPlant? On(DateOnly day)
    {
        PastGap[] gaps = [.. Gaps.Where(gap => gap.To <= day)];
        var running = Gaps.FirstOrDefault(gap => gap.From <= day && gap.To > day);
        var last = running.Days > 0 ? running : gaps.LastOrDefault();
        return gaps.Length == 0 ? null : this with { LastFedOn = gaps.Max(gap => gap.To), Gaps = gaps, Culture = last.In, Millilitres = last.Millilitres, IsResting = false };
    }
}

/// <summary>Months without feed, both whole, 1 to 12; may run over the turn of the year.</summary>
public readonly record struct FeedlessMonths(int From, int To);

/// <summary>A can of the past as a pattern for one to come.</summary>
/// <param name="On">When it was mixed.</param>
/// <param name="GramsPerLitre">Of each product.</param>
/// <param name="WaterShares">Share of each water in it; adds up to about 1.</param>
/// <param name="Litres">Mixed.</param>
/// <param name="LitresPoured">That reached a plant, above 0: the rest went down the drain.</param>
/// <param name="Recipes">Millilitres that went to plants of each recipe.</param>
public sealed record CanPattern(DateOnly On, IReadOnlyDictionary<Guid, double> GramsPerLitre, IReadOnlyDictionary<Guid, double> WaterShares, double Litres, double LitresPoured, IReadOnlyDictionary<string, double> Recipes)
{
    /// <summary>Mixed and poured to nobody.</summary>
    public double LitresLeft => Math.Max(0, Litres - LitresPoured);
}

/// <summary>One can of a drawn future.</summary>
/// <param name="On">When.</param>
/// <param name="Pattern">Mixed like this one.</param>
/// <param name="Litres">Mixed, waste included.</param>
/// <param name="Plants">Fed from it.</param>
public readonly record struct ComingCan(DateOnly On, CanPattern Pattern, double Litres, int Plants);

/// <summary>The coming rounds, drawn from who is due.</summary>
/// <remarks>
/// Each plant that stands here is fed again after a gap of the season drawn from <see cref="GapsAhead"/>; the first gap only
/// from those longer than what has passed already. Rests are not among them: <see cref="RestsAhead"/> says when no feed is taken. Walks come at the gaps they came at; a plant is fed on the
/// walk nearest to its day. What is mixed for those fed on one walk <see cref="CansAhead"/> says. Plants that come or go later are not foreseen.
/// </remarks>
public sealed class ComingRounds
{
    private const int UsualWalkDays = 7;
    private const int Lookbacks = 8, LookbackDays = 90, LookbackDraws = 10;

    // How far a quarter is usually off, and how many looks that counts for. Years that went by without a change do not say that none will come. From memory, no source; chosen with seeds 36 and 61 of the demo in view.
    private const double UsualSpread = 0.15;
    private const int UsualLooks = 4;

    // What moves a quarter mostly moves the next: two looks tell about as much as one would alone.
    private const double WorthOfALook = 2;

    private readonly DateOnly _today;
    private readonly DateOnly? _lastWalk;
    private readonly PastGap[] _walks;
    private readonly int[][] _walksByMonth;
    private readonly Seasoned[] _plants;
    private readonly CansAhead _cans;
    private readonly (double Log, double Variance)[] _missedBy;
    private readonly double _halfWalk;

    /// <param name="plants">Those that stand here.</param>
    /// <param name="patterns">Cans of the past.</param>
    /// <param name="walks">Days on which anything was fed.</param>
    /// <param name="today">Nothing is drawn before it.</param>
    public ComingRounds(IReadOnlyList<FedPlant> plants, IReadOnlyList<CanPattern> patterns, IReadOnlyCollection<DateOnly> walks, DateOnly today)
        : this(plants, patterns, walks, today, lookBack: true)
    {
    }

    private ComingRounds(IReadOnlyList<FedPlant> plants, IReadOnlyList<CanPattern> patterns, IReadOnlyCollection<DateOnly> walks, DateOnly today, bool lookBack)
    {
        _today = today;
        var days = walks.Where(day => day <= today).Distinct().Order().ToList();
        _lastWalk = days.Count > 0 ? days[^1] : null;
        _walks = [.. days.Zip(days.Skip(1), (one, next) => new PastGap(one, next.DayNumber - one.DayNumber))];
        _walksByMonth = GapsAhead.ByMonth(_walks, today);
        _halfWalk = (_walks.Length > 0 ? _walks.Average(gap => gap.Days) : UsualWalkDays) / 2;
        _cans = new CansAhead(patterns, today);
        var fed = plants.Where(plant => _cans.Serves(plant.Recipe)).ToList();
        var rests = RestsAhead.Of(fed, today);
        var gaps = new GapsAhead(fed, rests, today);
        _plants = [.. fed.Select(plant => new Seasoned(plant, gaps.ByMonth(plant), rests[plant.PlantId]))];
        _missedBy = lookBack ? [.. MissedBy(plants, patterns, walks, today)] : [];
        var looks = _missedBy.Length / WorthOfALook;
        Spread = Math.Sqrt((UsualLooks * UsualSpread * UsualSpread + Math.Max(0, _missedBy.Sum(missed => missed.Log * missed.Log - missed.Variance)) / WorthOfALook) / (UsualLooks + looks));
        Unfed = [.. plants.Where(plant => !_cans.Serves(plant.Recipe)).Select(plant => plant.PlantId)];
    }

    /// <summary>Plants of whose recipe no can is on record: what they will take nobody can say.</summary>
    public IReadOnlyList<Guid> Unfed { get; }

    /// <summary>How far such forecasts were off here, made at eight days of the past two years for the quarter after each, as a standard deviation of the logarithm beyond the scatter of their own draws; what is usual counts with it, and is all there is on a new bench.</summary>
    /// <remarks>Weather, habits, newcomers, other pots: what moves all cans of a half-year at once, while plants drawn one by one scatter too little.</remarks>
    public double Spread { get; }

    /// <summary>How strong one future is against the drawn rounds, for all cans alike: Student's t, for so few looks back tell little of their own spread.</summary>
    public double DrawStrength(Random random)
    {
        const int degrees = UsualLooks;
        var squares = Enumerable.Range(0, degrees).Sum(_ => Math.Pow(Normal(random), 2));
        return Math.Exp(Spread * Normal(random) / Math.Sqrt(squares / degrees));
    }

    /// <summary>Whether anything can be drawn at all.</summary>
    public bool HasAny => _plants.Length > 0;

    /// <summary>One future up to a day, in order.</summary>
    public IEnumerable<ComingCan> Draw(DateOnly end, Random random)
    {
        var next = new double[_plants.Length];
        var rests = new DrawnRests[_plants.Length];
        for (var i = 0; i < _plants.Length; i++)
        {
            rests[i] = _plants[i].Rests.Draw(end, random);
            next[i] = rests[i].After(FirstDay(_plants[i], random));
        }

        var served = new Dictionary<CansAhead.Shared, (double Litres, int Plants)>();
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
                var can = _cans.Of(plant.Recipe);
                served.TryGetValue(can, out var so);
                served[can] = (so.Litres + plant.Millilitres / 1000, so.Plants + 1);
                next[i] = rests[i].After(day.DayNumber + GapFrom(_plants[i].GapsByMonth, day, random, plant.EveryDays));
            }

            foreach (var can in served.SelectMany(each => each.Key.Mix(day, each.Value.Litres, each.Value.Plants, random)))
            {
                yield return can;
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

    // Only what went to those who stand here now: those who left are in neither.
    private static IEnumerable<(double Log, double Variance)> MissedBy(IReadOnlyList<FedPlant> plants, IReadOnlyList<CanPattern> patterns, IReadOnlyCollection<DateOnly> walks, DateOnly today)
    {
        for (var back = 1; back <= Lookbacks; back++)
        {
            var (from, to) = (today.AddDays(-back * LookbackDays), today.AddDays(-(back - 1) * LookbackDays));
            var mixed = patterns.Where(can => can.On > from && can.On <= to).Sum(can => can.Litres * can.Recipes.Values.Sum() / 1000 / can.LitresPoured);
            var then = new ComingRounds([.. plants.Select(plant => plant.On(from)).OfType<FedPlant>()], [.. patterns.Where(can => can.On <= from)], [.. walks.Where(day => day <= from)], from, lookBack: false);
            if (mixed <= 0 || !then.HasAny)
            {
                continue;
            }

            var random = new Random(back);
            double[] drawn = [.. Enumerable.Range(0, LookbackDraws).Select(_ => then.Draw(to, random).Where(can => can.On > from).Sum(can => can.Litres)).Where(litres => litres > 0).Select(litres => Math.Log(litres))];
            if (drawn.Length == LookbackDraws)
            {
                var mean = drawn.Average();
                yield return (Math.Log(mixed) - mean, drawn.Average(log => (log - mean) * (log - mean)));
            }
        }
    }

    // Box and Muller (1958).
    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private sealed record Seasoned(FedPlant Plant, int[][] GapsByMonth, RestsAhead Rests);
}
