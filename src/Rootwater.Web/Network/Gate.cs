using System.Net;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;

namespace Rootwater.Web.Network;

/// <summary>Who gets through: this machine as ever; anybody from the network only signed in, over HTTPS.</summary>
public static class Gate
{
    public const string Scheme = CookieAuthenticationDefaults.AuthenticationScheme;

    /// <summary>The "__Host-" in its name makes browsers insist on Secure, on the whole path and on this very host.</summary>
    public const string Cookie = "__Host-rootwater";

    private const string StampClaim = "stamp";

    // What a page needs to show the sign-in, and what a phone needs to trust it. Nothing here tells of the bench.
    private static readonly string[] s_open = ["/css", "/js", "/icons", "/_framework", "/_content", "/favicon.svg", "/round.webmanifest", "/round-worker.js", "/signin", "/theme", "/network/authority.crt"];

    public static void AddGate(this IServiceCollection services) => services.AddAuthentication(Scheme).AddCookie(Scheme, options =>
    {
        options.Cookie.Name = Cookie;
        options.Cookie.HttpOnly = true;
        options.Cookie.SameSite = SameSiteMode.Strict;
        options.Cookie.SecurePolicy = CookieSecurePolicy.Always;
        options.Cookie.Path = "/";
        options.ExpireTimeSpan = TimeSpan.FromDays(30); // A phone that does its round is not asked each morning.
        options.SlidingExpiration = true;
        options.Events.OnValidatePrincipal = async context =>
        {
            var store = context.HttpContext.RequestServices.GetRequiredService<AccessStore>();
            if (context.Principal?.FindFirstValue(StampClaim) != store.Now.Stamp)
            {
                context.RejectPrincipal();
                await context.HttpContext.SignOutAsync(Scheme);
            }
        };
    });

    public static Task SignInAsync(HttpContext context, AccessStore store) => context.SignInAsync(
        Scheme, new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.Name, "grower"), new Claim(StampClaim, store.Now.Stamp)], Scheme)),
        new AuthenticationProperties { IsPersistent = true });

    /// <summary>Whether a request comes from this very machine and calls it by its own name. (A server inside a test has no connection at all.)</summary>
    public static bool IsHere(HttpContext context) =>
        context.Connection.RemoteIpAddress is not { } remote
        || IPAddress.IsLoopback(remote.IsIPv4MappedToIPv6 ? remote.MapToIPv4() : remote) && context.Request.Host.Host is "localhost" or "127.0.0.1" or "[::1]";

    public static bool MayEnter(HttpContext context) => IsHere(context) || context.Request.IsHttps && context.User.Identity?.IsAuthenticated == true;

    /// <summary>A calendar program cannot sign in: what it fetches has the key in its address, and the key opens nothing else. Over HTTPS, so that nobody on the way learns it.</summary>
    private static bool IsCalendar(HttpContext context) => context.Request.IsHttps && HttpMethods.IsGet(context.Request.Method) && CalendarFeedAddress.Fits(context.Request.Path, context.RequestServices.GetRequiredService<AccessStore>());

    public static IApplicationBuilder UseGate(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        if (MayEnter(context) || IsCalendar(context) || s_open.Any(open => context.Request.Path.StartsWithSegments(open)))
        {
            await next(context);
            return;
        }

        // Nothing of the bench may stay in a cache between the phone and here.
        context.Response.Headers.CacheControl = "no-store";
        if (context.Request.Path.StartsWithSegments("/api") || !HttpMethods.IsGet(context.Request.Method))
        {
            await Results.Problem(statusCode: StatusCodes.Status401Unauthorized, title: "Sign in first", detail: "This bench answers on the network only to those who know its passphrase: /signin.").ExecuteAsync(context);
            return;
        }

        context.Response.Redirect("/signin?back=" + Uri.EscapeDataString(context.Request.Path + context.Request.QueryString));
    });
}
