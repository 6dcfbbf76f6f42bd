using System.Globalization;
using System.IO.Compression;
using Microsoft.AspNetCore.ResponseCompression;
using Rootwater.Ledger;
using Rootwater.Web.Api;
using Rootwater.Web.Components;
using Rootwater.Web.Hosting;
using Rootwater.Web.Network;
using Rootwater.Web.Numbers;
using Rootwater.Web.Sensors;
using Rootwater.Web.Texts;

NativeHeap.KeepSmall();

// One language so far, whatever the machine speaks: a point on the pages, comma or point on entry.
CultureInfo.DefaultThreadCurrentCulture = CultureInfo.DefaultThreadCurrentUICulture = CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("en");

var demo = args.Contains("--demo");
var builder = WebApplication.CreateBuilder(new WebApplicationOptions
{
    // "--demo" is a bare switch; the configuration would take the next word for its value.
    Args = [.. args.Where(word => word != "--demo")],
    // dotnet run starts in the caller's folder, not in the program's.
    ContentRootPath = AppContext.BaseDirectory,
});
builder.Configuration.AddInMemoryCollection(Defaults.Under(builder.Configuration));
builder.WebHost.UseStaticWebAssets();
builder.WebHost.ConfigureKestrel(options => options.AddServerHeader = false);
builder.Logging.SetMinimumLevel(LogLevel.Warning);
// A start that fails is said in a sentence below; the host would print its trace first.
builder.Logging.AddFilter("Microsoft.Extensions.Hosting.Internal.Host", LogLevel.None);
// Its keys lie in a folder of the owner's alone; that they are not encrypted once more is known.
builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);

builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddLocalization();
builder.Services.AddSingleton<Counted>();
builder.Services.AddSingleton<PlantWords>();
builder.Services.AddSingleton<Reader>();
builder.Services.AddSingleton<DrawnOnce>();
builder.Services.AddSingleton<Rootwater.Web.Pages.Round.RoundRows>();
builder.Services.AddSingleton<Rootwater.Web.Pages.Bench.BenchCards>();
builder.Services.AddHttpContextAccessor();
builder.Services.AddRazorComponents().AddInteractiveServerComponents();
builder.Services.AddAntiforgery(options => options.Cookie.SameSite = SameSiteMode.Strict);
builder.Services.AddProblemDetails();
builder.Services.AddApiDescription();
builder.Services.AddExceptionHandler<RequestProblems>();
builder.Services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
builder.Services.ConfigureHttpJsonOptions(options => ApiJson.Configure(options.SerializerOptions));
builder.Services.AddResponseCompression(options =>
{
    // Pages carry no secret that a stranger's text stands beside, so compression over HTTPS gives nothing away.
    options.EnableForHttps = true;
    options.Providers.Add<BrotliCompressionProvider>();
    options.Providers.Add<GzipCompressionProvider>();
    options.MimeTypes = [.. ResponseCompressionDefaults.MimeTypes, "image/svg+xml", "application/problem+json"];
});
// On the round of a large bench the fastest level gives half as much again; a page of the demo costs a millisecond more.
builder.Services.Configure<BrotliCompressionProviderOptions>(options => options.Level = CompressionLevel.Optimal);

if (LoopbackOnly.Beyond(builder.Configuration) is { } beyond)
{
    await Console.Error.WriteLineAsync($"{beyond} reaches beyond this machine. Rootwater listens here only (such as http://localhost:5211); the home network is switched on at /network, with HTTPS and a passphrase.");
    return 1;
}

try
{
    MqttListener.AddTo(builder);
    await builder.AddBenchAsync(Bench.StoryOf(demo, builder.Configuration["demo"]));
    var app = builder.Build();

    app.UseResponseCompression();
    app.UseSecurityHeaders();
    app.UseExceptionHandler(new ExceptionHandlerOptions { ExceptionHandlingPath = "/error", CreateScopeForErrors = true });
    app.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true);
    app.UseAuthentication();
    app.UseGate();
    app.UseSameSiteWrites();
    app.UseAntiforgery();
    app.UseReaderUnits();

    app.MapStaticAssets();
    app.MapRootwaterApi();
    app.MapThemeSwitch();
    app.MapHomeNetwork();
    app.MapCalendar();
    app.MapRazorComponents<App>().AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null); // Our own policy says more.

    await app.StartAsync();
    Console.WriteLine($"Rootwater is at {app.Urls.First()}");
    await app.WaitForShutdownAsync();
    return 0;
}
catch (LedgerProblem problem)
{
    await Console.Error.WriteLineAsync(problem.Message);
    return 1;
}
catch (IOException problem) when (problem.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
{
    await Console.Error.WriteLineAsync($"{builder.Configuration["urls"]} is taken: another Rootwater may be running. Stop it, or start with --urls http://localhost:5211.");
    return 1;
}

/// <summary>Named so that the tests can start the whole program.</summary>
public partial class Program;
