using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// The air of the last week at each place, in a few figures. A logged day holds hundreds of samples and never changes once it is written, so
/// what a day comes to is worked out once and kept under the id of its fact.
/// </summary>
internal static class AirInHand
{
    private const int MostDays = 5000;
    private static readonly ConcurrentDictionary<Guid, Sum> s_days = [];

    /// <summary>By place, from typed readings and logged days together.</summary>
    public static async Task<Dictionary<Guid, Air>> OfWeekAsync(LedgerContext db, DateOnly day, CancellationToken cancel)
    {
        var since = day.AddDays(-7);
        var from = FactWhen.ToStored(since.ToDateTime(TimeOnly.MinValue));
        var to = FactWhen.ToStored(day.ToDateTime(new TimeOnly(23, 59)));
        var typed = await PlainSql.ReadAsync(
            db, "SELECT place_id, at, temperature_celsius, relative_humidity FROM taken_readings WHERE \"of\" = @air AND place_id IS NOT NULL AND at >= @from AND at <= @to",
            [("air", (int)ReadingOf.Air), ("from", from), ("to", to)],
            row => new Typed(row.GetGuid(0), row.GetString(1), row.DoubleOrNull(2), row.DoubleOrNull(3)), cancel);
        var logged = await PlainSql.ReadAsync(
            db, "SELECT fact_id, place_id FROM air_days WHERE day >= @since AND day <= @day", [("since", since), ("day", day)], row => new Logged(row.GetGuid(0), row.GetGuid(1)), cancel);
        if (s_days.Count > MostDays)
        {
            s_days.Clear();
        }

        var unread = logged.Where(air => !s_days.ContainsKey(air.FactId)).Select(air => air.FactId).ToList();
        foreach (var air in unread.Count == 0 ? [] : await db.AirDays.Where(air => unread.Contains(air.FactId)).ToListAsync(cancel))
        {
            var sum = new Sum();
            foreach (var sample in air.Samples)
            {
                sum.Add(FactWhen.ToStored(air.Day.ToDateTime(TimeOnly.MinValue).AddMinutes(sample.Minute)), sample.TemperatureCelsius, sample.RelativeHumidity);
            }

            s_days[air.FactId] = sum;
        }

        var places = new Dictionary<Guid, Sum>();
        foreach (var reading in typed)
        {
            At(reading.PlaceId).Add(reading.At, reading.TemperatureCelsius, reading.RelativeHumidity);
        }

        foreach (var air in logged)
        {
            if (s_days.TryGetValue(air.FactId, out var sum))
            {
                At(air.PlaceId).Add(sum);
            }
        }

        return places.ToDictionary(place => place.Key, place => place.Value.ToAir());

        Sum At(Guid place)
        {
            if (!places.TryGetValue(place, out var sum))
            {
                places[place] = sum = new Sum();
            }

            return sum;
        }
    }

    private sealed record Typed(Guid PlaceId, string At, double? TemperatureCelsius, double? RelativeHumidity);

    private sealed record Logged(Guid FactId, Guid PlaceId);

    private sealed class Sum
    {
        private double _celsius, _humidity, _lowest = double.PositiveInfinity;
        private int _celsiusCount, _humidityCount;
        private (string At, double Celsius)? _last;

        public void Add(string at, double? celsius, double? humidity)
        {
            if (celsius is { } warm)
            {
                (_celsius, _celsiusCount, _lowest) = (_celsius + warm, _celsiusCount + 1, Math.Min(_lowest, warm));
                if (_last is not { } last || string.CompareOrdinal(at, last.At) >= 0)
                {
                    _last = (at, warm);
                }
            }

            if (humidity is { } moist)
            {
                (_humidity, _humidityCount) = (_humidity + moist, _humidityCount + 1);
            }
        }

        public void Add(Sum other)
        {
            (_celsius, _celsiusCount, _lowest) = (_celsius + other._celsius, _celsiusCount + other._celsiusCount, Math.Min(_lowest, other._lowest));
            (_humidity, _humidityCount) = (_humidity + other._humidity, _humidityCount + other._humidityCount);
            if (other._last is { } later && (_last is not { } last || string.CompareOrdinal(later.At, last.At) >= 0))
            {
                _last = later;
            }
        }

        public Air ToAir() => new(
            _celsiusCount > 0 ? _celsius / _celsiusCount : null, _celsiusCount > 0 ? _lowest : null, _humidityCount > 0 ? _humidity / _humidityCount : null, _last?.At, _last?.Celsius);
    }
}

/// <summary>A place's air over a week.</summary>
/// <param name="MeanCelsius">Null where no temperature was read.</param>
/// <param name="LowestCelsius">Likewise.</param>
/// <param name="MeanHumidity">Relative, 0 to 1; null where none was read.</param>
/// <param name="LastAt">Local minute of the last temperature, as text that sorts.</param>
/// <param name="LastCelsius">The last temperature.</param>
internal sealed record Air(double? MeanCelsius, double? LowestCelsius, double? MeanHumidity, string? LastAt, double? LastCelsius);
