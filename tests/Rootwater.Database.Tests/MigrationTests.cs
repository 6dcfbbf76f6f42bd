using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Postgres;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Sqlite;

namespace Rootwater.Database.Tests;

/// <summary>A bench that the program before this one kept: its tables take the new shape, and hold what its facts say.</summary>
public abstract class MigrationTests : IAsyncLifetime
{
    private const string FirstMigration = "FirstLedger";
    private readonly SmallBench _small = new();
    private IBenchHost _host = null!;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _host = await MakeHostAsync();

    public ValueTask DisposeAsync() => _host.DisposeAsync();

    [Fact]
    public async Task The_last_migration_leaves_the_tables_of_this_program()
    {
        await using var desks = await BenchDesks.OpenAsync(_host.Options, cancel: Cancel);
        await using var db = desks.Database.CreateContext();

        db.Database.HasPendingModelChanges().ShouldBeFalse("a changed model needs a migration");
    }

    [Fact]
    public async Task A_bench_of_the_first_program_is_taken_over_with_all_it_holds()
    {
        var facts = await MakeOldBenchAsync();

        await using var desks = await BenchDesks.OpenAsync(_host.Options, cancel: Cancel);

        (await desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel)).ShouldBe(facts);
        var life = (await desks.Plants.GetByNumberAsync(1, Cancel))!;
        life.Card.LastFed.ShouldBe(new DateOnly(2026, 3, 14), "a new column, filled from old facts");
        life.Given.ShouldHaveSingleItem().CanLetter.ShouldBe("A");
        (await desks.Nutrients.OfPlantAsync(_small.FirstPlant, cancel: Cancel)).ShouldHaveSingleItem().FeedMillilitres.ShouldBe(250);
        (await desks.Plants.ListAsync(cancel: Cancel)).Count.ShouldBe(2);
        (await LedgerCheck.CheckAsync(desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task An_opening_that_broke_off_between_migrating_and_filling_is_finished_by_the_next()
    {
        await MakeOldBenchAsync();
        await using (var db = Context())
        {
            await db.Database.MigrateAsync(Cancel);
            (await db.Plants.CountAsync(Cancel)).ShouldBe(0);
        }

        await using var desks = await BenchDesks.OpenAsync(_host.Options, cancel: Cancel);

        (await desks.Plants.ListAsync(cancel: Cancel)).Count.ShouldBe(2);
    }

    protected abstract Task<IBenchHost> MakeHostAsync();

    protected abstract LedgerContext Context();

    protected IBenchHost Host => _host;

    private async Task<int> MakeOldBenchAsync()
    {
        await using var db = Context();
        await db.GetService<IMigrator>().MigrateAsync(FirstMigration, Cancel);
        var card = _small.Card();
        var facts = _small.Facts().Append(SmallBench.Fact(card.Id, new CanSaved(card, [])))
            .Append(SmallBench.Fact(card.Id, new CanPoured(card.Id, [new Poured(_small.FirstPlant, 250), new Poured(_small.SecondPlant, 200)], 4))).ToList();
        for (var i = 0; i < facts.Count; i++)
        {
            var (kind, _, json) = FactKinds.Write(facts[i].Payload);
            var when = facts[i].When ?? FactWhen.AtMinute(new DateTime(2026, 3, 14, 9, 0, 0), "UTC");
            db.Facts.Add(new Fact
            {
                Id = facts[i].Id,
                Position = i + 1,
                Kind = kind,
                Version = 1,
                Payload = json,
                SubjectId = facts[i].SubjectId,
                Precision = when.Precision,
                Earliest = when.Earliest.ToString("yyyy-MM-dd'T'HH:mm", System.Globalization.CultureInfo.InvariantCulture),
                Latest = when.Latest.ToString("yyyy-MM-dd'T'HH:mm", System.Globalization.CultureInfo.InvariantCulture),
                Zone = "UTC",
                RecordedMicroseconds = i,
                Who = "grower",
                Device = "desk",
                Sequence = 0,
            });
        }

        await db.SaveChangesAsync(Cancel);
        // What the old program had made of them; the shapes of that day.
        await _host.ExecuteAsync("INSERT INTO bench (id, name, zone, tools) VALUES (1, 'small bench', 'UTC', '{}')");
        return facts.Count;
    }
}

public sealed class MigrationOnSqlite : MigrationTests
{
    protected override Task<IBenchHost> MakeHostAsync() => Task.FromResult<IBenchHost>(new SqliteHost());

    protected override LedgerContext Context() => new SqliteLedgerContext(
        new DbContextOptionsBuilder<SqliteLedgerContext>().UseSqlite(new SqliteConnectionStringBuilder { DataSource = Host.Options.Location, Pooling = false }.ToString()).Options);
}

public sealed class MigrationOnPostgres(PostgresServer server) : MigrationTests
{
    protected override async Task<IBenchHost> MakeHostAsync()
    {
        await server.RequireAsync();
        return await PostgresHost.MakeAsync(server);
    }

    protected override LedgerContext Context() => new PostgresLedgerContext(new DbContextOptionsBuilder<PostgresLedgerContext>()
        .UseNpgsql(Host.Options.Location, npgsql => npgsql.MigrationsHistoryTable("__EFMigrationsHistory", new Npgsql.NpgsqlConnectionStringBuilder(Host.Options.Location).SearchPath)).Options);
}
