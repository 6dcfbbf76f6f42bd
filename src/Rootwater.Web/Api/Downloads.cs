using Rootwater.Ledger;

namespace Rootwater.Web.Api;

/// <summary>Files in and out by way of a temporary file: what writes them (ZIP, PDF) writes as it pleases, and a reader with a slow line keeps no memory.</summary>
internal static class Downloads
{
    public static async Task<IResult> SendAsync(string type, string name, bool inline, HttpContext context, Func<Stream, Task> write)
    {
        var file = Temporary();
        try
        {
            await Task.Run(() => write(file));
            file.Position = 0;
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }

        context.Response.Headers.CacheControl = "no-store";
        if (!inline)
            return Results.File(file, type, name);
        context.Response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
        return Results.Stream(file, type);
    }

    /// <summary>The body of a request as a file that can be read at any place; gone when closed.</summary>
    /// <exception cref="EntryException">It is larger than that.</exception>
    public static async Task<Stream> ReceiveAsync(HttpContext context, long most, CancellationToken cancel)
    {
        if (context.Features.Get<Microsoft.AspNetCore.Http.Features.IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = most;
        var file = Temporary();
        try
        {
            await context.Request.Body.CopyToAsync(file, cancel);
            file.Position = 0;
            return file.Length > 0 ? file : throw new EntryException("body", null, "the file itself as the body of the request.");
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }
    }

    // For this user alone, as the system's own temporary files are.
    private static FileStream Temporary()
    {
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.ReadWrite, Options = FileOptions.DeleteOnClose | FileOptions.Asynchronous };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        return new FileStream(Path.Combine(Path.GetTempPath(), $"rootwater-{Guid.NewGuid():N}.part"), options);
    }
}
