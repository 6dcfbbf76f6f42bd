using Rootwater.Growing;
using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>Doing without, new products and water through the year over HTTP.</summary>
internal static class EntryApi
{
    public static void MapEntries(this ApiRoutes api)
    {
        api.MapGet("/products/{id:guid}/without", (Guid id, DateOnly? day, int? cans, double? seconds, ISubstituteDesk desk, CancellationToken cancel) => desk.WithoutAsync(id, Choices(day, cans, seconds), cancel: cancel));
        api.MapGet("/supply/buy", (Guid? without, DateOnly? day, int? cans, double? seconds, ISubstituteDesk desk, CancellationToken cancel) => desk.BuyAsync(without, Choices(day, cans, seconds), cancel: cancel));
        api.MapGet("/products/{id:guid}/beside/{other:guid}", (Guid id, Guid other, Nutrient? nutrient, double? mgPerLitre, double? ecMicrosiemensPerCm, Guid? water, ISubstituteDesk desk, CancellationToken cancel) =>
            desk.CompareAsync(new CompareBrands { One = id, Other = other, Nutrient = nutrient, MgPerLitre = mgPerLitre, EcMicrosiemensPerCm = ecMicrosiemensPerCm, WaterId = water }, cancel));
        api.MapGet("/entries", (IProductEntryDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapPost("/entries/preview", (NewProduct entry, IProductEntryDesk desk, CancellationToken cancel) => desk.PreviewAsync(entry, cancel));
        api.MapPost("/entries", async (NewProduct entry, IProductEntryDesk desk, CancellationToken cancel) =>
        {
            var begun = await desk.BeginAsync(entry, cancel);
            return Results.Created($"/api/entries/{begun.Id}", begun);
        });
        api.MapGet("/entries/{id:guid}", async (Guid id, IProductEntryDesk desk, CancellationToken cancel) => RootwaterApi.Found(await desk.GetAsync(id, cancel), "entry", id));
        api.MapPost("/entries/{id:guid}/test", (Guid id, TestCanChoice choice, IProductEntryDesk desk, CancellationToken cancel) => desk.PlanTestAsync(id, choice, cancel: cancel));
        api.MapPost("/entries/{id:guid}/reading", (Guid id, TestReadBody body, IProductEntryDesk desk, CancellationToken cancel) => desk.ReadTestAsync(id, body.EcMicrosiemensPerCm, body.PH, body.Id, cancel));
        api.MapPost("/entries/{id:guid}/look", (Guid id, LookBody body, IProductEntryDesk desk, CancellationToken cancel) => desk.LookAsync(id, body.Clear, body.Note, body.Id, cancel));
        api.MapPost("/entries/{id:guid}/trial", (Guid id, TrialBody body, IProductEntryDesk desk, CancellationToken cancel) => desk.BeginTrialAsync(id, body.Pairs, body.Outcome, body.Id, cancel));
        api.MapPost("/entries/{id:guid}/judged", (Guid id, JudgedBody body, IProductEntryDesk desk, CancellationToken cancel) => desk.JudgeTrialAsync(id, body.Worse, body.Better, body.Note, body.Id, cancel));
        api.MapPost("/entries/{id:guid}/decided", (Guid id, DecidedBody body, IProductEntryDesk desk, CancellationToken cancel) => desk.DecideAsync(id, body.Accept, body.Why, body.Id, cancel));
        api.MapGet("/waters/year", (IWaterYearDesk desk, CancellationToken cancel) => desk.GetAsync(cancel));
        api.MapGet("/waters/rain", (int? days, IWaterYearDesk desk, CancellationToken cancel) => desk.RainAsync(days ?? 90, cancel));
        api.MapPost("/waters/roof", async (RoofEntry roof, IWaterYearDesk desk, CancellationToken cancel) =>
        {
            await desk.SetRoofAsync(roof, cancel: cancel);
            return await desk.RainAsync(cancel: cancel);
        });
        api.MapPost("/waters/{id:guid}/level", async (Guid id, LevelBody body, IWaterYearDesk desk, CancellationToken cancel) =>
        {
            await desk.SetLevelAsync(id, body.Litres, body.Id, cancel);
            return Results.NoContent();
        });
        api.MapPost("/waters/rain", (RainBody body, IWaterYearDesk desk, CancellationToken cancel) => desk.ImportRainAsync(body.Csv ?? throw new EntryException("csv", null, "the record as text"), body.From, body.Write, cancel));
    }

    private static SubstituteChoices Choices(DateOnly? day, int? cans, double? seconds) => new() { AsOf = day, MostCans = cans ?? 2, TimeLimit = TimeSpan.FromSeconds(Math.Clamp(seconds ?? 2, 0, 1000)) };
}

/// <summary>µS/cm at 25 °C and pH; one of them at least.</summary>
public sealed record TestReadBody(double? EcMicrosiemensPerCm = null, double? PH = null, Guid? Id = null);

/// <param name="Clear">Neither haze nor grains.</param>
/// <param name="Note">What was seen.</param>
/// <param name="Id">Made by whoever looked.</param>
public sealed record LookBody(bool Clear, string? Note = null, Guid? Id = null);

/// <param name="Pairs">Matched plants.</param>
/// <param name="Outcome">What will be compared.</param>
/// <param name="Id">Made by whoever begins it.</param>
public sealed record TrialBody(IReadOnlyList<TrialPair> Pairs, string Outcome, Guid? Id = null);

/// <param name="Worse">Pairs in which the plant on the new product did worse.</param>
/// <param name="Better">Pairs in which it did better.</param>
/// <param name="Note">What was seen.</param>
/// <param name="Id">Made by whoever judges.</param>
public sealed record JudgedBody(int Worse, int Better, string? Note = null, Guid? Id = null);

/// <param name="Accept">Or reject.</param>
/// <param name="Why">In the grower's words.</param>
/// <param name="Id">Made by whoever decides.</param>
public sealed record DecidedBody(bool Accept, string Why, Guid? Id = null);

/// <param name="Litres">There now.</param>
/// <param name="Id">Made by whoever looked.</param>
public sealed record LevelBody(double Litres, Guid? Id = null);

/// <param name="Csv">Days and millimetres.</param>
/// <param name="From">Whose record.</param>
/// <param name="Write">False only looks.</param>
public sealed record RainBody(string? Csv, string? From = null, bool Write = false);
