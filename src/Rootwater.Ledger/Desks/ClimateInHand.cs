using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Climate;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// Logged days of air and light in a few figures. A day never changes once it is written, so what it comes to is worked out once and kept under the id of its fact,
/// until its place is given another lamp: lux are other photons then.
/// </summary>
internal static class ClimateInHand
{
    private const int MostDays = 200_000;
    private static readonly ConcurrentDictionary<Guid, DayFigures> s_days = [];

    /// <summary>Days of a place (or of all), oldest first; of two that read the same day at the same place, the fuller.</summary>
    public static async Task<IReadOnlyList<ClimateDay>> OfAsync(LedgerContext db, Guid? placeId, DateOnly from, DateOnly to, CancellationToken cancel)
    {
        if (s_days.Count > MostDays)
        {
            s_days.Clear();
        }

        var lamps = await ReadingDesk.LampsAsync(db, cancel);
        Lamp LampAt(Guid place) => lamps.GetValueOrDefault(place, Lamp.Sun);
        var (days, unread) = (new List<ClimateDay>(), new List<Guid>());
        foreach (var air in await db.AirDays.Where(air => (placeId == null || air.PlaceId == placeId) && air.Day >= from && air.Day <= to).Select(air => new { air.FactId, air.PlaceId, air.Day }).ToListAsync(cancel))
        {
            if (s_days.TryGetValue(air.FactId, out var kept) && kept.StandUnder(LampAt(air.PlaceId)))
            {
                days.Add(new ClimateDay(air.PlaceId, air.Day, kept));
            }
            else
            {
                unread.Add(air.FactId);
            }
        }

        foreach (var some in unread.Chunk(500))
        {
            await foreach (var air in db.AirDays.AsNoTracking().Where(air => some.Contains(air.FactId)).AsAsyncEnumerable().WithCancellation(cancel))
            {
                days.Add(new ClimateDay(air.PlaceId, air.Day, s_days[air.FactId] = DayFigures.Of(air, LampAt(air.PlaceId))));
            }
        }

        return [.. days.GroupBy(day => (day.PlaceId, day.Day)).Select(group => group.MaxBy(day => day.KnownHours)!).OrderBy(day => day.Day)];
    }
}
