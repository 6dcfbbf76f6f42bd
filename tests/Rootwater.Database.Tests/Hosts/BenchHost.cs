using Rootwater.Ledger;

namespace Rootwater.Database.Tests.Hosts;

/// <summary>A place for one empty bench, and for breaking it.</summary>
public interface IBenchHost : IAsyncDisposable
{
    LedgerOptions Options { get; }

    /// <summary>Runs SQL beside the program, as somebody with a database tool would.</summary>
    Task ExecuteAsync(string sql);
}

/// <summary>A SQLite file in a folder of its own.</summary>
public sealed class SqliteHost : IBenchHost
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-").FullName;

    public string File => Path.Combine(_folder, "bench.db");

    public LedgerOptions Options => new() { Location = File, LockWait = TimeSpan.FromSeconds(1) };

    public async Task ExecuteAsync(string sql)
    {
        await using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False");
        await connection.OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync();
    }

    public ValueTask DisposeAsync()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }
}

/// <summary>A schema of its own in the test server's database.</summary>
public sealed class PostgresHost(PostgresServer server) : IBenchHost
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-").FullName;
    private readonly string _schema = $"bench_{Guid.NewGuid():N}";

    public LedgerOptions Options => new() { Location = $"{server.ConnectionString};Search Path={_schema};Pooling=False", LockWait = TimeSpan.FromSeconds(1), PhotosFolder = Path.Combine(_folder, "photos"), BackupFolder = Path.Combine(_folder, "backups") };

    public static async Task<PostgresHost> MakeAsync(PostgresServer server)
    {
        var host = new PostgresHost(server);
        await host.ExecuteAsync($"CREATE SCHEMA {host._schema}");
        return host;
    }

    public async Task ExecuteAsync(string sql)
    {
        await using var connection = new Npgsql.NpgsqlConnection(Options.Location);
        await connection.OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await ExecuteAsync($"DROP SCHEMA {_schema} CASCADE");
        Directory.Delete(_folder, recursive: true);
    }
}
