using System.Data.Common;
using System.Text;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.EntityFrameworkCore.Storage;
using Rootwater.Ledger.Mappings;

namespace Rootwater.Ledger.Sqlite;

/// <summary>The bench in a SQLite file.</summary>
internal sealed class SqliteBench : BenchDatabase
{
    private readonly string _path;
    private readonly bool _createIfMissing;
    private readonly string _connectionString;
    private readonly DbContextOptions<SqliteLedgerContext> _options;

    private SqliteBench(string path, LedgerOptions options)
    {
        _path = path;
        _createIfMissing = options.CreateIfMissing;
        PhotosFolder = Path.GetFullPath(options.PhotosFolder ?? path + ".photos");
        BackupFolder = Path.GetFullPath(options.BackupFolder ?? path + ".backups");
        _connectionString = new SqliteConnectionStringBuilder
        {
            DataSource = path,
            Mode = options.CreateIfMissing ? SqliteOpenMode.ReadWriteCreate : SqliteOpenMode.ReadWrite,
            DefaultTimeout = Math.Max(1, (int)Math.Ceiling(options.LockWait.TotalSeconds)),
        }.ToString();
        // Every context is made for one piece of work and left with it; asking at each row whether two threads share it costs more than the row.
        _options = new DbContextOptionsBuilder<SqliteLedgerContext>().UseSqlite(_connectionString).EnableThreadSafetyChecks(false).AddInterceptors(new Durable()).Options;
    }

    public override string Name => _path;

    public override string PhotosFolder { get; }

    public override string BackupFolder { get; }

    public override string AccessFolder => _path + ".access";

    public static SqliteBench At(string path, LedgerOptions options) => new(Path.GetFullPath(path), options);

    public override LedgerContext CreateContext() => new SqliteLedgerContext(_options);

    public override ValueTask DisposeAsync()
    {
        using var connection = new SqliteConnection(_connectionString);
        SqliteConnection.ClearPool(connection);
        return ValueTask.CompletedTask;
    }

    internal override Task OverwriteWhatGoesAsync(LedgerContext db, CancellationToken cancel) => db.Database.ExecuteSqlRawAsync("PRAGMA secure_delete = ON", cancel);

    internal override async Task SettleFileAsync(CancellationToken cancel)
    {
        await using var db = CreateContext();
        await db.Database.ExecuteSqlRawAsync("PRAGMA wal_checkpoint(TRUNCATE)", cancel);
    }

    protected override async Task PrepareAsync(CancellationToken cancel)
    {
        CheckFile();
        await using var db = CreateContext();
        await db.Database.OpenConnectionAsync(cancel);
        var connection = db.Database.GetDbConnection();
        if (await ScalarAsync(connection, "PRAGMA quick_check(1)", cancel) is var found and not "ok")
        {
            throw Corrupt($"its own check says: {found}");
        }

        await MigrateAsync(db, cancel);
        var journal = await ScalarAsync(connection, "PRAGMA journal_mode", cancel);
        var synchronous = await ScalarAsync(connection, "PRAGMA synchronous", cancel);
        if (journal != "wal" || synchronous != "2")
        {
            throw new LedgerProblem(LedgerFault.NotDurable,
                $"{_path} cannot be kept safely: journal_mode is {journal} and synchronous {synchronous} where wal and 2 (full) are needed. " +
                "Some network folders cannot do this: keep the file on a local disk.");
        }
    }

    // EF Core builds a whole model of its own to read this table, which takes longer than all else that opening does.
    protected override async Task<IReadOnlyList<string>> AppliedMigrationsAsync(LedgerContext db, CancellationToken cancel)
    {
        var connection = db.Database.GetDbConnection();
        if (await ScalarAsync(connection, "SELECT name FROM sqlite_master WHERE name = '__EFMigrationsHistory'", cancel) is null or "")
        {
            return [];
        }

        await using var command = connection.CreateCommand();
        command.CommandText = "SELECT MigrationId FROM __EFMigrationsHistory ORDER BY MigrationId";
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var names = new List<string>();
        while (await reader.ReadAsync(cancel))
        {
            names.Add(reader.GetString(0));
        }

        return names;
    }

