using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Ledger.Desks;

/// <summary>An EC that was read of a pot.</summary>
/// <param name="Day">Day.</param>
/// <param name="LogEc">Logarithm of µS/cm.</param>
/// <param name="OfMedium">Of the water of the medium (run-off, or drawn from it), else of the reservoir.</param>
internal readonly record struct EcRead(DateOnly Day, double LogEc, bool OfMedium);

/// <summary>
/// EC of the water in the medium of each pot, day by day, with how far it may be off: a random walk of its logarithm between readings, which a leach or a new pot throws further. A reservoir
/// reads on the medium's scale by how the two were to each other in that pot, drawn towards the bench's mean where they were seldom read together.
/// </summary>
/// <remarks>
/// How fast EC walks, how far a leach throws it and how ill the reservoir stands for the medium are moments of the bench's own readings. Before and after a day are filtered apart and joined by
/// their precisions (Fraser and Potter 1969, from memory).
/// </remarks>
internal sealed class RootEc
{
    /// <summary>Readings of reservoir and medium so near to each other are of one pot at one time.</summary>
    private const int PairDays = 21;

    /// <summary>A pot's own ratio of medium to reservoir counts as much as the bench's mean from so many pairs on.</summary>
    private const double RatioPairs = 4;

    /// <summary>Of a reading on the logarithm: a pen's error and that of the sample.</summary>
    private const double ReadVariance = 0.05 * 0.05;

    private readonly Dictionary<Guid, Seen[]> _seen = [];
    private readonly Dictionary<Guid, DateOnly[]> _breaks;
    private readonly double _perDay, _perBreak;

    /// <param name="reads">Of each plant, in order of days.</param>
    /// <param name="breaks">Leaches and new pots of each plant, in order of days.</param>
    public RootEc(IReadOnlyDictionary<Guid, EcRead[]> reads, Dictionary<Guid, DateOnly[]> breaks)
    {
        _breaks = breaks;
        var (walked, days, thrown, throws) = (0.0, 0.0, 0.0, 0);
        foreach (var (last, next, leaches) in reads.SelectMany(plant => new[] { true, false }.SelectMany(medium => Neighbours(plant.Key, [.. plant.Value.Where(read => read.OfMedium == medium)]))))
        {
            var square = Math.Pow(next.LogEc - last.LogEc, 2) - 2 * ReadVariance;
            if (leaches == 0)
            {
                (walked, days) = (walked + square, days + next.Day.DayNumber - last.Day.DayNumber);
            }
            else if (leaches == 1)
            {
                (thrown, throws) = (thrown + square, throws + 1);
            }
        }

        _perDay = days > 0 ? Math.Clamp(walked / days, 1e-4, 0.05) : 0.005;
        _perBreak = throws > 0 ? Math.Max(thrown / throws, 4 * _perDay) : 0.25;
        var pairs = reads.ToDictionary(plant => plant.Key, plant => Pairs(plant.Key, plant.Value));
        var all = pairs.Values.SelectMany(own => own).ToList();
        // Where the two were never read together the reservoir has to do as it is.
        var bench = all.Count == 0 ? 0 : all.Average();
        var ratios = pairs.ToDictionary(plant => plant.Key, plant => (plant.Value.Sum() + RatioPairs * bench) / (plant.Value.Count + RatioPairs));
        var reservoir = all.Count < 3 ? 0.15 : Math.Max(ReadVariance, pairs.Sum(plant => plant.Value.Sum(log => Math.Pow(log - ratios[plant.Key], 2))) / all.Count);
        foreach (var (plant, own) in reads)
        {
            _seen[plant] = Filter(plant, [.. own.Select(read => new Seen(read.Day, read.OfMedium ? read.LogEc : read.LogEc + ratios[plant], read.OfMedium ? ReadVariance : reservoir, default, default))]);
        }
    }

    /// <summary>Chance that EC in the medium was above a limit on a day; null where no reading is near enough to say anything.</summary>
    /// <param name="plant">Whose pot.</param>
    /// <param name="day">Day.</param>
    /// <param name="limit">µS/cm.</param>
    public double? ChanceAbove(Guid plant, DateOnly day, double limit) => On(plant, day) is { } state ? Tails.NormalUpper((Math.Log(limit) - state.Mean) / Math.Sqrt(state.Variance)) : null;

