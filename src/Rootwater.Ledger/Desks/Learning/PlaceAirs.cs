using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Climate;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The air of each place by half months, for the records of its pots: what was read there, else the place's mean moved by the season of the other places.</summary>
/// <remarks>
/// Half months, so that a stretch of a record runs in the air of its own dates and a new sample makes no fit old. Warmth and vapour deficit are averaged, not humidity: what a
/// pot loses goes by the deficit. Light is what was read, and the length of the day where the latitude of the bench is known.
/// </remarks>
internal sealed class PlaceAirs
{
    /// <summary>Days that stand for the air as it is now.</summary>
    private const int NowDays = 30;

    // Fewer samples than this are a moment, not a half month.
    private const int LeastSamples = 4;
    private static readonly PotClimate s_usual = new();
    private readonly Dictionary<Guid, Dictionary<int, PotClimate>> _halfMonths = [];
    private readonly Dictionary<Guid, PotClimate> _now = [];
    private readonly Dictionary<int, PotClimate> _unread = [];
    private readonly PotClimate _unreadNow;
    private readonly int _first, _last;

    private PlaceAirs(Dictionary<(Guid Place, int HalfMonth), Sum> read, Dictionary<Guid, Sum> lately, DateOnly since, DateOnly today, double? latitude)
    {
        (_first, _last) = (HalfMonthOf(since), HalfMonthOf(today));
        double Hours(DateOnly day) => latitude is { } degrees ? DayLength.Hours(degrees, day.DayOfYear) : s_usual.LightHoursPerDay;
        var places = read.Where(pair => pair.Value.Count >= LeastSamples).GroupBy(pair => pair.Key.Place, pair => (pair.Key.HalfMonth, pair.Value))
            .ToDictionary(place => place.Key, place => place.ToDictionary(each => each.HalfMonth, each => each.Value));
        var means = places.ToDictionary(place => place.Key, place => MeanOf(place.Value.Values));

        // How far a half month was from the mean of the places that were read in it.
        var seasons = Enumerable.Range(_first, _last - _first + 1).ToDictionary(half => half, half =>
        {
            var there = places.Where(place => place.Value.ContainsKey(half)).Select(place => (At: place.Value[half].ToMean(), Of: means[place.Key])).ToList();
            var lit = there.Where(pair => pair.At.Light is > 0 && pair.Of.Light is > 0).Select(pair => Math.Log(pair.At.Light!.Value / pair.Of.Light!.Value)).DefaultIfEmpty(0).Average();
            return there.Count == 0
                ? new Season(0, 1, 1)
                : new Season(there.Average(pair => pair.At.Celsius - pair.Of.Celsius), Math.Exp(there.Average(pair => Math.Log(pair.At.Deficit / pair.Of.Deficit))), Math.Exp(lit));
        });
        var usual = new Mean(s_usual.AirTemperatureCelsius, VapourPressure.SaturationKilopascals(s_usual.AirTemperatureCelsius) - s_usual.ActualVapourKilopascals, null);
        PotClimate Moved(Mean mean, int half) => ClimateOf(new Mean(mean.Celsius + seasons[half].Warmer, mean.Deficit * seasons[half].Drier, mean.Light * seasons[half].Brighter), Hours(MiddleOf(half)));
        foreach (var (place, halves) in places)
        {
            _halfMonths[place] = seasons.Keys.ToDictionary(half => half, half => halves.TryGetValue(half, out var sum) ? ClimateOf(sum.ToMean(), Hours(MiddleOf(half))) : Moved(means[place], half));
            _now[place] = lately.TryGetValue(place, out var late) && late.Count >= LeastSamples ? ClimateOf(late.ToMean(), Hours(today)) : _halfMonths[place][_last];
        }

        foreach (var half in seasons.Keys)
        {
            _unread[half] = Moved(usual, half);
        }

        _unreadNow = _unread[_last];
    }

