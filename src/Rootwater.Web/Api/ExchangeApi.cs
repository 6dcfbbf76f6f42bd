using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.Options;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Exchange.Csv;
using Rootwater.Ledger.Exchange.Story;

namespace Rootwater.Web.Api;

/// <summary>What leaves the bench and what comes in.</summary>
internal static class ExchangeApi
{
    private const long MostArchive = 40L << 30;
    private const long MostCsv = 256L << 20;

    public static void MapExchange(this ApiRoutes api)
    {
        api.MapGet("/exchange/tables", (IExchangeDesk desk) => desk.Tables.Select(table => new { name = table, fields = desk.FieldsOf(table) }));
        api.MapGet("/exchange/csv/{table}", (string table, HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
        {
            desk.FieldsOf(table); // Refused by name before a file is begun.
            return Downloads.SendAsync("text/csv; charset=utf-8", $"{table}.csv", inline: false, context, to => desk.WriteCsvAsync(table, to, cancel));
        });
        api.MapPost("/exchange/csv", async (bool? write, HttpContext context, IExchangeDesk desk, IOptions<Microsoft.AspNetCore.Http.Json.JsonOptions> json, CancellationToken cancel) =>
        {
            var (file, mapping) = await FormAsync(context, json.Value.SerializerOptions, cancel);
            await using var csv = file.OpenReadStream();
            return await desk.ReadCsvAsync(csv, mapping, write ?? false, cancel);
        });
        api.MapGet("/exchange/csv-set", (HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
            Downloads.SendAsync("application/zip", $"rootwater-tables-{Today()}.zip", inline: false, context, to => desk.WriteCsvSetAsync(to, cancel)));
        api.MapPost("/exchange/csv-set", async (bool? write, HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
        {
            await using var file = await Downloads.ReceiveAsync(context, MostCsv, cancel);
            return new { facts = await desk.ReadCsvSetAsync(file, write ?? false, cancel), written = write ?? false };
        });
        api.MapGet("/exchange/archive", (HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
            Downloads.SendAsync("application/zip", $"rootwater-{Today()}.zip", inline: false, context, to => desk.WriteArchiveAsync(to, cancel: cancel)));
        api.MapPost("/exchange/archive", async (bool? write, HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
        {
            await using var file = await Downloads.ReceiveAsync(context, MostArchive, cancel);
            return await desk.ReadArchiveAsync(file, write ?? false, cancel: cancel);
        });
        api.MapGet("/exchange/darwin-core", (HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
            Downloads.SendAsync("application/zip", $"rootwater-darwin-core-{Today()}.zip", inline: false, context, to => desk.WriteDarwinCoreAsync(to, cancel)));
    }

    /// <summary>Sheets, the calendar and what a tag's code opens; they have addresses a person may type.</summary>
    public static void MapSheets(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/calendar.ics", async (HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
            Results.Text(await desk.CalendarAsync(At(context), cancel), "text/calendar", System.Text.Encoding.UTF8));
        routes.MapGet("/plants/{number:int}/tag.pdf", (int number, HttpContext context, IExchangeDesk desk, IPlantDesk plants, CancellationToken cancel) =>
            PdfAsync("tag.pdf", context, async to => await IdOfAsync(number, plants, cancel) is { } id && await desk.WriteTagAsync(id, to, At(context), cancel)));
        routes.MapGet("/mixing/can/{id:guid}/card.pdf", (Guid id, HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
            PdfAsync("card.pdf", context, to => desk.WriteMixingCardAsync(id, to, At(context), cancel)));
        routes.MapGet("/bench/tags.pdf", (string? numbers, HttpContext context, IExchangeDesk desk, CancellationToken cancel) =>
        {
            var wanted = Numbers(numbers);
            return PdfAsync("tags.pdf", context, async to =>
            {
                await desk.WriteTagsAsync(to, wanted, At(context), cancel);
                return true;
            });
        });
        routes.MapGet("/plants/{number:int}/story.html", async (int number, bool? source, bool? price, bool? place, bool? locality, bool? notes, bool? tried, HttpContext context, IExchangeDesk desk, IPlantDesk plants, CancellationToken cancel) =>
        {
            var options = new StoryOptions { Source = source ?? false, Price = price ?? false, Place = place ?? false, WildLocality = locality ?? false, Notes = notes ?? false, Tried = tried ?? false };
            return await IdOfAsync(number, plants, cancel) is { } id && await desk.StoryAsync(id, options, cancel) is { } story
                // A file to keep and pass on; here it would stand under this program's own policy, without its styles.
                ? await Downloads.SendAsync("text/html; charset=utf-8", "story.html", inline: false, context, to => to.WriteAsync(System.Text.Encoding.UTF8.GetBytes(story), cancel).AsTask())
                : Results.NotFound();
        });
        // Short, so that the code on a tag has few and large squares; the number on a tag is never given again.
        routes.MapGet("/p/{number:int}", (int number) => Results.LocalRedirect(string.Create(CultureInfo.InvariantCulture, $"/plants/{number}")));
    }

    private static async Task<Guid?> IdOfAsync(int number, IPlantDesk plants, CancellationToken cancel) => (await plants.GetByNumberAsync(number, cancel))?.Card.Id;

    private static async Task<IResult> PdfAsync(string name, HttpContext context, Func<Stream, Task<bool>> write)
    {
        var found = true;
        var answer = await Downloads.SendAsync("application/pdf", name, inline: true, context, async to => found = await write(to));
        return found ? answer : Results.NotFound();
    }

    private static async Task<(IFormFile File, CsvMapping Mapping)> FormAsync(HttpContext context, JsonSerializerOptions json, CancellationToken cancel)
    {
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = MostCsv;
        if (!context.Request.HasFormContentType)
            throw new EntryException("body", context.Request.ContentType, "a form (multipart/form-data) with the file and a field \"mapping\" in JSON.");
        context.Features.Set<IFormFeature>(new FormFeature(context.Request, new FormOptions { MultipartBodyLengthLimit = MostCsv }));
        try
        {
            var form = await context.Request.ReadFormAsync(cancel);
            var mapping = JsonSerializer.Deserialize<CsvMapping>(form["mapping"].ToString(), json);
            return (form.Files.Count == 1 ? form.Files[0] : throw new EntryException("file", form.Files.Count.ToString(CultureInfo.InvariantCulture), "one CSV file."),
                mapping ?? throw new EntryException("mapping", null, "at least {\"table\":\"plants\"}."));
        }
        catch (Exception wrong) when (wrong is JsonException or InvalidDataException)
        {
            throw new EntryException("mapping", null, $"JSON as {{\"table\":\"plants\",\"columns\":{{\"number\":\"No.\"}}}} ({wrong.Message.Split(" Path:")[0]})");
        }
    }

    private static List<int>? Numbers(string? text) => string.IsNullOrWhiteSpace(text) ? null
        : [.. text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(part =>
            int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : throw new EntryException("numbers", text, "numbers with commas between, as 3,12,18."))];

    private static string At(HttpContext context) => $"{context.Request.Scheme}://{context.Request.Host}";

    private static string Today() => DateTime.Now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
