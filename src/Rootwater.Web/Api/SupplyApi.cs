using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>The cupboard ahead over HTTP.</summary>
internal static class SupplyApi
{
    public static void MapSupply(this ApiRoutes api)
    {
        api.MapGet("/supply", (ISupplyDesk desk, CancellationToken cancel) => desk.AheadAsync(cancel));
        api.MapGet("/supply/shopping", async (ISupplyDesk desk, CancellationToken cancel) => (await desk.AheadAsync(cancel)).Shopping);
        api.MapPost("/supply/ways", async (SupplyWays ways, ISupplyDesk desk, CancellationToken cancel) =>
        {
            await desk.SetWaysAsync(ways, cancel: cancel);
            return (await desk.AheadAsync(cancel)).Ways;
        });
        api.MapPost("/products/{id:guid}/lead", async (Guid id, LeadBody body, ISupplyDesk desk, CancellationToken cancel) =>
        {
            await desk.SetLeadAsync(id, body.Days, body.Id, cancel);
            return (await desk.AheadAsync(cancel)).Products.First(product => product.ProductId == id);
        });
        api.MapPost("/lots/{id:guid}/spilt", async (Guid id, SpiltBody body, ISupplyDesk desk, CancellationToken cancel) =>
        {
            await desk.SpillAsync(id, body.Grams, body.Why, body.Id, cancel);
            return Results.NoContent();
        });
        api.MapPost("/lots/{id:guid}/opened", async (Guid id, OpenedBody body, ISupplyDesk desk, CancellationToken cancel) =>
        {
            await desk.OpenLotAsync(id, body.On, body.Id, cancel);
            return Results.NoContent();
        });
    }
}

/// <param name="Days">From order to cupboard, 0 to 365.</param>
/// <param name="Id">Made by whoever says it; sent twice, it is kept once.</param>
public sealed record LeadBody(int Days, Guid? Id = null);

/// <param name="Grams">Above 0, no more than is left.</param>
/// <param name="Why">In the grower's words.</param>
/// <param name="Id">Made by whoever says it.</param>
public sealed record SpiltBody(double Grams, string? Why = null, Guid? Id = null);

/// <param name="On">The day.</param>
/// <param name="Id">Made by whoever says it.</param>
public sealed record OpenedBody(DateOnly On, Guid? Id = null);
