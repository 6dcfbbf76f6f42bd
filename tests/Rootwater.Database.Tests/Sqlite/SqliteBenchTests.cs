using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Sqlite;

/// <summary>A SQLite file that is wrong in some way: what is said, and that nothing was half-saved.</summary>
public sealed class SqliteBenchTests : IAsyncLifetime
{
    private readonly SqliteHost _host = new();
    private readonly SmallBench _small = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public ValueTask DisposeAsync() => _host.DisposeAsync();

    [Fact]
    public async Task Every_connection_keeps_a_write_ahead_log_and_reports_no_commit_before_it_is_on_the_disk()
    {
        await using var desks = await OpenAsync();
        for (var i = 0; i < 3; i++)
        {
            await desks.Database.ReadAsync(async db =>
            {
                (await db.Database.SqlQueryRaw<string>("SELECT journal_mode AS Value FROM pragma_journal_mode").SingleAsync(Cancel)).ShouldBe("wal");
                (await db.Database.SqlQueryRaw<int>("SELECT synchronous AS Value FROM pragma_synchronous").SingleAsync(Cancel)).ShouldBe(2, "2 is FULL");
                return true;
            }, Cancel);
        }
    }

    [Fact]
    public async Task A_file_that_is_no_database_is_named_and_left_as_it_is()
    {
        await File.WriteAllTextAsync(_host.File, "Monday: repotted the big one.", Cancel);

        var problem = await Should.ThrowAsync<LedgerProblem>(OpenAsync);

        ShouldSay(problem, LedgerFault.NotADatabase, "not a Rootwater bench", "backup");
        (await File.ReadAllTextAsync(_host.File, Cancel)).ShouldBe("Monday: repotted the big one.");
    }

    [Fact]
    public async Task A_damaged_file_is_named_with_the_way_out()
    {
        await FilledAsync();
        await using (var file = new FileStream(_host.File, FileMode.Open, FileAccess.ReadWrite))
        {
            // The header stays; what is behind it is overwritten, as a bad disk would.
            var noise = new byte[file.Length - 4096];
            new Random(7).NextBytes(noise);
            file.Position = 4096;
            await file.WriteAsync(noise, Cancel);
        }

        var problem = await Should.ThrowAsync<LedgerProblem>(OpenAsync);

        ShouldSay(problem, LedgerFault.Corrupt, "damaged", "backup");
    }

    [Fact]
    public async Task A_file_cut_short_is_named_with_the_way_out()
    {
        await FilledAsync();
        await using (var file = new FileStream(_host.File, FileMode.Open, FileAccess.ReadWrite))
        {
            file.SetLength(file.Length / 2);
        }

        var problem = await Should.ThrowAsync<LedgerProblem>(OpenAsync);

        ShouldSay(problem, LedgerFault.Corrupt, "damaged", "backup");
    }

