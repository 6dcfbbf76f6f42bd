using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Climate;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Logged days of air and light in a few figures. A day never changes once it is written, so what it comes to is worked out once and kept under the id of its fact.</summary>
internal static class ClimateInHand
{
    private const int MostDays = 50_000;
    private static readonly ConcurrentDictionary<Guid, ClimateDay> s_days = [];

    /// <summary>Days of a place (or of all), oldest first; of two that read the same day at the same place, the fuller.</summary>
    public static async Task<IReadOnlyList<ClimateDay>> OfAsync(LedgerContext db, Guid? placeId, DateOnly from, DateOnly to, CancellationToken cancel)
    {
        var ids = await db.AirDays.Where(air => (placeId == null || air.PlaceId == placeId) && air.Day >= from && air.Day <= to).Select(air => air.FactId).ToListAsync(cancel);
        if (s_days.Count > MostDays)
        {
            s_days.Clear();
        }

        var lamps = await ReadingDesk.LampsAsync(db, cancel);
        foreach (var some in ids.Where(id => !s_days.ContainsKey(id)).Chunk(500))
        {
            await foreach (var air in db.AirDays.AsNoTracking().Where(air => some.Contains(air.FactId)).AsAsyncEnumerable().WithCancellation(cancel))
            {
                s_days[air.FactId] = Of(air, lamps.GetValueOrDefault(air.PlaceId, Lamp.Sun));
            }
        }

        return [.. ids.Select(id => s_days.GetValueOrDefault(id)).OfType<ClimateDay>().GroupBy(day => (day.PlaceId, day.Day)).Select(group => group.MaxBy(day => day.KnownHours)!).OrderBy(day => day.Day)];
    }

    private static ClimateDay Of(AirDayRow air, Lamp lamp)
    {
        double hours = 0, sum = 0;
        (int Minute, double Celsius)? before = null;
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (var sample in air.Samples)
        {
            if (sample.TemperatureCelsius is not { } celsius)
            {
                continue;
            }

            (low, high) = (Math.Min(low, celsius), Math.Max(high, celsius));
            if (before is { } last && sample.Minute - last.Minute <= DailyLight.LongestRoughGapMinutes)
            {
                var length = (sample.Minute - last.Minute) / 60.0;
                (hours, sum) = (hours + length, sum + length * (celsius + last.Celsius) / 2);
            }

            before = (sample.Minute, celsius);
        }

        var light = air.LightUnder(lamp);
        return new ClimateDay(
            air.PlaceId, air.Day, before is null ? null : low, hours > 0 ? sum / hours : null, before is null ? null : high, hours, ShadeLimit.HeldForAnHour(light), DailyLight.Integral(light));
    }
}

/// <summary>A day at a place.</summary>
/// <param name="PlaceId">Where.</param>
/// <param name="Day">Local day.</param>
/// <param name="Low">Lowest, °C; null where no temperature was read.</param>
/// <param name="Mean">By time, °C; null with fewer than two temperatures.</param>
/// <param name="High">Highest, °C.</param>
/// <param name="KnownHours">Of 24, that temperatures cover; gaps over six hours left out.</param>
/// <param name="OneHourPpfd">PPFD reached for an hour of the day in all, µmol m⁻² s⁻¹; null where light was not read.</param>
/// <param name="DailyLightMoles">mol m⁻² d⁻¹; null where too little was read.</param>
internal sealed record ClimateDay(Guid PlaceId, DateOnly Day, double? Low, double? Mean, double? High, double KnownHours, double? OneHourPpfd, double? DailyLightMoles);