    internal override async Task InsertAsync(LedgerContext db, RowColumns columns, IReadOnlyList<object> rows, CancellationToken cancel)
    {
        await using var command = db.Database.GetDbConnection().CreateCommand();
        command.Transaction = db.Database.CurrentTransaction!.GetDbTransaction();
        command.CommandText = $"INSERT INTO {columns.Table} ({string.Join(", ", columns.Names)}) VALUES ({string.Join(", ", Enumerable.Range(0, columns.Count).Select(i => $"$p{i}"))})";
        for (var i = 0; i < columns.Count; i++)
        {
            var parameter = command.CreateParameter();
            parameter.ParameterName = $"$p{i}";
            command.Parameters.Add(parameter);
        }

        foreach (var row in rows)
        {
            cancel.ThrowIfCancellationRequested();
            for (var i = 0; i < columns.Count; i++)
            {
                command.Parameters[i].Value = columns.Value(i, row) ?? DBNull.Value;
            }

            command.ExecuteNonQuery();
        }
    }

    // BeginTransaction is BEGIN IMMEDIATE here: the write lock is held already.
    protected override Task LockForWritingAsync(LedgerContext db, CancellationToken cancel) => Task.CompletedTask;

    protected override LedgerProblem? Explain(Exception error)
    {
        for (var inner = error; inner is not null; inner = inner.InnerException)
        {
            if (inner is SqliteException sqlite)
            {
                return Explain(sqlite);
            }
        }

        return error is IOException or UnauthorizedAccessException ? CannotOpen(error) : null;
    }

    // Result codes: https://sqlite.org/rescode.html
    private LedgerProblem? Explain(SqliteException error) => error.SqliteErrorCode switch
    {
        5 or 6 => new LedgerProblem(LedgerFault.Locked, $"{_path} is being written by another program. Nothing was saved: close the other one, or try again in a moment.", error),
        8 => new LedgerProblem(LedgerFault.ReadOnly, $"{_path} may only be read here. Nothing was saved: give yourself the right to write it and its folder.", error),
        10 => new LedgerProblem(LedgerFault.Corrupt, $"The disk under {_path} cannot be read or written. Nothing was saved: check the disk, then restore the newest backup if the file is hurt.", error),
        11 => Corrupt(error.Message, error),
        13 => new LedgerProblem(LedgerFault.DiskFull, $"The disk that holds {_path} is full. Nothing was saved: make room and do it again.", error),
        14 => CannotOpen(error),
        19 => new LedgerProblem(LedgerFault.Conflict, $"{_path} refused an entry that contradicts what it holds. Nothing was saved. ({error.Message})", error),
        26 => NotADatabase(error),
        _ => null,
    };

    private void CheckFile()
    {
        if (Directory.Exists(_path))
        {
            throw new LedgerProblem(LedgerFault.NotADatabase, $"{_path} is a folder. Name a file, for example {Path.Combine(_path, "bench.db")}.");
        }

        if (!File.Exists(_path))
        {
            if (!_createIfMissing)
            {
                throw new LedgerProblem(LedgerFault.Missing, $"There is no bench at {_path}. Check the path, or start a new bench there.");
            }

            Directory.CreateDirectory(Path.GetDirectoryName(_path)!);
            return;
        }

        using var file = new FileStream(_path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        Span<byte> head = stackalloc byte[16];
        if (file.Length > 0 && (file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false) < head.Length || !head.SequenceEqual(Encoding.ASCII.GetBytes("SQLite format 3\0"))))
        {
            throw NotADatabase(null);
        }
    }

    private LedgerProblem NotADatabase(Exception? inner) =>
        new(LedgerFault.NotADatabase, $"{_path} is not a Rootwater bench, or its beginning is destroyed. Nothing was changed: name another file, or restore the newest backup.", inner);

    private LedgerProblem Corrupt(string why, Exception? inner = null) =>
        new(LedgerFault.Corrupt, $"{_path} is damaged ({why}). Nothing was changed: keep a copy of the file, then restore the newest backup.", inner);

    private LedgerProblem CannotOpen(Exception inner) =>
        new(LedgerFault.WrongConnection, $"{_path} cannot be opened. Check that the folder is there and that you may write in it.", inner);

    private static async Task<string?> ScalarAsync(DbConnection connection, string sql, CancellationToken cancel)
    {
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return Convert.ToString(await command.ExecuteScalarAsync(cancel), System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>Write-ahead log, and no commit reported before it is on the disk. The second is a matter of each connection.</summary>
    private sealed class Durable : DbConnectionInterceptor
    {
        private const string Pragmas = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;";

        public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
        {
            using var command = connection.CreateCommand();
            command.CommandText = Pragmas;
            command.ExecuteNonQuery();
        }

        public override async Task ConnectionOpenedAsync(DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
        {
            await using var command = connection.CreateCommand();
            command.CommandText = Pragmas;
            await command.ExecuteNonQueryAsync(cancellationToken);
        }
    }
}