    public static async Task<PlaceAirs> ReadAsync(LedgerContext db, DateOnly since, DateOnly today, CancellationToken cancel)
    {
        var (read, lately) = (new Dictionary<(Guid, int), Sum>(), new Dictionary<Guid, Sum>());
        void Add(Guid place, DateOnly day, double? celsius, double? humidity)
        {
            if (celsius is not { } warm || humidity is not { } moist)
            {
                return;
            }

            var deficit = VapourPressure.SaturationKilopascals(warm) * (1 - moist);
            foreach (var sum in Sums(place, day))
            {
                sum.Add(warm, deficit);
            }
        }

        IEnumerable<Sum> Sums(Guid place, DateOnly day)
        {
            yield return In(read, (place, HalfMonthOf(day)));
            if (day >= today.AddDays(-NowDays))
            {
                yield return In(lately, place);
            }
        }

        static Sum In<T>(Dictionary<T, Sum> sums, T key)
            where T : notnull
        {
            if (!sums.TryGetValue(key, out var sum))
            {
                sums[key] = sum = new Sum();
            }

            return sum;
        }

        var from = FactWhen.ToStored(since.ToDateTime(TimeOnly.MinValue));
        foreach (var typed in await db.TakenReadings.Where(reading => reading.Of == ReadingOf.Air && reading.PlaceId != null && string.Compare(reading.At, from) >= 0)
            .Select(reading => new { Place = reading.PlaceId!.Value, reading.At, reading.TemperatureCelsius, reading.RelativeHumidity }).ToListAsync(cancel))
        {
            Add(typed.Place, DateOnly.ParseExact(typed.At.AsSpan(0, 10), "yyyy-MM-dd", null), typed.TemperatureCelsius, typed.RelativeHumidity);
        }

        var lamps = await ReadingDesk.LampsAsync(db, cancel);

        // One day at a time: a year of a logger's samples is not kept.
        await foreach (var air in db.AirDays.AsNoTracking().Where(air => air.Day >= since && air.Day <= today).AsAsyncEnumerable().WithCancellation(cancel))
        {
            foreach (var sample in air.Samples)
            {
                Add(air.PlaceId, air.Day, sample.TemperatureCelsius, sample.RelativeHumidity);
            }

            if (DailyLight.Rough(air.LightUnder(lamps.GetValueOrDefault(air.PlaceId, Lamp.Sun))) is { } light)
            {
                foreach (var sum in Sums(air.PlaceId, air.Day))
                {
                    sum.Add(light);
                }
            }
        }

        return new PlaceAirs(read, lately, since, today, await BenchLatitude.OfAsync(db, cancel));
    }

    /// <summary>The air of a place now, and from an earlier day on.</summary>
    /// <param name="place">Null where it is not known.</param>
    /// <param name="origin">The local minute that is hour 0 of the record.</param>
    public (PotClimate Now, IReadOnlyList<AirSpell> Since) Of(Guid? place, DateTime origin)
    {
        var halves = place is { } known ? _halfMonths.GetValueOrDefault(known) ?? _unread : _unread;
        var now = place is { } there ? _now.GetValueOrDefault(there) ?? _unreadNow : _unreadNow;
        var spells = new List<AirSpell>();
        for (var half = Math.Max(_first, HalfMonthOf(DateOnly.FromDateTime(origin))); half <= _last; half++)
        {
            spells.Add(new AirSpell((BeginOf(half).ToDateTime(TimeOnly.MinValue) - origin).TotalHours, half == _last ? now : halves[half]));
        }

        return (now, spells);
    }

    private static int HalfMonthOf(DateOnly day) => (day.Year * 12 + day.Month - 1) * 2 + (day.Day > 15 ? 1 : 0);

    private static DateOnly BeginOf(int half) => new(half / 24, half / 2 % 12 + 1, half % 2 == 0 ? 1 : 16);

    private static DateOnly MiddleOf(int half) => BeginOf(half).AddDays(7);

    private static Mean MeanOf(IEnumerable<Sum> sums)
    {
        var means = sums.Select(sum => sum.ToMean()).ToList();
        return new Mean(means.Average(mean => mean.Celsius), means.Average(mean => mean.Deficit), means.Average(mean => mean.Light));
    }

    private static PotClimate ClimateOf(Mean mean, double lightHours)
    {
        var warm = Math.Clamp(Math.Round(mean.Celsius, 1), 5, 40);
        return new PotClimate
        {
            AirTemperatureCelsius = warm,
            Log10PotPCO2Atmospheres = Math.Round(PotClimate.UsualLog10PotPCO2(warm), 3),
            RelativeHumidityPercent = Math.Clamp(Math.Round(100 * (1 - mean.Deficit / VapourPressure.SaturationKilopascals(warm)), 1), 5, 100),
            LightHoursPerDay = Math.Round(lightHours, 1),
            LightMolesPerM2Day = mean.Light is { } light ? Math.Clamp(Math.Round(light, 2), 0, 60) : null,
        };
    }

    /// <summary>How a half month differs from a place's mean.</summary>
    private sealed record Season(double Warmer, double Drier, double Brighter);

    /// <summary>°C, kPa, mol m⁻² d⁻¹.</summary>
    private sealed record Mean(double Celsius, double Deficit, double? Light);

    private sealed class Sum
    {
        // A deficit of nothing has no logarithm.
        private const double LeastKilopascals = 0.01;
        private double _celsius, _deficit, _light;
        private int _days;

        public int Count { get; private set; }

        public void Add(double celsius, double deficit) => (_celsius, _deficit, Count) = (_celsius + celsius, _deficit + deficit, Count + 1);

        /// <summary>mol m⁻² d⁻¹ of a day.</summary>
        public void Add(double light) => (_light, _days) = (_light + light, _days + 1);

        public Mean ToMean() => new(_celsius / Count, Math.Max(LeastKilopascals, _deficit / Count), _days > 0 ? _light / _days : null);
    }
}
