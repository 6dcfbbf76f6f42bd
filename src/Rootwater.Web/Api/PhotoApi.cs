using System.Globalization;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Net.Http.Headers;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>Photos in, as a form with files; photos out, as JPEG and nothing else.</summary>
internal static class PhotoApi
{
    /// <summary>A handful of telephone pictures in one go.</summary>
    private const long MostBytes = 200L << 20;
    private const int MostFiles = 50;

    public static void MapPhotos(this ApiRoutes api)
    {
        api.MapPost("/photos", AddAsync);
        api.MapGet("/plants/{id:guid}/photos", (Guid id, IPhotoDesk desk, CancellationToken cancel) => desk.ListAsync(id, cancel));
        api.MapGet("/photos/{id:guid}", (Guid id, HttpContext context, IPhotoDesk desk, CancellationToken cancel) => SendAsync(id, PhotoSize.Whole, context, desk, cancel));
        api.MapGet("/photos/{id:guid}/thumbnail", (Guid id, HttpContext context, IPhotoDesk desk, CancellationToken cancel) => SendAsync(id, PhotoSize.Thumbnail, context, desk, cancel));
    }

    // Fields: plantId, id (once for each file, in the same order; made here where left out), takenAt, caption; files under any name.
    private static async Task<IResult> AddAsync(HttpContext context, IPhotoDesk desk, CancellationToken cancel)
    {
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = MostBytes;
        if (!context.Request.HasFormContentType)
            throw new EntryException("body", context.Request.ContentType, "a form with files (multipart/form-data).");
        context.Features.Set<IFormFeature>(new FormFeature(context.Request, new FormOptions { MultipartBodyLengthLimit = MostBytes, ValueCountLimit = 200 }));
        var form = await ReadAsync(context, cancel);
        var ids = form["id"].SelectMany(text => (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)).ToList();
        if (!Guid.TryParse(form["plantId"], out var plant))
            throw new EntryException("plantId", form["plantId"], "the id of a plant on this bench.");
        if (form.Files.Count is 0 or > MostFiles)
            throw new EntryException("files", form.Files.Count.ToString(CultureInfo.InvariantCulture), $"1 to {MostFiles} pictures.");
        if (ids.Count > 0 && ids.Count != form.Files.Count)
            throw new EntryException("id", ids.Count.ToString(CultureInfo.InvariantCulture), "one id for each file, or none.");
        DateTime? taken = form["takenAt"].ToString() is not { Length: > 0 } when ? null
            : DateTime.TryParseExact(when, ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var minute) ? minute
            : throw new EntryException("takenAt", when, "a local time as 2026-03-14T08:05.");
        var kept = new List<PhotoView>();
        foreach (var (file, at) in form.Files.Select((file, at) => (file, at)))
        {
            var id = ids.Count == 0 ? Guid.CreateVersion7() : Guid.TryParse(ids[at], out var given) ? given : throw new EntryException("id", ids[at], "a UUID.");
            try
            {
                await using var content = file.OpenReadStream();
                kept.Add(await desk.AddAsync(new NewPhoto { Id = id, PlantId = plant, Caption = form["caption"].ToString() is { Length: > 0 } caption ? caption : null, TakenAt = taken }, content, cancel));
            }
            catch (EntryException refused) when (form.Files.Count > 1)
            {
                // Which of them: those before it are kept, and sent again they are kept once.
                throw new EntryException([.. refused.Problems.Select(problem => problem with { Field = $"file {at + 1} ({file.FileName}): {problem.Field}" })]);
            }
        }

        return Results.Created($"/api/photos/{kept[0].Id}", kept);
    }

    private static async Task<IFormCollection> ReadAsync(HttpContext context, CancellationToken cancel)
    {
        try
        {
            return await context.Request.ReadFormAsync(cancel);
        }
        catch (InvalidDataException)
        {
            throw new EntryException("body", null, $"a whole form of at most {MostBytes >> 20} MiB.");
        }
    }

    // What lies under an id never changes, so a browser need not ask twice; it is for this reader alone.
    private static async Task<IResult> SendAsync(Guid id, PhotoSize size, HttpContext context, IPhotoDesk desk, CancellationToken cancel)
    {
        var picture = await desk.OpenAsync(id, size, cancel);
        if (picture is null)
            return Results.Problem(statusCode: StatusCodes.Status404NotFound, title: "No such photo", detail: $"There is no photo {id}, or its picture is gone from the folder beside the database.");
        context.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        context.Response.Headers.ContentDisposition = $"inline; filename=\"{id:N}.jpg\"";
        return Results.Stream(picture, "image/jpeg", entityTag: new EntityTagHeaderValue($"\"{id:N}-{size}\""));
    }
}