    [Fact]
    public async Task A_locked_file_is_waited_for_and_then_named_and_nothing_is_saved()
    {
        await FilledAsync();
        await using var desks = await OpenAsync();
        await using var other = new SqliteConnection($"Data Source={_host.File};Pooling=False");
        await other.OpenAsync(Cancel);
        await using (var begin = other.CreateCommand())
        {
            begin.CommandText = "BEGIN IMMEDIATE";
            await begin.ExecuteNonQueryAsync(Cancel);
        }

        var problem = await Should.ThrowAsync<LedgerProblem>(() => desks.Log.AppendAsync(Weighed(3), Cancel));
        ShouldSay(problem, LedgerFault.Locked, "another program", "try again");

        // Readers are not held up by a writer.
        (await desks.Cupboard.GetAsync(_small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
        await other.CloseAsync();
        (await desks.Log.AppendAsync(Weighed(4), Cancel)).ShouldBe(1);
    }

    [Fact]
    public async Task A_full_disk_is_named_and_nothing_is_half_saved()
    {
        await FilledAsync();
        await using var desks = await OpenAsync();
        var before = await desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel);

        // SQLite says "database or disk is full" (code 13) when it may take no further page, as it does when the disk has none.
        var problem = await Should.ThrowAsync<LedgerProblem>(() => desks.Database.WriteAsync(async db =>
        {
            await db.Database.ExecuteSqlRawAsync("PRAGMA max_page_count = 1", Cancel); // never below what it has
            db.Lots.Single(lot => lot.Id == _small.SaltLot).GramsLeft = 1;
            db.Wants.Single().Name = new string('x', 1_000_000);
            await db.SaveChangesAsync(Cancel);
            return true;
        }, Cancel));

        ShouldSay(problem, LedgerFault.DiskFull, "is full", "make room");
        (await desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel)).ShouldBe(before);
        (await desks.Cupboard.GetAsync(_small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
    }

    [Fact]
    public async Task A_file_a_newer_program_made_is_refused_and_not_touched()
    {
        await FilledAsync();
        await _host.ExecuteAsync("INSERT INTO \"__EFMigrationsHistory\" VALUES ('29990101000000_Robots', '99.0.0')");
        var before = await File.ReadAllBytesAsync(_host.File, Cancel);

        var problem = await Should.ThrowAsync<LedgerProblem>(OpenAsync);

        ShouldSay(problem, LedgerFault.NewerThanProgram, "29990101000000_Robots", "Update");
        (await File.ReadAllBytesAsync(_host.File, Cancel)).ShouldBe(before);
    }

    [Fact]
    public async Task A_folder_in_place_of_a_file_is_named_with_an_example()
    {
        var folder = Directory.CreateDirectory(_host.File + ".d").FullName;

        var problem = await Should.ThrowAsync<LedgerProblem>(() => BenchDesks.OpenAsync(new LedgerOptions { Location = folder }, cancel: Cancel));

        problem.Fault.ShouldBe(LedgerFault.NotADatabase);
        problem.Message.ShouldContain(Path.Combine(folder, "bench.db"));
    }

    [Fact]
    public async Task A_bench_that_must_be_there_and_is_not_is_named()
    {
        var problem = await Should.ThrowAsync<LedgerProblem>(() => BenchDesks.OpenAsync(_host.Options with { CreateIfMissing = false }, cancel: Cancel));

        ShouldSay(problem, LedgerFault.Missing, "no bench", "Check the path");
        File.Exists(_host.File).ShouldBeFalse();
    }

    [Fact]
    public async Task A_crash_in_the_middle_of_writing_leaves_the_bench_as_it_was_before()
    {
        await FilledAsync();
        await using var desks = await OpenAsync();
        var before = await desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel);
        using var crashed = new CrashedCopy();

        await desks.Database.WriteAsync(async db =>
        {
            // Everything is written but the commit: what the disk holds now is what a power cut would leave.
            var lot = await db.Lots.SingleAsync(row => row.Id == _small.SaltLot, Cancel);
            lot.GramsLeft = 1;
            db.Facts.Add(new Fact
            {
                Id = Guid.CreateVersion7(),
                Position = before + 1,
                Kind = "lot.weighed",
                Version = 1,
                Payload = new string(' ', 500_000), // more than the page cache keeps back
                SubjectId = _small.SaltLot,
                Precision = WhenPrecision.Minute,
                Earliest = "2026-03-14T09:00",
                Latest = "2026-03-14T09:00",
                Zone = "UTC",
                RecordedMicroseconds = 0,
                Who = "test",
                Device = "test",
                Sequence = 0,
            });
            await db.SaveChangesAsync(Cancel);
            crashed.Take(_host.File);
            return true;
        }, Cancel);

        await using var found = await BenchDesks.OpenAsync(new LedgerOptions { Location = crashed.File }, cancel: Cancel);
        (await found.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel)).ShouldBe(before);
        (await found.Cupboard.GetAsync(_small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
        (await Ledger.Projections.LedgerCheck.CheckAsync(found.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_crash_right_after_writing_loses_nothing()
    {
        await FilledAsync();
        await using var desks = await OpenAsync();
        using var crashed = new CrashedCopy();
        await desks.Log.AppendAsync(Weighed(123), Cancel);

        crashed.Take(_host.File);

        await using var found = await BenchDesks.OpenAsync(new LedgerOptions { Location = crashed.File }, cancel: Cancel);
        (await found.Cupboard.GetAsync(_small.SaltId, Cancel))!.GramsLeft.ShouldBe(123);
    }

    private NewFact Weighed(double grams) => SmallBench.Fact(_small.SaltLot, new LotWeighed(_small.SaltLot, grams, null));

    private Task<BenchDesks> OpenAsync() => BenchDesks.OpenAsync(_host.Options, cancel: Cancel);

    private async Task FilledAsync()
    {
        await using (var desks = await OpenAsync())
        {
            await desks.Log.AppendAsync(_small.Facts(), Cancel);
        }

        await _host.ExecuteAsync("PRAGMA wal_checkpoint(TRUNCATE)");
    }

    private void ShouldSay(LedgerProblem problem, LedgerFault fault, params string[] words)
    {
        problem.Fault.ShouldBe(fault, problem.Message);
        problem.Message.ShouldContain(_host.File);
        foreach (var word in words)
        {
            problem.Message.ShouldContain(word);
        }
    }

    /// <summary>The database file and its log as they lie on the disk at a moment.</summary>
    private sealed class CrashedCopy : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-crash-").FullName;

        public string File => Path.Combine(_folder, "bench.db");

        public void Take(string file)
        {
            foreach (var suffix in new[] { "", "-wal" })
            {
                using var from = new FileStream(file + suffix, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
                using var to = System.IO.File.Create(File + suffix);
                from.CopyTo(to);
            }
        }

        public void Dispose()
        {
            SqliteConnection.ClearAllPools();
            Directory.Delete(_folder, recursive: true);
        }
    }
}
