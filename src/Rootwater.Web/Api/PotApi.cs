using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>What the pots teach, by the number on the plant's tag.</summary>
internal static class PotApi
{
    public static void MapPotLearning(this ApiRoutes api)
    {
        api.MapGet("/pots/fit", (IPotLearningDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapPost("/pots/fit", (IPotLearningDesk desk) =>
        {
            desk.RefreshSoon();
            return Results.Accepted("/api/pots/fit");
        });
        api.MapPost("/pots/fit/stop", (IPotLearningDesk desk) =>
        {
            desk.Stop();
            return Results.NoContent();
        });
        api.MapGet("/pots/of/{number:int}", async (int number, IPotLearningDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.GetAsync(number, cancel), "pot", number));
        api.MapGet("/pots/of/{number:int}/pour", (int number, bool? group, IPotLearningDesk desk, CancellationToken cancel) =>
            group == true ? desk.PourGroupAsync(number, null, cancel) : desk.PourAsync(number, null, cancel));
        api.MapPost("/pots/readings/check", (NewPotReading reading, IPotLearningDesk desk, CancellationToken cancel) => desk.CheckAsync(reading, cancel));
        api.MapPost("/pots/readings", async (NewPotReading reading, IPotLearningDesk desk, CancellationToken cancel) => Results.Ok(new { id = await desk.ReadAsync(reading, cancel) }));
        api.MapPost("/pots/soaks/check", (NewSoak soak, IPotLearningDesk desk) => desk.CheckSoak(soak));
        api.MapPost("/pots/soaks", async (NewSoak soak, IPotLearningDesk desk, CancellationToken cancel) => Results.Ok(new { id = await desk.SoakAsync(soak, cancel) }));
    }
}
