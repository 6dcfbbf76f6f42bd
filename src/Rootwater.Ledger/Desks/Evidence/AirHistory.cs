namespace Rootwater.Ledger.Desks;

/// <summary>Mean warmth and light of each day at each place.</summary>
internal sealed class AirHistory
{
    private readonly Dictionary<(Guid Place, DateOnly Day), (double? Celsius, double? Light, double? Highest)> _days = [];
    private readonly Dictionary<(Guid Place, int DayOfYear), double> _usual = [];

    public bool HasWarmth { get; private set; }
    public bool HasLight { get; private set; }

    /// <summary>How much warmer than usual for the time of the year it was over so many days up to one, °C; null where fewer than half of them were logged.</summary>
    public double? Unusual(Guid place, DateOnly to, int days)
    {
        var (sum, count) = (0.0, 0);
        for (var i = 0; i < days; i++)
        {
            var day = to.AddDays(-i);
            if (_days.TryGetValue((place, day), out var means) && means.Celsius is { } celsius)
            {
                (sum, count) = (sum + celsius - _usual[(place, day.DayOfYear / 14)], count + 1);
            }
        }

        return 2 * count < days ? null : sum / count;
    }

    /// <summary>Mean of the days' highest temperatures over so many days up to one, °C; null where fewer than half of them were logged.</summary>
    public double? MeanHighest(Guid place, DateOnly to, int days)
    {
        var (sum, count) = (0.0, 0);
        for (var i = 0; i < days; i++)
        {
            if (_days.TryGetValue((place, to.AddDays(-i)), out var day) && day.Highest is { } highest)
            {
                (sum, count) = (sum + highest, count + 1);
            }
        }

        return 2 * count < days ? null : sum / count;
    }

    /// <summary>Means over the days from one to before another, each as read; null where fewer than a tenth of the days were.</summary>
    public (double? Celsius, double? Light) Between(IReadOnlyCollection<Guid> places, DateOnly from, DateOnly before)
    {
        var means = _days.Where(day => places.Contains(day.Key.Place) && day.Key.Day >= from && day.Key.Day < before).Select(day => day.Value).ToList();
        var least = (before.DayNumber - from.DayNumber) / 10;
        double? Mean(IEnumerable<double?> values)
        {
            var there = values.OfType<double>().ToList();
            return there.Count > Math.Max(3, least) ? there.Average() : null;
        }

        return (Mean(means.Select(day => day.Celsius)), Mean(means.Select(day => day.Light)));
    }

    public static async Task<AirHistory> ReadAsync(LedgerContext db, CancellationToken cancel)
    {
        var history = new AirHistory();
        foreach (var day in await ClimateInHand.OfAsync(db, null, DateOnly.MinValue, DateOnly.MaxValue, cancel))
        {
            history._days[(day.PlaceId, day.Day)] = (day.MeanAsRead, day.MeanPpfd, day.High);
        }

        history.Settle();
        return history;
    }

    private void Settle()
    {
        HasWarmth = _days.Values.Any(day => day.Celsius is not null);
        HasLight = _days.Values.Any(day => day.Light is not null);
        foreach (var fortnight in _days.Where(day => day.Value.Celsius is not null).GroupBy(day => (day.Key.Place, day.Key.Day.DayOfYear / 14)))
        {
            _usual[fortnight.Key] = fortnight.Average(day => day.Value.Celsius!.Value);
        }
    }
}
