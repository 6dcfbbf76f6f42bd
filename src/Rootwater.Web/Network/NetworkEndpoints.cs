using System.Globalization;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Mvc;
using Rootwater.Ledger;

namespace Rootwater.Web.Network;

/// <summary>Signing in and out, and the switch of the home network. Plain forms with the antiforgery token; the pages work without scripts.</summary>
public static class NetworkEndpoints
{
    public static void AddHomeNetwork(this WebApplicationBuilder builder, BenchDesks desks)
    {
        var store = new AccessStore(desks.Database.AccessFolder);
        var told = new NetworkConfiguration();
        ((IConfigurationBuilder)builder.Configuration).Add(told);
        builder.Services.AddSingleton(store).AddSingleton(told).AddSingleton<Passphrase>().AddSingleton<LocalAuthority>()
            .AddSingleton<HomeNetwork>().AddHostedService(services => services.GetRequiredService<HomeNetwork>());
        builder.Services.AddGate();
        var keys = Path.Combine(store.Folder, "keys");
        OwnersFile.Folder(store.Folder);
        OwnersFile.Folder(keys);
        builder.Services.AddDataProtection().SetApplicationName("rootwater").PersistKeysToFileSystem(new DirectoryInfo(keys));
    }

    public static void MapHomeNetwork(this IEndpointRouteBuilder routes)
    {
        routes.MapPost("/signin", async (HttpContext context, [FromForm] string? passphrase, [FromForm] string? back, Passphrase secret, AccessStore store, CancellationToken cancel) =>
        {
            var guess = await secret.TryAsync(passphrase, cancel);
            if (guess.Right)
            {
                await Gate.SignInAsync(context, store);
                return Results.LocalRedirect(Inside(back));
            }

            var wait = guess.Wait is { } time ? "&wait=" + Math.Ceiling(time.TotalSeconds).ToString("0", CultureInfo.InvariantCulture) : "";
            return Results.LocalRedirect($"/signin?wrong=true{wait}&back={Uri.EscapeDataString(Inside(back))}");
        });
        routes.MapPost("/signout", async (HttpContext context) =>
        {
            await context.SignOutAsync(Gate.Scheme);
            return Results.LocalRedirect(Gate.IsHere(context) ? "/network" : "/signin");
        });
        routes.MapPost("/network/signout-everywhere", async (HttpContext context, Passphrase secret) =>
        {
            secret.SignOutEverywhere();
            await context.SignOutAsync(Gate.Scheme);
            return Results.LocalRedirect(Gate.IsHere(context) ? "/network?said=SaidEverywhere" : "/signin");
        });
        routes.MapGet("/network/authority.crt", (LocalAuthority authority) => authority.Certificate is { } der
            ? Results.File(der, "application/x-x509-ca-cert", "rootwater-authority.crt")
            : Results.NotFound());

        // Only at the machine itself: whoever is signed in over the network cannot change the lock.
        var here = routes.MapGroup("/network").AddEndpointFilter(async (invocation, next) => Gate.IsHere(invocation.HttpContext)
            ? await next(invocation)
            : Results.Problem(statusCode: StatusCodes.Status403Forbidden, title: "Only at the machine itself", detail: "Open /network in a browser on the machine that runs Rootwater."));
        here.MapPost("/passphrase", ([FromForm] string? passphrase, [FromForm] string? again, Passphrase secret) =>
        {
            if (Passphrase.Refuse(passphrase, again) is { } wrong)
                return Results.LocalRedirect($"/network?wrong={wrong}");
            secret.Set(passphrase!);
            return Results.LocalRedirect("/network?said=SaidSet");
        });
        here.MapPost("/on", async (HomeNetwork network, CancellationToken cancel) =>
            Results.LocalRedirect(await network.SwitchOnAsync(cancel) ? "/network?said=SaidOn" : "/network?wrong=WrongUnset"));
        here.MapPost("/off", async (HomeNetwork network, CancellationToken cancel) =>
        {
            await network.SwitchOffAsync(cancel);
            return Results.LocalRedirect("/network?said=SaidOff");
        });
    }

    /// <summary>Only back into this program, never to an address that a form from elsewhere names.</summary>
    private static string Inside(string? back) => back is ['/', not ('/' or '\\'), ..] && !back.StartsWith("/signin", StringComparison.Ordinal) ? back : "/";
}
