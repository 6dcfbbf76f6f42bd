using Rootwater.Growing;

namespace Rootwater.Ledger.Desks;

/// <summary>Values of plants by the month, and their common course: each plant's own level is taken out first, so that a plant that comes or goes does not move the series.</summary>
internal sealed class MonthlySeries
{
    private readonly Dictionary<EvidencePlant, SortedDictionary<int, double>> _values = [];

    public string Unit { get; private init; } = "";

    /// <summary>Values by plant; the key is the month counted from year 0.</summary>
    public IReadOnlyDictionary<EvidencePlant, SortedDictionary<int, double>> Values => _values;

    public static int Index(DateOnly day) => day.Year * 12 + day.Month - 1;

    public static DateOnly First(int index) => new(index / 12, index % 12 + 1, 1);

    public static MonthlySeries Of(SeriesOf of, IReadOnlyList<EvidencePlant> plants, FeedHistory history, DateOnly today)
    {
        var series = new MonthlySeries { Unit = of switch { SeriesOf.ReservoirEc => "µS/cm", SeriesOf.ReservoirPH => "pH", SeriesOf.Leaves => "leaves per plant", SeriesOf.LeafLength => "mm", _ => "mg/L" } };
        foreach (var plant in plants)
        {
            var values = new SortedDictionary<int, double>();
            foreach (var month in Raw(of, plant, history, today).GroupBy(value => Index(value.Day)))
            {
                var weight = month.Sum(value => value.Weight);
                if (weight > 0)
                {
                    values[month.Key] = month.Sum(value => value.Value * value.Weight) / weight;
                }
            }

            if (values.Count > 0)
            {
                series._values[plant] = values;
            }
        }

        return series;
    }

    private static IEnumerable<(DateOnly Day, double Value, double Weight)> Raw(SeriesOf of, EvidencePlant plant, FeedHistory history, DateOnly today) => of switch
    {
        SeriesOf.ReservoirEc => history.ReadingsOf(plant.Id).Where(reading => reading.Ec is not null).Select(reading => (reading.Day, reading.Ec!.Value, 1.0)),
        SeriesOf.ReservoirPH => history.ReadingsOf(plant.Id).Where(reading => reading.PH is not null).Select(reading => (reading.Day, reading.PH!.Value, 1.0)),
        SeriesOf.PotassiumPoured => Poured(plant, history, mg => mg[Nutrient.Potassium]),
        SeriesOf.NitrogenPoured => Poured(plant, history, mg => mg.TotalNitrogen),
        SeriesOf.LeafLength => plant.Growths.SelectMany(growth => growth.Leaves)
            .Where(leaf => !leaf.ThereOnArrival && leaf.Measures.Any(measure => measure.LengthMillimetres is not null))
            .Select(leaf => (leaf.FirstSeen.Middle, leaf.Measures.Max(measure => measure.LengthMillimetres ?? 0), 1.0)),
        _ => Leaves(plant, today),
    };

    private static IEnumerable<(DateOnly, double, double)> Poured(EvidencePlant plant, FeedHistory history, Func<NutrientAmounts, double> of) =>
        history.Of(plant.Id).Where(pour => pour.MgPerLitre is not null).Select(pour => (pour.Day, of(pour.MgPerLitre!), pour.Millilitres));

    private static IEnumerable<(DateOnly, double, double)> Leaves(EvidencePlant plant, DateOnly today)
    {
        var lives = CountedLife.Of(plant, LivesOf.Leaves, today).ToList();
        for (var month = Index(plant.Arrived.Latest) + 1; First(month).AddDays(14) < (plant.Left?.Earliest ?? today); month++)
        {
            var middle = First(month).AddDays(14);
            yield return (middle, lives.Count(life => life.Began.Middle <= middle && (life.Until.Middle > middle || life.Why == "still there")), 1);
        }
    }

    /// <summary>The common course from the first month to the last, with how many plants went into each; null where none did.</summary>
    public (int FirstMonth, double?[] Means, int[] Counts) Course()
    {
        if (_values.Count == 0)
        {
            return (0, [], []);
        }

        var (first, last) = (_values.Values.Min(values => values.Keys.First()), _values.Values.Max(values => values.Keys.Last()));
        var all = _values.Values.SelectMany(values => values.Values).Average();
        var (sums, counts) = (new double[last - first + 1], new int[last - first + 1]);
        foreach (var values in _values.Values)
        {
            var own = values.Values.Average();
            foreach (var (month, value) in values)
            {
                sums[month - first] += value - own + all;
                counts[month - first]++;
            }
        }

        return (first, [.. sums.Select((sum, i) => counts[i] == 0 ? (double?)null : sum / counts[i])], counts);
    }
}
