using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;

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

/// <summary>One thing that may go with the loss of leaves.</summary>
internal sealed record Driver(string Name, string Unit, FeedPart Feed);

/// <summary>Where it is read: as it stood for a plant on a day; null where nothing is known of it. Holds all that was poured and logged, so it is let go once the intervals are cut.</summary>
internal sealed record DriverSource(string Name, string Unit, Func<EvidencePlant, DateOnly, double?> At, FeedPart Feed = FeedPart.None)
{
    public Driver Driver => new(Name, Unit, Feed);
}

/// <summary>Lives of leaves cut into intervals over which what drives them stands still: the rows of a Cox regression.</summary>
/// <remarks>A plant's drivers change by the fortnight, whichever leaf asks: they are kept once for each plant and fortnight, and the rows of its leaves, of which a large bench has two millions, are only counted.</remarks>
internal sealed class LeafIntervals
{
    /// <summary>Supply is read over so many days …</summary>
    public const int SupplyDays = 60;

    /// <summary>… up to a week before, since a leaf that falls was doomed before it fell.</summary>
    public const int LagDays = 7;
    private const int StepDays = 15;

    private readonly List<SteppedLife> _lives;
    private readonly int[] _plantOf;
    private readonly double[][] _columns;
    private readonly int[] _rows;

    public LeafIntervals(IReadOnlyList<(CountedLife Life, LeafLife Days)> lives, IReadOnlyList<DriverSource> drivers)
    {
        _lives = new List<SteppedLife>(lives.Count);
        var plants = lives.GroupBy(life => life.Life.Plant.Id)
            .Select(own => (own.First().Life.Plant, First: own.Min(life => SlotOf(life.Days.BornDay)), Last: own.Max(life => SlotOf(life.Days.LastDay)), Lives: own)).ToList();
        Plants = plants.Count;
        _plantOf = new int[plants.Sum(plant => plant.Last - plant.First + 1)];
        _columns = [.. drivers.Select(_ => new double[_plantOf.Length])];
        var kinds = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var at = 0;
        for (var i = 0; i < plants.Count; i++)
        {
            var (plant, first, last, own) = plants[i];
            foreach (var (life, days) in own)
            {
                // A leaf that came with its plant is compared by its time here, with others that came: its age is not known.
                var stratum = plant.KindWords + (life.AgeKnown ? "" : " (came)");
                kinds.TryAdd(stratum, kinds.Count);
                // Steps stand on a fixed grid of days, so that leaves of one plant share what was known.
                var slot = SlotOf(days.BornDay);
                _lives.Add(new SteppedLife(days.LastDay - days.BornDay, life.Lost, (slot + 1) * StepDays - days.BornDay, at + slot - first, kinds[stratum], i));
            }

            for (var slot = first; slot <= last; slot++, at++)
            {
                var day = DateOnly.FromDayNumber(slot * StepDays).AddDays(-LagDays);
                _plantOf[at] = i;
                for (var j = 0; j < drivers.Count; j++)
                {
                    _columns[j][at] = drivers[j].At(plant, day) ?? double.NaN;
                }
            }
        }

        _rows = CoxLives.RowsOf(_lives, StepDays, _plantOf.Length);
    }

    public int Plants { get; }

    /// <summary>Share of the rows in which a driver is not known.</summary>
    public double Unknown(int driver) => _rows.Sum(rows => (double)rows) is > 0 and var all ? 1 - Known(driver).Sum(at => (double)at.Rows) / all : 1;

    /// <summary>Standard deviation of a driver over the rows in which it is known.</summary>
    public double Spread(int driver)
    {
        var (n, mean) = Mean(driver);
        return n < 2 ? 0 : Math.Sqrt(Known(driver).Sum(at => at.Rows * (at.Value - mean) * (at.Value - mean)) / n);
    }

    /// <summary>Plants of which a driver was known at more than one value.</summary>
    public int VariesIn(int driver) => Known(driver).GroupBy(at => at.Plant, at => at.Value).Count(own => own.Max() > own.Min());

    /// <summary>How two drivers go together over all rows in which both are known, -1 to 1; 0 where either never varies.</summary>
    public double Together(int one, int other)
    {
        double n = 0, x = 0, y = 0, xx = 0, yy = 0, xy = 0;
        for (var i = 0; i < _rows.Length; i++)
        {
            var (a, b, rows) = (_columns[one][i], _columns[other][i], _rows[i]);
            if (rows > 0 && !double.IsNaN(a) && !double.IsNaN(b))
            {
                (n, x, y, xx, yy, xy) = (n + rows, x + rows * a, y + rows * b, xx + rows * a * a, yy + rows * b * b, xy + rows * a * b);
            }
        }

        var spread = (n * xx - x * x) * (n * yy - y * y);
        return spread > 1e-12 ? (n * xy - x * y) / Math.Sqrt(spread) : 0;
    }

    /// <summary>The regression; what is not known in a row says nothing for or against it.</summary>
    public CoxLives Request(IReadOnlyList<string> names, IReadOnlyList<int> columns) => new()
    {
        StepLength = StepDays,
        Lives = _lives,
        Names = names,
        Covariates = [.. columns.Select(j => _columns[j])],
        ByCluster = Plants > 1,
        Check = TimeScale.KaplanMeier,
    };

    private static int SlotOf(double day) => (int)Math.Floor(day / StepDays);

    private IEnumerable<(double Value, int Rows, int Plant)> Known(int driver) =>
        Enumerable.Range(0, _rows.Length).Where(i => _rows[i] > 0 && !double.IsNaN(_columns[driver][i])).Select(i => (_columns[driver][i], _rows[i], _plantOf[i]));

    private (double Rows, double Mean) Mean(int driver)
    {
        var (rows, sum) = (0.0, 0.0);
        foreach (var at in Known(driver))
        {
            (rows, sum) = (rows + at.Rows, sum + at.Rows * at.Value);
        }

        return (rows, rows > 0 ? sum / rows : 0);
    }
}
