using Rootwater.Ledger;
using Rootwater.Web.Network;

namespace Rootwater.Web.Hosting;

/// <summary>Opens the bench's database and puts the desks where the pages and the API find them.</summary>
public static class Bench
{
    /// <summary>Moves the database: a file, or a PostgreSQL connection string. On the command line it is <c>--database</c>.</summary>
    public const string DatabaseSetting = "database", DatabaseVariable = "ROOTWATER_DATABASE";

    /// <param name="builder">Of the program.</param>
    /// <param name="demo">Fills an empty ledger with the demo bench.</param>
    /// <exception cref="LedgerProblem">The database cannot be used; the message names it and the way out.</exception>
    public static async Task AddBenchAsync(this WebApplicationBuilder builder, bool demo)
    {
        var location = builder.Configuration[DatabaseSetting] ?? Environment.GetEnvironmentVariable(DatabaseVariable);
        var options = new LedgerOptions
        {
            Location = string.IsNullOrWhiteSpace(location) ? null : location,
            PhotosFolder = builder.Configuration["photos"] ?? Environment.GetEnvironmentVariable("ROOTWATER_PHOTOS"),
            BackupFolder = builder.Configuration["backups"] ?? Environment.GetEnvironmentVariable("ROOTWATER_BACKUPS"),
        };
        var desks = await BenchDesks.OpenAsync(options, demo, device: "web");
        builder.Services.AddBench(desks);
        builder.AddHomeNetwork(desks);
    }
}
