using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Web.Network;

namespace Rootwater.Web.Hosting;

/// <summary>Opens the bench's database and puts the desks where the pages and the API find them.</summary>
public static class Bench
{
    /// <summary>Moves the database: a file, or a PostgreSQL connection string. On the command line it is <c>--database</c>.</summary>
    public const string DatabaseSetting = "database", DatabaseVariable = "ROOTWATER_DATABASE";

    /// <summary>"--demo" tells six years; the setting <c>demo</c> also takes "three-months" (or "true"), the quick one that tests start with.</summary>
    public static DemoStory? StoryOf(bool bareSwitch, string? setting) => bareSwitch ? DemoStory.SixYears : setting?.Trim().ToLowerInvariant() switch
    {
        "six-years" => DemoStory.SixYears,
        "three-months" or "true" => DemoStory.ThreeMonths,
        _ => null,
    };

    /// <param name="builder">Of the program.</param>
    /// <param name="demo">Fills an empty ledger with the demo bench; null for none.</param>
    /// <exception cref="LedgerProblem">The database cannot be used; the message names it and the way out.</exception>
    public static async Task AddBenchAsync(this WebApplicationBuilder builder, DemoStory? demo)
    {
        var location = builder.Configuration[DatabaseSetting] ?? Environment.GetEnvironmentVariable(DatabaseVariable);
        var options = new LedgerOptions
        {
            Location = string.IsNullOrWhiteSpace(location) ? null : location,
            PhotosFolder = builder.Configuration["photos"] ?? Environment.GetEnvironmentVariable("ROOTWATER_PHOTOS"),
            BackupFolder = builder.Configuration["backups"] ?? Environment.GetEnvironmentVariable("ROOTWATER_BACKUPS"),
        };
        var desks = await BenchDesks.OpenAsync(options, demo is not null, device: "web", story: demo ?? DemoStory.SixYears);
        builder.Services.AddBench(desks);
        builder.AddHomeNetwork(desks);
        builder.Services.AddSingleton<BackupSchedule>();
        builder.Services.AddHostedService(services => services.GetRequiredService<BackupSchedule>());
        builder.Services.AddHostedService<WarmUp>();
        builder.Services.AddHostedService<SpareMemory>();
    }
}
