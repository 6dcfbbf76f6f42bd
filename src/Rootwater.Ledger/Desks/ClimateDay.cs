using Rootwater.Growing.Climate;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>A day at a place.</summary>
/// <param name="placeId">Where.</param>
/// <param name="day">Local day.</param>
/// <param name="figures">What its samples come to.</param>
internal sealed class ClimateDay(Guid placeId, DateOnly day, DayFigures figures)
{
    public Guid PlaceId => placeId;

    public DateOnly Day => day;

    /// <summary>Lowest, °C; null where no temperature was read.</summary>
    public double? Low => Read(figures.Low);

    /// <summary>By time, °C; null with fewer than two temperatures.</summary>
    public double? Mean => Read(figures.Mean);

    /// <summary>Of the temperatures as they were read, °C, each counting alike: there is one even where gaps leave no mean by time. Null where none was read.</summary>
    public double? MeanAsRead => Read(figures.MeanAsRead);

    /// <summary>Highest, °C.</summary>
    public double? High => Read(figures.High);

    /// <summary>Of 24, that temperatures cover; gaps over six hours left out.</summary>
    public double KnownHours => figures.KnownHours;

    /// <summary>PPFD reached for an hour of the day in all, µmol m⁻² s⁻¹; null where light was not read.</summary>
    public double? OneHourPpfd => Read(figures.OneHourPpfd);

    /// <summary>Mean of the PPFD as read, µmol m⁻² s⁻¹; null where light was not read.</summary>
    public double? MeanPpfd => Read(figures.MeanPpfd);

    /// <summary>mol m⁻² d⁻¹; null where too little was read.</summary>
    public double? DailyLightMoles => Read(figures.DailyLightMoles);

    private static double? Read(double figure) => double.IsNaN(figure) ? null : figure;
}

/// <summary>What a day's samples come to, as it is kept: years of days are, so NaN stands for what was not read, in half the room of a null. Units as in <see cref="ClimateDay"/>; Under is the lamp by which lux were turned into photons, null where none had to be.</summary>
internal readonly record struct DayFigures(
    double Low, double Mean, double MeanAsRead, double High, double KnownHours, double OneHourPpfd, double MeanPpfd, double DailyLightMoles, Lamp? Under)
{
    public bool StandUnder(Lamp lamp) => Under is null || Under == lamp;

    public static DayFigures Of(AirDayRow air, Lamp lamp)
    {
        double hours = 0, sum = 0, asRead = 0;
        var count = 0;
        (int Minute, double Celsius)? before = null;
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (var sample in air.Samples)
        {
            if (sample.TemperatureCelsius is not { } celsius)
            {
                continue;
            }

            (low, high, asRead, count) = (Math.Min(low, celsius), Math.Max(high, celsius), asRead + celsius, count + 1);
            if (before is { } last && sample.Minute - last.Minute <= DailyLight.LongestRoughGapMinutes)
            {
                var length = (sample.Minute - last.Minute) / 60.0;
                (hours, sum) = (hours + length, sum + length * (celsius + last.Celsius) / 2);
            }

            before = (sample.Minute, celsius);
        }

        var light = air.LightUnder(lamp);
        return new DayFigures(
            count > 0 ? low : double.NaN, hours > 0 ? sum / hours : double.NaN, count > 0 ? asRead / count : double.NaN, count > 0 ? high : double.NaN, hours,
            ShadeLimit.HeldForAnHour(light) ?? double.NaN, light.Count > 0 ? light.Average(sample => sample.Ppfd) : double.NaN, DailyLight.Integral(light) ?? double.NaN,
            air.NeedsLamp ? lamp : null);
    }
}
