using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>Cause sheets, the year ahead, and what was tried.</summary>
internal static class CauseApi
{
    public static void MapCauses(this ApiRoutes api)
    {
        api.MapGet("/year/forecast", (ISeasonDesk desk, CancellationToken cancel) => desk.GetAsync(cancel));
        api.MapGet("/year/climate", (ISeasonDesk desk, CancellationToken cancel) => desk.ClimateAsync(cancel));
        api.MapGet("/plants/{id:guid}/tried", async (Guid id, ITriedDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.OfPlantAsync(id, cancel), "plant", id));
        api.MapGet("/causes", (ICauseDesk desk, CancellationToken cancel) => desk.BookAsync(cancel));
        // Every other name in the query is a clue: ?pattern=even-yellow&speed=weeks.
        api.MapGet("/plants/{id:guid}/causes", (Guid id, Guid? leaf, HttpRequest request, ICauseDesk desk, CancellationToken cancel) => desk.SheetAsync(
            id, leaf, request.Query.Where(pair => pair.Key is not "leaf" and not "access_token").ToDictionary(pair => pair.Key, pair => pair.Value.ToString()), cancel));
        api.MapPost("/plants/{id:guid}/causes", (Guid id, SeenBody body, ICauseDesk desk, CancellationToken cancel) =>
            desk.SeeAsync(new CauseLook { PlantId = id, LeafId = body.LeafId, WholePlant = body.WholePlant, Answers = body.Answers, Id = body.Id }, cancel));
        api.MapPost("/plants/{id:guid}/causes/quarantine", async (Guid id, QuarantineBody body, ICauseDesk desk, CancellationToken cancel) =>
        {
            await desk.QuarantineAsync(id, body.LeafId, body.Days ?? CauseBook.QuarantineDays, body.Id, cancel);
            return Results.NoContent();
        });
        api.MapPost("/causes/{sheet:guid}/settled", (Guid sheet, SettledBody body, ICauseDesk desk, CancellationToken cancel) =>
            desk.SettleAsync(new CauseSettling { SheetId = sheet, Cause = body.Cause, Evidence = body.Evidence, Id = body.Id }, cancel));
    }

    /// <param name="Answers">Value by clue; null takes an answer off.</param>
    /// <param name="LeafId">The leaf; null for the one that is marked, or the whole plant.</param>
    /// <param name="WholePlant">True for the whole plant although a leaf is marked.</param>
    /// <param name="Id">The idempotency key.</param>
    internal sealed record SeenBody(Dictionary<string, string?> Answers, Guid? LeafId = null, bool WholePlant = false, Guid? Id = null);

    /// <param name="Days">28 when null.</param>
    /// <param name="LeafId">The leaf whose sheet proposes it.</param>
    /// <param name="Id">The idempotency key.</param>
    internal sealed record QuarantineBody(int? Days = null, Guid? LeafId = null, Guid? Id = null);

    /// <param name="Cause">What it proved to be; null where it never came out.</param>
    /// <param name="Evidence">How it was known.</param>
    /// <param name="Id">The idempotency key.</param>
    internal sealed record SettledBody(string? Cause, string Evidence, Guid? Id = null);
}
