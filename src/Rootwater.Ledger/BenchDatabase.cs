using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Mappings;
using Rootwater.Ledger.Postgres;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Sqlite;

namespace Rootwater.Ledger;

/// <summary>Where the bench is kept.</summary>
public sealed record LedgerOptions
{
    /// <summary>A path to a SQLite file, or a PostgreSQL connection string ("Host=…;Database=…", which may name its schema by "Search Path=…"). Null: <see cref="DefaultPath"/>.</summary>
    public string? Location { get; init; }

    /// <summary>How long to wait for another program that is writing. 5 s: a writer here is done in milliseconds.</summary>
    public TimeSpan LockWait { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>Whether a file that is not there is made.</summary>
    public bool CreateIfMissing { get; init; } = true;

    /// <summary>Where pictures lie. Null: beside a SQLite file as "NAME.photos"; for PostgreSQL in the user's own data folder, under host, database and schema.</summary>
    public string? PhotosFolder { get; init; }

    /// <summary>Where backups go. Null: beside a SQLite file as "NAME.backups"; for PostgreSQL in the user's own data folder. Best set to another disk.</summary>
    public string? BackupFolder { get; init; }

    /// <summary>The embedded database in the user's own data folder.</summary>
    public static string DefaultPath => Path.Combine(DataFolder, "bench.db");

    /// <summary>The user's own data folder.</summary>
    internal static string DataFolder => Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "rootwater");
}

/// <summary>One bench's database, opened and checked: its engine is durable and its tables are those of this program.</summary>
public abstract class BenchDatabase : IAsyncDisposable
{
    private readonly SemaphoreSlim _writing = new(1, 1);

    /// <summary>What readings have taught of the pots, for whoever forecasts; null until they were fitted. Derived from the facts and kept nowhere.</summary>
    internal LearnedPots? Learned { get; set; }

    /// <summary>What recorded forecasts were off by, as read on a day; null until one is made. Derived likewise.</summary>
    internal ForecastErrorsInHand? ForecastErrors { get; set; }

    /// <summary>The file, or the server and database, as messages name it; never a password.</summary>
    public abstract string Name { get; }

    /// <summary>Where the pictures of this bench lie.</summary>
    public abstract string PhotosFolder { get; }

    /// <summary>Where the backups of this bench go.</summary>
    public abstract string BackupFolder { get; }

    /// <summary>Where what guards the door lies: passphrase hash, certificates, keys. The owner's alone, and part of no backup or archive.</summary>
    public abstract string AccessFolder { get; }

    /// <summary>Opens the database, makes or updates its tables, and checks that what is written stays written.</summary>
    /// <exception cref="LedgerProblem">It cannot be used; the message names it and the way out.</exception>
    public static async Task<BenchDatabase> OpenAsync(LedgerOptions? options = null, CancellationToken cancel = default)
    {
        options ??= new LedgerOptions();
        var location = options.Location ?? LedgerOptions.DefaultPath;
        BenchDatabase database = LooksLikePostgres(location) ? PostgresBench.At(location, options) : SqliteBench.At(location, options);
        try
        {
            await database.GuardAsync(() => database.PrepareAsync(cancel));
            await database.FillFromFactsAsync(cancel);
            return database;
        }
        catch
        {
            await database.DisposeAsync();
            throw;
        }
    }

    /// <summary>Where a bench and what belongs to it would lie, without opening it. File is null for PostgreSQL.</summary>
    internal static async Task<(string? File, string PhotosFolder, string BackupFolder)> PlaceOfAsync(LedgerOptions options)
    {
        var location = options.Location ?? LedgerOptions.DefaultPath;
        await using BenchDatabase database = LooksLikePostgres(location) ? PostgresBench.At(location, options) : SqliteBench.At(location, options);
        return (database is SqliteBench ? database.Name : null, database.PhotosFolder, database.BackupFolder);
    }

    /// <summary>A short-lived context for reading.</summary>
    public abstract LedgerContext CreateContext();

    /// <summary>Reads, turning the engine's errors into ones that say what to do.</summary>
    public Task<T> ReadAsync<T>(Func<LedgerContext, Task<T>> read, CancellationToken cancel = default) => GuardAsync(async () =>
    {
        cancel.ThrowIfCancellationRequested();
        await using var db = CreateContext();
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        db.Learned = Learned;
        // Once for all its queries, not once for each.
        await db.Database.OpenConnectionAsync(cancel);
        return await read(db);
    });

