using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>The same jobs as the pages over HTTP. Every answer that is not a success is problem+json naming the field.</summary>
public static class RootwaterApi
{
    public static void MapRootwaterApi(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/api").DisableAntiforgery(); // JSON only; writes from other sites are refused before they get here.
        var api = new ApiRoutes(group);
        Health(api);
        Mixing(api);
        Cupboard(api);
        Waters(api);
        Pots(api);
        api.MapPotLearning();
        api.MapSupply();
        api.MapEntries();
        api.MapPlants();
        api.MapCauses();
        api.MapNames();
        api.MapRounds();
        api.MapCanHistory();
        api.MapPens();
        api.MapPhotos();
        api.MapExchange();
        api.MapEvidence();
        api.MapTrials();
        api.MapBackups();
        group.MapApiDescription();
        routes.MapSheets();
        group.Map("/{**rest}", () => Results.Problem(statusCode: StatusCodes.Status404NotFound, title: "No such address", detail: "docs/guide/api.md lists what there is."));
    }

    private static void Health(ApiRoutes api) => api.MapGet("/health", async (ICupboardDesk cupboard, CancellationToken cancel) =>
    {
        // Alive means: the ledger can be read. A fault there is answered as a problem.
        await cupboard.ListAsync(cancel);
        return Results.Ok(new { status = "ok" });
    });

    private static void Mixing(ApiRoutes api)
    {
        api.MapGet("/bench", (IMixingDesk desk, DateOnly? asOf, CancellationToken cancel) => desk.GetBenchTodayAsync(asOf, cancel));
        api.MapPost("/plan", (PlanBody body, IMixingDesk desk, CancellationToken cancel) => desk.PlanAsync(body.ToChoices(), cancel: cancel));
        api.MapPost("/plan/tradeoff", (PlanBody body, IMixingDesk desk, CancellationToken cancel) => desk.TradeOffAsync(body.ToChoices(), cancel: cancel));
        api.MapGet("/cans", (IMixingDesk desk, CancellationToken cancel) => desk.ListCansAsync(cancel: cancel));
        api.MapPost("/cans", async (Growing.Mixing.CanPlan can, IMixingDesk desk, CancellationToken cancel) =>
        {
            var kept = await desk.SaveCanAsync(can, cancel);
            return Results.Created($"/api/cans/{kept.Id}", kept);
        });
        api.MapGet("/cans/{id:guid}", async (Guid id, IMixingDesk desk, CancellationToken cancel) => Found(await desk.GetCanAsync(id, cancel), "can", id));
        api.MapPost("/cans/{id:guid}/steps/{number:int}/done", (Guid id, int number, IMixingDesk desk, CancellationToken cancel) => desk.TickStepAsync(id, number, cancel: cancel));
        api.MapPost("/cans/{id:guid}/steps/{number:int}/undone", (Guid id, int number, IMixingDesk desk, CancellationToken cancel) => desk.UndoStepAsync(id, number, cancel: cancel));
        api.MapPost("/cans/{id:guid}/readings", (Guid id, ReadingBody body, IMixingDesk desk, CancellationToken cancel) => desk.SaveReadingAsync(body.ToReading(id), cancel));
        api.MapGet("/cans/{id:guid}/judgement", (Guid id, IMixingDesk desk, CancellationToken cancel) => desk.JudgeAsync(id, cancel));
        api.MapGet("/cans/{id:guid}/repair", (Guid id, IMixingDesk desk, CancellationToken cancel) => desk.RepairAsync(id, cancel));
        api.MapPost("/cans/{id:guid}/repairs", (Guid id, RepairBody body, IMixingDesk desk, CancellationToken cancel) => desk.SaveRepairAsync(body.ToRepair(id), cancel));
        api.MapPost("/cans/{id:guid}/repairs/{repair:guid}/undone", (Guid id, Guid repair, IMixingDesk desk, CancellationToken cancel) => desk.UndoRepairAsync(id, repair, cancel: cancel));
        api.MapPost("/cans/{id:guid}/poured", (Guid id, double? litresLeft, IMixingDesk desk, CancellationToken cancel) => desk.PourAsync(id, litresLeft, cancel: cancel));
        api.MapPost("/cans/{id:guid}/unpoured", (Guid id, IMixingDesk desk, CancellationToken cancel) => desk.UndoPourAsync(id, cancel: cancel));
    }

    private static void Cupboard(ApiRoutes api)
    {
        api.MapGet("/products", (ICupboardDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapGet("/products/{id:guid}", async (Guid id, ICupboardDesk desk, CancellationToken cancel) => Found(await desk.GetAsync(id, cancel), "product", id));
        api.MapPost("/products/preview", (NewProduct entry, ICupboardDesk desk) => desk.Preview(entry));
        api.MapPost("/products", async (NewProduct entry, ICupboardDesk desk, CancellationToken cancel) =>
        {
            var kept = await desk.SaveProductAsync(entry, cancel);
            return Results.Created($"/api/products/{kept.Product.Id}", kept);
        });
        api.MapPost("/lots", (NewLot lot, ICupboardDesk desk, CancellationToken cancel) => desk.AddLotAsync(lot, cancel));
        api.MapPost("/lots/{id:guid}/left", (Guid id, LeftBody body, ICupboardDesk desk, CancellationToken cancel) => desk.CorrectSupplyAsync(id, body.GramsLeft, body.Why, cancel: cancel));
    }

    private static void Waters(ApiRoutes api)
    {
        api.MapGet("/waters", (IWaterDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapGet("/waters/{id:guid}", async (Guid id, IWaterDesk desk, CancellationToken cancel) => Found(await desk.GetAsync(id, cancel), "water", id));
        api.MapPost("/waters", async (NewWater water, IWaterDesk desk, CancellationToken cancel) =>
        {
            var kept = await desk.SaveWaterAsync(water, cancel);
            return Results.Created($"/api/waters/{kept.Id}", kept);
        });
        api.MapPost("/reports/preview", (NewWaterReport report, IWaterDesk desk) => desk.Preview(report));
        api.MapPost("/reports", (NewWaterReport report, IWaterDesk desk, CancellationToken cancel) => desk.AddReportAsync(report, cancel));
    }

    private static void Pots(ApiRoutes api)
    {
        api.MapGet("/pots", (IPotDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapGet("/plants/{id:guid}/believed", (Guid id, IPotDesk desk, CancellationToken cancel) => desk.BelievedAsync(id, cancel));
        api.MapGet("/pots/{id:guid}/forecast", async (Guid id, Guid can, int? days, IPotDesk desk, IMixingDesk mixing, CancellationToken cancel) =>
        {
            var kept = await mixing.GetCanAsync(can, cancel) ?? throw new EntryException("can", can.ToString(), "name a can that was kept.");
            return await desk.ForecastAsync(id, kept.Card, days ?? 7, cancel);
        });
    }

    internal static IResult Found<T>(T? what, string name, object id) where T : class => what is null
        ? Results.Problem(statusCode: StatusCodes.Status404NotFound, title: $"No such {name}", detail: $"There is no {name} {id}.")
        : Results.Ok(what);
}
