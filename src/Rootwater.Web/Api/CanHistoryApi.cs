using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>Expected against measured, can after can.</summary>
internal static class CanHistoryApi
{
    public static void MapCanHistory(this ApiRoutes api)
    {
        api.MapGet("/cans/history", (int? most, ICanHistoryDesk desk, CancellationToken cancel) => desk.ListAsync(most ?? 100, cancel));
        api.MapGet("/cans/corrections", (ICanHistoryDesk desk, CancellationToken cancel) => desk.CorrectionsAsync(cancel));
        api.MapGet("/cans/{id:guid}/explanations", async (Guid id, ICanHistoryDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.GetAsync(id, cancel), "can", id));
        api.MapPost("/cans/expected", (CanPlan can, ICanHistoryDesk desk, CancellationToken cancel) => desk.ExpectAsync(can, cancel));
    }
}