    /// <summary>Writes in one transaction with no other writer beside it: all of it, or nothing.</summary>
    public Task<T> WriteAsync<T>(Func<LedgerContext, Task<T>> write, CancellationToken cancel = default) => GuardAsync(async () =>
    {
        // Writers of this program queue here, fairly; the database's own lock, which is polled, is for other programs.
        await _writing.WaitAsync(cancel);
        try
        {
            await using var db = CreateContext();
            await using var transaction = await db.Database.BeginTransactionAsync(cancel);
            await LockForWritingAsync(db, cancel);
            var result = await write(db);
            await transaction.CommitAsync(cancel);
            return result;
        }
        finally
        {
            _writing.Release();
        }
    });

    public abstract ValueTask DisposeAsync();

    /// <summary>Inserts rows of one table within the running transaction, as fast as the engine can.</summary>
    internal abstract Task InsertAsync(LedgerContext db, RowColumns columns, IReadOnlyList<object> rows, CancellationToken cancel);

    /// <summary>Inside a transaction that removes something for good: its bytes are overwritten, where the engine can do that.</summary>
    internal virtual Task OverwriteWhatGoesAsync(LedgerContext db, CancellationToken cancel) => Task.CompletedTask;

    /// <summary>After it: no copy stays in a log beside the database, where the engine keeps one.</summary>
    internal virtual Task SettleFileAsync(CancellationToken cancel) => Task.CompletedTask;

    /// <summary>Migrates and checks.</summary>
    protected abstract Task PrepareAsync(CancellationToken cancel);

    /// <summary>Keeps other writers out until the transaction ends.</summary>
    protected abstract Task LockForWritingAsync(LedgerContext db, CancellationToken cancel);

    /// <summary>What an engine's error means; null when it is not the engine's.</summary>
    protected abstract LedgerProblem? Explain(Exception error);

    /// <summary>Brings the tables to this program's shape, or refuses a database that a newer program made.</summary>
    protected async Task MigrateAsync(LedgerContext db, CancellationToken cancel)
    {
        var known = db.Database.GetMigrations().ToList();
        var applied = await AppliedMigrationsAsync(db, cancel);
        if (applied.Except(known).LastOrDefault() is { } newer)
        {
            throw new LedgerProblem(LedgerFault.NewerThanProgram,
                $"{Name} was made by a newer Rootwater (its tables are at \"{newer}\"). Update this program, or open a backup that this one made. Nothing was changed.");
        }

        if (applied.Count < known.Count)
        {
            // With its goal named, EF Core does not first build the whole model once more to compare it with the last migration's (MigrationTests does).
            await db.Database.MigrateAsync(known[^1], cancel);
        }
    }

    /// <summary>Names of the migrations that made the tables, oldest first; empty for a new database.</summary>
    protected virtual async Task<IReadOnlyList<string>> AppliedMigrationsAsync(LedgerContext db, CancellationToken cancel) => [.. await db.Database.GetAppliedMigrationsAsync(cancel)];

    /// <summary>Whether any fact is kept, and whether the tables that follow from the facts are filled. Asked in plain SQL: at the start of a command each query of EF Core costs hundredths of a second.</summary>
    internal Task<(bool HasFacts, bool HasTables)> LookAsync(CancellationToken cancel) => ReadAsync(
        async db =>
        {
            await db.Database.OpenConnectionAsync(cancel);
            await using var command = db.Database.GetDbConnection().CreateCommand();
            command.CommandText = "SELECT CASE WHEN EXISTS (SELECT 1 FROM facts) THEN 1 ELSE 0 END + CASE WHEN EXISTS (SELECT 1 FROM bench) THEN 2 ELSE 0 END";
            var found = Convert.ToInt32(await command.ExecuteScalarAsync(cancel), CultureInfo.InvariantCulture);
            return ((found & 1) != 0, (found & 2) != 0);
        },
        cancel);

    // A migration empties the tables that follow from the facts, since it cannot fill new columns: they are made again here.
    private async Task FillFromFactsAsync(CancellationToken cancel)
    {
        if (await LookAsync(cancel) is { HasFacts: true, HasTables: false })
        {
            await LedgerCheck.RebuildAsync(this, cancel);
        }
    }

    private async Task<T> GuardAsync<T>(Func<Task<T>> work)
    {
        try
        {
            return await work();
        }
        catch (Exception error) when (error is not (LedgerProblem or EntryException or OperationCanceledException) && Explain(error) is { } problem)
        {
            throw problem;
        }
    }

    private Task GuardAsync(Func<Task> work) => GuardAsync(async () =>
    {
        await work();
        return true;
    });

    // A connection string is made of name=value pairs and names a host; a path that holds "=" does not.
    private static bool LooksLikePostgres(string location) =>
        location.StartsWith("postgres://", StringComparison.OrdinalIgnoreCase) || location.StartsWith("postgresql://", StringComparison.OrdinalIgnoreCase)
        || location.Split(';').Any(part => part.TrimStart().StartsWith("Host=", StringComparison.OrdinalIgnoreCase));
}
