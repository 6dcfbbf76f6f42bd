using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Tests.Fixtures;

/// <summary>The whole program on a database in a folder of its own, with the demo bench, or with other desks put in.</summary>
public sealed class WebProgram(Action<IServiceCollection>? put = null, string demo = "three-months") : WebApplicationFactory<Program>
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("rootwater-web-");

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Production"); // As a grower runs it.
        builder.UseSetting("demo", put is null ? demo : "false");
        builder.UseSetting("database", Path.Combine(_folder.FullName, "bench.db"));
        builder.UseSetting("urls", "http://127.0.0.1:0");
        builder.UseSetting("backup:hours", "0"); // No test waits for a backup it did not ask for.
        builder.UseSetting("evidence:warm", "false"); // Nor for answers that no page asked for.
        builder.UseSetting("pots:fit", "false"); // Nor for a fit of the pots that no page asked for.
        builder.ConfigureTestServices(services => put?.Invoke(services));
    }

    /// <summary>The program with an invented bench in memory behind its pages.</summary>
    public static WebProgram On(FixtureBench bench) => new(services => services
        .AddSingleton<IPlantDesk>(bench.Plants).AddSingleton<IFactDesk>(bench.Plants).AddSingleton<INutrientLedger>(bench.Plants).AddSingleton<IReadingDesk>(bench.Plants)
        .AddSingleton<IYearDesk>(bench.Plants).AddSingleton<IPhotoDesk>(bench.Plants).AddSingleton<ISettingsDesk>(bench.Plants)
        .AddSingleton<IMixingDesk>(bench).AddSingleton<ICupboardDesk>(bench).AddSingleton<IWaterDesk>(bench).AddSingleton<IPotDesk>(bench));

    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        try
        {
            _folder.Delete(recursive: true);
        }
        catch (IOException)
        {
            // The database may still be closing; the temporary folder is the system's to clear.
        }
    }
}
