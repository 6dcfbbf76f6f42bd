using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>Trials: planned, registered, looked at for a price, ended.</summary>
internal static class TrialApi
{
    public static void MapTrials(this ApiRoutes api)
    {
        api.MapGet("/trials", (ITrialDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapGet("/trials/arms", (ITrialDesk desk, CancellationToken cancel) => desk.ArmsAsync(cancel));
        api.MapGet("/trials/{id:guid}", async (Guid id, ITrialDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.GetAsync(id, cancel), "trial", id));
        api.MapPost("/trials/plan", (TrialPlan plan, ITrialDesk desk, CancellationToken cancel) => desk.PlanAsync(plan, cancel: cancel));
        api.MapPost("/trials", async (TrialPlan plan, Guid? id, ITrialDesk desk, CancellationToken cancel) =>
        {
            var kept = await desk.RegisterAsync(plan, id, cancel);
            return Results.Created($"/api/trials/{kept.Id}", kept);
        });
        api.MapGet("/trials/{id:guid}/look", (Guid id, ITrialDesk desk, CancellationToken cancel) => desk.PriceOfLookAsync(id, cancel));
        api.MapPost("/trials/{id:guid}/look", (Guid id, ITrialDesk desk, CancellationToken cancel) => desk.LookAsync(id, cancel));
        api.MapPost("/trials/{id:guid}/end", (Guid id, ITrialDesk desk, CancellationToken cancel) => desk.EndAsync(id, cancel));
        api.MapPost("/trials/{id:guid}/stop", (Guid id, WhyBody body, ITrialDesk desk, CancellationToken cancel) => desk.StopAsync(id, body.Why ?? "", cancel));
        api.MapPost("/trials/{id:guid}/departures", (Guid id, DepartureBody body, ITrialDesk desk, CancellationToken cancel) => desk.NoteDepartureAsync(id, body.What ?? "", body.Plant, cancel));
    }

    /// <summary>Why a trial is stopped.</summary>
    internal sealed record WhyBody(string? Why);

    /// <summary>What went otherwise, and with which plant.</summary>
    internal sealed record DepartureBody(string? What, int? Plant);
}
