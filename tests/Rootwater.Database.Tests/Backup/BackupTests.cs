using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Backup;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Backup;

/// <summary>Backups are made while the bench is in use, are looked at before they count, and come back in one command.</summary>
public abstract class BackupTests : OnADatabase
{
    [Fact]
    public async Task A_backup_holds_what_was_written_before_it_and_restoring_brings_that_back()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var made = await Desks.Backups.NowAsync(cancel: Cancel);
        await Log.AppendAsync(SmallBench.Fact(Small.FirstPlant, new PlantLost(Small.FirstPlant, "an experiment")), Cancel);
        var before = await CountAsync(Desks.Database);
        made.Facts.ShouldBe(before - 1);
        await Desks.DisposeAsync();

        var receipt = await BackupRestore.RestoreAsync(Host.Options, made.Name, Clock, cancel: Cancel);

        receipt.Facts.ShouldBe(before - 1);
        receipt.Replaced.ShouldNotBeNull();
        await using var restored = await BenchDatabase.OpenAsync(Host.Options, Cancel);
        (await CountAsync(restored)).ShouldBe(before - 1);
        (await LedgerCheck.CheckAsync(restored, Cancel)).Differences.ShouldBeEmpty();
        // What stood there is whole and can be opened.
        (await CountOfReplacedAsync(receipt.Replaced)).ShouldBe(before);
    }

    [Fact]
    public async Task A_backup_made_while_others_write_verifies()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await CountAsync(Desks.Database);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        var begun = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var writer = Task.Run(async () =>
        {
            var written = 0;
            while (!stop.IsCancellationRequested)
            {
                await Log.AppendAsync(SmallBench.Fact(Small.FirstPlant, new PlantMoved(Small.FirstPlant, Small.PlaceId)), CancellationToken.None);
                written++;
                begun.TrySetResult();
            }

            return written;
        }, Cancel);

        // A fast backup may otherwise be done before the first write. A writer that fails must not be waited for either.
        await Task.WhenAny(begun.Task, writer);
        var made = await Desks.Backups.NowAsync(cancel: Cancel);
        await stop.CancelAsync();

        // What was acknowledged before it is in it, and nothing that never was.
        made.Facts.ShouldBeInRange(before + 1, before + await writer);
        (await Desks.Backups.VerifyAsync(made.Name, Cancel)).Problems.ShouldBeEmpty();
    }

    [Fact]
    public async Task Old_backups_age_out_by_the_rule()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        for (var day = 0; day < 4; day++)
        {
            await Desks.Backups.NowAsync(new BackupRetention { Days = 2, Weeks = 0, Months = 0 }, cancel: Cancel);
            Clock.Advance(TimeSpan.FromDays(1));
        }

        (await Desks.Backups.ListAsync(Cancel)).Count.ShouldBe(2);
    }

    [Fact]
    public async Task A_damaged_backup_is_found_out_and_is_not_restored()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var made = await Desks.Backups.NowAsync(cancel: Cancel);
        var file = Directory.GetFiles(Path.Combine(Desks.Backups.Folder, made.Name), "bench.*").Single();
        var bytes = await File.ReadAllBytesAsync(file, Cancel);
        bytes[bytes.Length / 2] ^= 0x40;
        await File.WriteAllBytesAsync(file, bytes, Cancel);

        (await Desks.Backups.VerifyAsync(made.Name, Cancel)).Problems.ShouldHaveSingleItem().ShouldContain("damaged");
        var count = await CountAsync(Desks.Database);
        await Desks.DisposeAsync();
        (await Should.ThrowAsync<LedgerProblem>(() => BackupRestore.RestoreAsync(Host.Options, made.Name, Clock, cancel: Cancel))).Message.ShouldContain("nothing was changed");
        await using var untouched = await BenchDatabase.OpenAsync(Host.Options, Cancel);
        (await CountAsync(untouched)).ShouldBe(count);
    }

    [Fact]
    public async Task A_name_that_is_no_backup_is_answered_with_those_there_are()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var made = await Desks.Backups.NowAsync(cancel: Cancel);
        (await Should.ThrowAsync<EntryException>(() => Desks.Backups.VerifyAsync("../../elsewhere", Cancel))).Message.ShouldContain(made.Name);
    }

    protected static Task<long> CountAsync(BenchDatabase database) =>
        database.ReadAsync(db => Task.FromResult((long)db.Facts.Count()), TestContext.Current.CancellationToken);

    protected abstract Task<long> CountOfReplacedAsync(string replaced);
}

public sealed class BackupOnSqlite : BackupTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();

    protected override async Task<long> CountOfReplacedAsync(string replaced)
    {
        await using var kept = await BenchDatabase.OpenAsync(Host.Options with { Location = replaced, CreateIfMissing = false }, Cancel);
        return await CountAsync(kept);
    }

    [Fact]
    public async Task A_bench_that_is_open_elsewhere_is_not_replaced()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var made = await Desks.Backups.NowAsync(cancel: Cancel);

        // As a running Rootwater holds it: even a connection that does nothing stands in the way.
        await using var idle = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={Host.Options.Location};Pooling=False");
        await idle.OpenAsync(Cancel);
        await using var look = idle.CreateCommand();
        look.CommandText = "SELECT count(*) FROM facts";
        await look.ExecuteScalarAsync(Cancel);
        var refused = await Should.ThrowAsync<LedgerProblem>(() => BackupRestore.RestoreAsync(Host.Options, made.Name, Clock, cancel: Cancel));

        refused.Fault.ShouldBe(LedgerFault.Locked);
        (await CountAsync(Desks.Database)).ShouldBe(made.Facts);
    }

    [Fact]
    public async Task A_bench_destroyed_on_the_disk_comes_back_and_the_wreck_is_kept()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var made = await Desks.Backups.NowAsync(cancel: Cancel);
        await Desks.DisposeAsync();
        await File.WriteAllTextAsync(Host.Options.Location!, "This was a bench once.", Cancel);

        var receipt = await BackupRestore.RestoreAsync(Host.Options, clock: Clock, cancel: Cancel);

        (await File.ReadAllTextAsync(receipt.Replaced!, Cancel)).ShouldBe("This was a bench once.");
        await using var restored = await BenchDatabase.OpenAsync(Host.Options, Cancel);
        (await CountAsync(restored)).ShouldBe(made.Facts);
    }
}

public sealed class BackupOnPostgres(PostgresServer server) : BackupTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);

    protected override async Task<long> CountOfReplacedAsync(string replaced)
    {
        await using var connection = new Npgsql.NpgsqlConnection(server.ConnectionString);
        await connection.OpenAsync(Cancel);
        await using var count = new Npgsql.NpgsqlCommand($"SELECT count(*) FROM \"{replaced}\".facts", connection);
        return (long)(await count.ExecuteScalarAsync(Cancel))!;
    }
}
