using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>A day of air and light at a place.</summary>
/// <param name="NightCelsius">Lowest.</param>
/// <param name="DayCelsius">Highest.</param>
/// <param name="Humidity">At noon, 0 to 1.</param>
/// <param name="NoonPpfd">µmol m⁻² s⁻¹.</param>
/// <param name="LightHours">Between sunrise and sunset.</param>
internal readonly record struct DayAir(double NightCelsius, double DayCelsius, double Humidity, double NoonPpfd, double LightHours)
{
    public double MeanCelsius => (NightCelsius + DayCelsius) / 2;

    /// <summary>mol m⁻² d⁻¹ of a half sine.</summary>
    public double LightIntegral => NoonPpfd * 2 / Math.PI * LightHours * 3600 / 1e6;

    /// <summary>kPa at noon: FAO-56, equation 11.</summary>
    public double VapourDeficit => 0.6108 * Math.Exp(17.27 * DayCelsius / (DayCelsius + 237.3)) * (1 - Humidity);
}

/// <summary>Where a pot can stand, and how warm and light it is there.</summary>
internal sealed record DemoPlace(string Name, double LowestNight, double Gain, double SummerNoonPpfd);

/// <summary>Weather outside, with persistence, and what the lean-to makes of it.</summary>
internal sealed class Weather
{
    public static IReadOnlyList<DemoPlace> Places { get; } =
    [
        new("shelf 1", 17, 4, 120),
        new("shelf 2", 14, 5, 260),
        new("shelf 3", 10, 1, 110),
        new("hanging", 13, 7, 380),
        new("quarantine sill", 17, 3, 90),
    ];

    private readonly DateOnly _start;
    private readonly DayAir[][] _days;

    public Weather(DateOnly start, int days, Dice dice)
    {
        _start = start;
        _days = [.. Places.Select(_ => new DayAir[days])];
        var (warm, cloud) = (0.0, 0.5);
        for (var i = 0; i < days; i++)
        {
            var season = Math.Cos(2 * Math.PI * (start.AddDays(i).DayOfYear - 15) / 365.25); // 1 in mid-January
            warm = 0.8 * warm + 1.6 * dice.Normal();
            cloud = Math.Clamp(0.5 + 0.6 * (cloud - 0.5) + 0.22 * dice.Normal(), 0, 1);
            var outside = 10.5 - 8.5 * season + warm;
            var sun = (1 - 0.7 * cloud) * (0.6 - 0.4 * season);
            for (var p = 0; p < Places.Count; p++)
            {
                var place = Places[p];
                var night = Math.Max(place.LowestNight + Heater(place.Name, start.AddDays(i)) + 0.5 * dice.Normal(), outside - 2 + place.Gain / 2);
                var day = Math.Max(night + 1.5, Math.Min(38, outside + place.Gain + 9 * sun));
                var humidity = Math.Clamp(0.64 + 0.12 * cloud - 0.012 * (day - 22) + 0.03 * dice.Normal(), 0.3, 0.97);
                _days[p][i] = new DayAir(night, day, humidity, place.SummerNoonPpfd * (0.65 - 0.35 * season) * (1 - 0.55 * cloud), 12 - 4 * season);
            }
        }
    }

    /// <summary>How much warmer than usual the grower kept the nights of shelf 1 in an autumn; below 0 cooler.</summary>
    private double Heater(string place, DateOnly day) => place != "shelf 1" || day.DayOfYear is < 227 or > 319 ? 0
        : (day.Year - _start.Year) switch { 2 or 4 => Truth.Of("autumn_heater"), 1 or 3 or 5 => -Truth.Of("autumn_heater"), _ => 0 };

    public DayAir At(string place, DateOnly day) => _days[IndexOf(place)][day.DayNumber - _start.DayNumber];

    /// <summary>Mean over the days before, fewer at the start.</summary>
    public double Mean(string place, DateOnly day, int days, Func<DayAir, double> of)
    {
        var (row, end) = (_days[IndexOf(place)], day.DayNumber - _start.DayNumber);
        var from = Math.Max(0, end - days);
        var sum = 0.0;
        for (var i = from; i <= end; i++)
        {
            sum += of(row[i]);
        }

        return sum / (end - from + 1);
    }

    /// <summary>What a small logger writes every four hours.</summary>
    public static IReadOnlyList<AirSample> Samples(DayAir air, Dice dice) =>
    [
        .. Enumerable.Range(0, 6).Select(i =>
        {
            var hour = i * 4;
            var warmth = 0.5 - 0.5 * Math.Cos(2 * Math.PI * (hour - 3) / 24);
            var light = Math.Abs(hour - 12) < air.LightHours / 2 ? Math.Cos(Math.PI * (hour - 12) / air.LightHours) : 0;
            return new AirSample(
                hour * 60,
                Math.Round(air.NightCelsius + (air.DayCelsius - air.NightCelsius) * warmth + 0.1 * dice.Normal(), 1),
                Math.Round(Math.Clamp(0.88 + (air.Humidity - 0.88) * warmth, 0.2, 1), 2),
                Math.Round(air.NoonPpfd * light),
                null);
        }),
    ];

    private static int IndexOf(string place)
    {
        for (var i = 0; i < Places.Count; i++)
        {
            if (Places[i].Name == place)
            {
                return i;
            }
        }

        throw new ArgumentException($"No place is called {place}.", nameof(place));
    }
}
