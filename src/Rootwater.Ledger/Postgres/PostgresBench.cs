using System.Net.Sockets;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using Rootwater.Ledger.Mappings;

namespace Rootwater.Ledger.Postgres;

/// <summary>The bench in a PostgreSQL database (or a schema of one, by "Search Path" in the connection string).</summary>
internal sealed class PostgresBench : BenchDatabase
{
    private readonly DbContextOptions<PostgresLedgerContext> _options;
    private readonly NpgsqlDataSource _source;
    private readonly string _lockWait;

    private PostgresBench(NpgsqlConnectionStringBuilder connection, LedgerOptions options)
    {
        Name = $"the database \"{connection.Database ?? connection.Username}\" on {connection.Host}:{connection.Port}";
        var beside = Path.Combine(LedgerOptions.DataFolder, FolderName($"{connection.Host}-{connection.Port}-{connection.Database ?? connection.Username}-{connection.SearchPath ?? "public"}"));
        PhotosFolder = Path.GetFullPath(options.PhotosFolder ?? beside + ".photos");
        BackupFolder = Path.GetFullPath(options.BackupFolder ?? beside + ".backups");
        AccessFolder = Path.GetFullPath(beside + ".access");
        _lockWait = FormattableString.Invariant($"{options.LockWait.TotalMilliseconds:0}ms");
        _source = NpgsqlDataSource.Create(connection);
        _options = new DbContextOptionsBuilder<PostgresLedgerContext>().EnableThreadSafetyChecks(false) // As in SqliteBench.
            .UseNpgsql(_source, npgsql => npgsql.MigrationsHistoryTable("__EFMigrationsHistory", connection.SearchPath)).Options;
    }

    public override string Name { get; }

    public override string PhotosFolder { get; }

    public override string BackupFolder { get; }

    public override string AccessFolder { get; }

    public static PostgresBench At(string location, LedgerOptions options)
    {
        try
        {
            return new PostgresBench(Settings(location), options);
        }
        catch (Exception error) when (error is ArgumentException or FormatException or UriFormatException)
        {
            throw new LedgerProblem(LedgerFault.WrongConnection,
                "The PostgreSQL connection string cannot be read. It looks like \"Host=localhost;Port=5432;Database=bench;Username=me;Password=…\".", error);
        }
    }

    internal static NpgsqlConnectionStringBuilder Settings(string location) =>
        location.Contains("://", StringComparison.Ordinal) ? FromUri(location) : new NpgsqlConnectionStringBuilder(location);

    public override LedgerContext CreateContext() => new PostgresLedgerContext(_options);

    public override ValueTask DisposeAsync() => _source.DisposeAsync();

    protected override async Task PrepareAsync(CancellationToken cancel)
    {
        await using var db = CreateContext();
        // Opened first, so that a misspelt name is an error: a migration would quietly create the database.
        await db.Database.OpenConnectionAsync(cancel);
        await MigrateAsync(db, cancel);
    }

    /// <summary>One writer at a time, so that positions have no gaps and projections see all that went before. Readers are not held up.</summary>
    protected override async Task LockForWritingAsync(LedgerContext db, CancellationToken cancel)
    {
        await db.Database.ExecuteSqlAsync($"SELECT set_config('lock_timeout', {_lockWait}, true)", cancel);
        await db.Database.ExecuteSqlRawAsync("LOCK TABLE facts IN SHARE ROW EXCLUSIVE MODE", cancel);
    }

    internal override async Task InsertAsync(LedgerContext db, RowColumns columns, IReadOnlyList<object> rows, CancellationToken cancel)
    {
        var connection = (NpgsqlConnection)db.Database.GetDbConnection();
        await using var copy = await connection.BeginBinaryImportAsync($"COPY {columns.Table} ({string.Join(", ", columns.Names)}) FROM STDIN (FORMAT BINARY)", cancel);
        foreach (var row in rows)
        {
            await copy.StartRowAsync(cancel);
            for (var i = 0; i < columns.Count; i++)
            {
                if (columns.Value(i, row) is { } value)
                {
                    await copy.WriteAsync(value, cancel);
                }
                else
                {
                    await copy.WriteNullAsync(cancel);
                }
            }
        }

        await copy.CompleteAsync(cancel);
    }

    protected override LedgerProblem? Explain(Exception error)
    {
        for (var inner = error; inner is not null; inner = inner.InnerException)
        {
            switch (inner)
            {
                case PostgresException postgres:
                    return Explain(postgres);
                case SocketException or NpgsqlException { InnerException: SocketException or TimeoutException or IOException }:
                    return new LedgerProblem(LedgerFault.WrongConnection, $"Cannot reach {Name}. Check host and port, and that the server runs.", error);
            }
        }

        return null;
    }

    // SQLSTATE codes: PostgreSQL documentation, appendix A.
    private LedgerProblem? Explain(PostgresException error) => error.SqlState switch
    {
        "28P01" or "28000" => new LedgerProblem(LedgerFault.WrongConnection, $"The server refused the user or password for {Name}. Check both in the connection string.", error),
        "3D000" => new LedgerProblem(LedgerFault.WrongConnection, $"There is no such thing as {Name}. Create the database, or correct its name in the connection string.", error),
        "3F000" => new LedgerProblem(LedgerFault.WrongConnection, $"The schema named in the connection string is not in {Name}. Create it, or correct \"Search Path\".", error),
        "42501" => new LedgerProblem(LedgerFault.ReadOnly, $"This user may not write in {Name}. Grant the right, or use another user.", error),
        "55P03" or "40P01" or "40001" => new LedgerProblem(LedgerFault.Locked, $"{Name} is being written by another program. Nothing was saved: try again in a moment.", error),
        "53100" => new LedgerProblem(LedgerFault.DiskFull, $"The disk of {Name} is full. Nothing was saved: make room and do it again.", error),
        "25006" => new LedgerProblem(LedgerFault.ReadOnly, $"{Name} takes no writing now. Nothing was saved: connect to the primary server.", error),
        "XX001" or "XX002" => new LedgerProblem(LedgerFault.Corrupt, $"{Name} is damaged ({error.MessageText}). Nothing was saved: restore the newest backup.", error),
        "23505" or "23502" or "23514" => new LedgerProblem(LedgerFault.Conflict, $"{Name} refused an entry that contradicts what it holds. Nothing was saved. ({error.MessageText})", error),
        _ => null,
    };

    private static string FolderName(string text) => string.Concat(text.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.' ? c : '_'));

    private static NpgsqlConnectionStringBuilder FromUri(string location)
    {
        var uri = new Uri(location);
        var user = uri.UserInfo.Split(':', 2);
        return new NpgsqlConnectionStringBuilder
        {
            Host = uri.Host,
            Port = uri.Port > 0 ? uri.Port : 5432,
            Database = uri.AbsolutePath.TrimStart('/'),
            Username = user[0].Length > 0 ? Uri.UnescapeDataString(user[0]) : null,
            Password = user.Length > 1 ? Uri.UnescapeDataString(user[1]) : null,
        };
    }
}
