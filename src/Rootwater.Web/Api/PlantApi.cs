using System.Text.Json;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Api;

/// <summary>Plants, and the one door for facts about them, rounds and readings.</summary>
internal static class PlantApi
{
    public static void MapPlants(this ApiRoutes api)
    {
        api.MapPost("/facts", async (IReadOnlyList<FactEntry> entries, string? who, string? device, IFactDesk desk, BenchTime time, CancellationToken cancel) =>
        {
            var zone = await time.ZoneAsync(cancel);
            var facts = new List<NewFact>();
            foreach (var entry in entries)
                facts.Add((entry ?? throw new EntryException("fact", null, "a fact")).ToFact(zone));
            return await desk.WriteAsync(facts, who, device, cancel);
        });
        api.MapPost("/facts/{id:guid}/undo", async (Guid id, UndoBody? body, IFactDesk desk, CancellationToken cancel) =>
        {
            await desk.UndoAsync(id, body?.Id ?? Guid.CreateVersion7(), body?.Why, cancel);
            return Results.NoContent();
        });
        api.MapGet("/facts/recent", async (int? minutes, int? most, IFactDesk desk, CancellationToken cancel) =>
            (await desk.RecentAsync(TimeSpan.FromMinutes(Math.Clamp(minutes ?? 60, 1, 60 * 24 * 365)), most ?? 50, cancel)).Select(line => new
            {
                line.Id,
                line.Kind,
                line.SubjectId,
                line.Words,
                When = EntryWhen.Of(line.When),
                line.RecordedAt,
                line.Who,
                line.TakenBack,
                line.CorrectedBy,
                line.CanBeUndone,
                Payload = JsonSerializer.SerializeToElement(line.Payload, line.Payload.GetType(), FactJson.Options),
            }));
        api.MapGet("/plants", (
            string? words, Guid? place, string? kind, string? state, bool? due, bool? trouble, bool? quarantine, bool? lost, DateOnly? asOf, IPlantDesk desk, CancellationToken cancel) =>
            desk.ListAsync(new BenchQuery { Words = words, PlaceId = place, Kind = kind, State = State(state), Due = due, Trouble = trouble, InQuarantine = quarantine, WithLost = lost ?? false, AsOf = asOf }, cancel));
        api.MapGet("/plants/next-number", async (IPlantDesk desk, CancellationToken cancel) => new { number = await desk.NextNumberAsync(cancel) });
        api.MapGet("/plants/sole", (IPlantDesk desk, CancellationToken cancel) => desk.SoleSpecimensAsync(cancel));
        api.MapGet("/plants/{id:guid}", async (Guid id, IPlantDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.GetAsync(id, cancel), "plant", id));
        api.MapGet("/plants/number/{number:int}", async (int number, IPlantDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.GetByNumberAsync(number, cancel), "plant", number));
        api.MapGet("/plants/{id:guid}/nutrients", (Guid id, DateOnly? from, DateOnly? to, INutrientLedger desk, CancellationToken cancel) => desk.OfPlantAsync(id, from, to, cancel));
        api.MapGet("/plants/{id:guid}/forget", (Guid id, IPlantDesk desk, CancellationToken cancel) => desk.ForgetPreviewAsync(id, cancel));
        api.MapPost("/plants/{id:guid}/forget", (Guid id, IPlantDesk desk, CancellationToken cancel) => desk.ForgetAsync(id, cancel));
        api.MapGet("/places", (IPlantDesk desk, CancellationToken cancel) => desk.PlacesAsync(cancel));
    }

    private static PlantState? State(string? name) => name is null ? null
        : Enum.TryParse<PlantState>(name, ignoreCase: true, out var state) && Enum.IsDefined(state) ? state
        : throw new EntryException("state", name, string.Join(", ", Enum.GetNames<PlantState>().Select(JsonNamingPolicy.CamelCase.ConvertName)));
}
