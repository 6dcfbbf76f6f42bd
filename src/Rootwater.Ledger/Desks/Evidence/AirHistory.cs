using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Climate;

namespace Rootwater.Ledger.Desks;

/// <summary>Mean warmth and light of each day at each place. A logged day never changes once it is written: its means are worked out once and kept under the id of its fact.</summary>
internal sealed class AirHistory
{
    private const int MostDays = 200_000;
    private static readonly ConcurrentDictionary<Guid, (double? Celsius, double? Light, double? Highest)> s_days = [];
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
        var logged = await db.AirDays.Select(air => new { air.FactId, air.PlaceId, air.Day }).ToListAsync(cancel);
        if (s_days.Count > MostDays)
        {
            s_days.Clear();
        }

        if (logged.Exists(air => !s_days.ContainsKey(air.FactId)))
        {
            var lamps = await ReadingDesk.LampsAsync(db, cancel);
            var many = logged.Count(air => !s_days.ContainsKey(air.FactId)) > 500;
            var missing = many ? [] : logged.Where(air => !s_days.ContainsKey(air.FactId)).Select(air => air.FactId).ToList();
            await foreach (var air in db.AirDays.Where(air => many || missing.Contains(air.FactId)).AsAsyncEnumerable().WithCancellation(cancel))
            {
                s_days[air.FactId] = (Mean(air.Samples.Select(sample => sample.TemperatureCelsius)), Mean(air.LightUnder(lamps.GetValueOrDefault(air.PlaceId, Lamp.Sun)).Select(light => (double?)light.Ppfd)), Highest(air.Samples.Select(sample => sample.TemperatureCelsius)));
            }
        }

        foreach (var air in logged)
        {
            history._days[(air.PlaceId, air.Day)] = s_days[air.FactId];
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

    private static double? Highest(IEnumerable<double?> values)
    {
        var there = values.OfType<double>().ToList();
        return there.Count == 0 ? null : there.Max();
    }

    private static double? Mean(IEnumerable<double?> values)
    {
        var there = values.OfType<double>().ToList();
        return there.Count == 0 ? null : there.Average();
    }
}
