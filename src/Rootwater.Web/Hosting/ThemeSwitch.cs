using Microsoft.AspNetCore.Mvc;
using Rootwater.Web.Components;

namespace Rootwater.Web.Hosting;

/// <summary>The light and dark switch for browsers without scripts; with scripts the page sets the same cookie itself.</summary>
public static class ThemeSwitch
{
    public static void MapThemeSwitch(this IEndpointRouteBuilder routes) => routes.MapPost("/theme", (HttpContext context, [FromForm] string? back) =>
    {
        context.Response.Cookies.Append(Theme.Cookie, Theme.Other(Theme.Chosen(context)), new CookieOptions { MaxAge = TimeSpan.FromDays(365), SameSite = SameSiteMode.Strict, Path = "/" });
        // Only back into this program, never to an address that a form from elsewhere names.
        return Results.LocalRedirect(back is ['/', not ('/' or '\\'), ..] ? back : "/");
    });
}
