using System.Security.Cryptography;
using System.Text;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Network;

/// <summary>The calendar at an address of its own (<c>/calendar/{key}.ics</c>) that a calendar program can fetch behind the passphrase.</summary>
public static class CalendarFeedAddress
{
    private const string Folder = "/calendar/", Ending = ".ics";

    public static string Of(AccessStore store) => Folder + store.CalendarKey() + Ending;

    /// <summary>Whether a path is the calendar's, with the key that holds now.</summary>
    public static bool Fits(PathString path, AccessStore store) =>
        path.Value is { } asked && asked.StartsWith(Folder, StringComparison.Ordinal) && asked.EndsWith(Ending, StringComparison.Ordinal)
        && store.Now.CalendarKey is { } key
        && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(asked[Folder.Length..^Ending.Length]), Encoding.UTF8.GetBytes(key));

    public static void MapCalendar(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/calendar/{file}", async (string file, HttpContext context, AccessStore store, IExchangeDesk desk, CancellationToken cancel) => Fits(context.Request.Path, store)
            ? Results.Text(await desk.CalendarAsync($"{context.Request.Scheme}://{context.Request.Host}", cancel), "text/calendar", Encoding.UTF8)
            : Results.NotFound());
}
