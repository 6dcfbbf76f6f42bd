using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>The walk and the absence; what is ticked on the walk is written through /api/facts.</summary>
internal static class RoundApi
{
    public static void MapRounds(this ApiRoutes api)
    {
        api.MapGet("/round", (DateOnly? asOf, IRoundDesk desk, CancellationToken cancel) => desk.TodayAsync(asOf, cancel));
        api.MapGet("/round/coming", (int? days, IRoundDesk desk, CancellationToken cancel) => desk.ComingAsync(days ?? 14, cancel));
        api.MapGet("/absence", (DateOnly from, DateOnly to, IRoundDesk desk, CancellationToken cancel) => desk.AbsenceAsync(from, to, cancel));
    }
}
