using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Ledger.Desks;

/// <summary>What of a feed a driver is.</summary>
internal enum FeedPart
{
    None,

    /// <summary>One nutrient against the rest.</summary>
    Share,

    /// <summary>All of it: a stronger feed brings more of each nutrient.</summary>
    Whole,
}

/// <summary>One thing that may go with the loss of leaves, as it stood for a plant on a day; null where nothing is known of it.</summary>
internal sealed record Driver(string Name, string Unit, Func<EvidencePlant, DateOnly, double?> At, FeedPart Feed = FeedPart.None);

/// <summary>Lives of leaves cut into intervals over which what drives them stands still: the rows of a Cox regression.</summary>
internal sealed class LeafIntervals
{
    /// <summary>Supply is read over so many days …</summary>
    public const int SupplyDays = 60;

    /// <summary>… up to a week before, since a leaf that falls was doomed before it fell.</summary>
    public const int LagDays = 7;
    private const int StepDays = 15;

    private readonly List<double> _entry = [], _exit = [];
    private readonly List<bool> _ended = [];
    private readonly List<int> _strata = [], _clusters = [];
    private readonly List<double>[] _columns;

    public LeafIntervals(IReadOnlyList<(CountedLife Life, double Born, double Last)> lives, IReadOnlyList<Driver> drivers)
    {
        _columns = [.. drivers.Select(_ => new List<double>())];
        var kinds = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var plants = new Dictionary<Guid, int>();
        // A plant's drivers change by the fortnight, whichever leaf asks.
        var known = new Dictionary<(Guid, int), double?[]>();
        foreach (var (life, born, last) in lives)
        {
            // A leaf that came with its plant is compared by its time here, with others that came: its age is not known.
            var stratum = life.Plant.KindWords + (life.AgeKnown ? "" : " (came)");
            kinds.TryAdd(stratum, kinds.Count);
            plants.TryAdd(life.Plant.Id, plants.Count);
            // Steps stand on a fixed grid of days, so that leaves of one plant share what was known.
            for (var from = born; from < last;)
            {
                var to = Math.Min(last, (Math.Floor(from / StepDays) + 1) * StepDays);
                var slot = (int)Math.Floor(from / StepDays);
                if (!known.TryGetValue((life.Plant.Id, slot), out var values))
                {
                    var day = DateOnly.FromDayNumber(slot * StepDays).AddDays(-LagDays);
                    known[(life.Plant.Id, slot)] = values = [.. drivers.Select(driver => driver.At(life.Plant, day))];
                }

                _entry.Add(from == born ? double.NegativeInfinity : from - born);
                _exit.Add(to - born);
                _ended.Add(life.Lost && to == last);
                _strata.Add(kinds[stratum]);
                _clusters.Add(plants[life.Plant.Id]);
                for (var j = 0; j < values.Length; j++)
                {
                    _columns[j].Add(values[j] ?? double.NaN);
                }

                from = to;
            }
        }

        Plants = plants.Count;
    }

    public int Plants { get; }
    public int Rows => _exit.Count;

    /// <summary>Share of the rows in which a driver is not known.</summary>
    public double Unknown(int driver) => _columns[driver].Count == 0 ? 1 : _columns[driver].Count(double.IsNaN) / (double)_columns[driver].Count;

    /// <summary>Standard deviation of a driver over the rows in which it is known.</summary>
    public double Spread(int driver)
    {
        var known = _columns[driver].Where(value => !double.IsNaN(value)).ToList();
        var mean = known.DefaultIfEmpty(0).Average();
        return known.Count < 2 ? 0 : Math.Sqrt(known.Sum(value => (value - mean) * (value - mean)) / known.Count);
    }

    /// <summary>Plants of which a driver was known at more than one value.</summary>
    public int VariesIn(int driver) =>
        _columns[driver].Zip(_clusters).Where(row => !double.IsNaN(row.First)).GroupBy(row => row.Second, row => row.First).Count(own => own.Max() > own.Min());

    /// <summary>How two drivers go together over all rows in which both are known, -1 to 1; 0 where either never varies.</summary>
    public double Together(int one, int other)
    {
        double n = 0, x = 0, y = 0, xx = 0, yy = 0, xy = 0;
        for (var i = 0; i < Rows; i++)
        {
            var (a, b) = (_columns[one][i], _columns[other][i]);
            if (!double.IsNaN(a) && !double.IsNaN(b))
            {
                (n, x, y, xx, yy, xy) = (n + 1, x + a, y + b, xx + a * a, yy + b * b, xy + a * b);
            }
        }

        var spread = (n * xx - x * x) * (n * yy - y * y);
        return spread > 1e-12 ? (n * xy - x * y) / Math.Sqrt(spread) : 0;
    }

    /// <summary>The regression. What is not known in a row stands at the mean of the rest, which says nothing for or against it.</summary>
    public CoxRequest Request(IReadOnlyList<string> names, IReadOnlyList<int> columns) => new()
    {
        Entry = [.. _entry],
        Exit = [.. _exit],
        Ended = [.. _ended],
        Names = names,
        Covariates = [.. columns.Select(j => Filled(_columns[j]))],
        Strata = [.. _strata],
        Clusters = Plants > 1 ? [.. _clusters] : null,
        Check = TimeScale.KaplanMeier,
    };

    private static double[] Filled(List<double> column)
    {
        var mean = column.Where(value => !double.IsNaN(value)).DefaultIfEmpty(0).Average();
        return [.. column.Select(value => double.IsNaN(value) ? mean : value)];
    }
}