    /// <summary>Logarithm of EC in the medium on a day, µS/cm; null where no reading is near enough to say anything.</summary>
    public (double Mean, double Variance)? On(Guid plant, DateOnly day)
    {
        var seen = _seen.GetValueOrDefault(plant, []);
        var next = 0;
        while (next < seen.Length && seen[next].Day <= day)
        {
            next++;
        }

        var before = next > 0 ? Later(plant, seen[next - 1].Before, seen[next - 1].Day, day) : Filtered.None;
        var after = next < seen.Length ? Later(plant, seen[next].After, day, seen[next].Day) : Filtered.None;
        var precision = before.Precision + after.Precision;
        // Wider than what lies between fed and salty it says nothing.
        return precision < 1 / (0.8 * 0.8) ? null : ((before.Mean * before.Precision + after.Mean * after.Precision) / precision, 1 / precision);
    }

    /// <summary>Mean of that over days up to one, looked at once a week; null where none of them can be told.</summary>
    public double? MeanLog(Guid plant, DateOnly to, int days)
    {
        var (sum, count) = (0.0, 0);
        for (var back = 0; back <= days; back += 7)
        {
            if (On(plant, to.AddDays(-back)) is { } state)
            {
                (sum, count) = (sum + state.Mean, count + 1);
            }
        }

        return count == 0 ? null : sum / count;
    }

    private Seen[] Filter(Guid plant, Seen[] seen)
    {
        for (var i = 0; i < seen.Length; i++)
        {
            var carried = i == 0 ? Filtered.None : Later(plant, seen[i - 1].Before, seen[i - 1].Day, seen[i].Day);
            seen[i] = seen[i] with { Before = carried.With(seen[i].LogEc, seen[i].Variance) };
        }

        for (var i = seen.Length - 1; i >= 0; i--)
        {
            var carried = i == seen.Length - 1 ? Filtered.None : Later(plant, seen[i + 1].After, seen[i].Day, seen[i + 1].Day);
            seen[i] = seen[i] with { After = carried.With(seen[i].LogEc, seen[i].Variance) };
        }

        return seen;
    }

    /// <summary>What is known at one end of a stretch of days as far as it is known at the other.</summary>
    private Filtered Later(Guid plant, Filtered known, DateOnly from, DateOnly to) =>
        known.Precision <= 0 ? known : known with { Precision = 1 / (1 / known.Precision + _perDay * (to.DayNumber - from.DayNumber) + _perBreak * Breaks(plant, from, to)) };

    private int Breaks(Guid plant, DateOnly from, DateOnly to) => _breaks.GetValueOrDefault(plant, []).Count(day => day >= from && day < to);

    private IEnumerable<(EcRead Last, EcRead Next, int Breaks)> Neighbours(Guid plant, EcRead[] reads) =>
        reads.Zip(reads.Skip(1), (last, next) => (last, next, Breaks(plant, last.Day, next.Day)));

    private List<double> Pairs(Guid plant, EcRead[] reads)
    {
        var pairs = new List<double>();
        foreach (var medium in reads.Where(read => read.OfMedium))
        {
            var near = reads.Where(read => !read.OfMedium && Math.Abs(read.Day.DayNumber - medium.Day.DayNumber) <= PairDays
                && Breaks(plant, read.Day < medium.Day ? read.Day : medium.Day, read.Day < medium.Day ? medium.Day : read.Day) == 0).ToList();
            if (near.Count > 0)
            {
                pairs.Add(medium.LogEc - near.MinBy(read => Math.Abs(read.Day.DayNumber - medium.Day.DayNumber)).LogEc);
            }
        }

        return pairs;
    }

    /// <param name="Day">Day.</param>
    /// <param name="LogEc">On the medium's scale.</param>
    /// <param name="Variance">Of the reading as a word on the medium.</param>
    /// <param name="Before">What this and all earlier readings say of its day.</param>
    /// <param name="After">What this and all later readings say of its day.</param>
    private readonly record struct Seen(DateOnly Day, double LogEc, double Variance, Filtered Before, Filtered After);

    private readonly record struct Filtered(double Mean, double Precision)
    {
        public static Filtered None => default;

        public Filtered With(double value, double variance) => new((Mean * Precision + value / variance) / (Precision + 1 / variance), Precision + 1 / variance);
    }
}
