using Microsoft.EntityFrameworkCore;
using Npgsql;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Postgres;

/// <summary>A PostgreSQL database that is wrong in some way: what is said, and that nothing was half-saved.</summary>
public sealed class PostgresBenchTests(PostgresServer server) : OnADatabase
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);

    [Fact]
    public async Task A_wrong_password_is_said_without_saying_the_password()
    {
        var problem = await Should.ThrowAsync<LedgerProblem>(() => OpenAsync($"{server.ConnectionString.Replace(PostgresServer.Password, "guessed", StringComparison.Ordinal)};Pooling=False"));

        problem.Fault.ShouldBe(LedgerFault.WrongConnection);
        problem.Message.ShouldContain("password");
        problem.Message.ShouldNotContain("guessed");
    }

    [Fact]
    public async Task A_database_that_is_not_there_is_named()
    {
        var problem = await Should.ThrowAsync<LedgerProblem>(() => OpenAsync($"{server.ConnectionString.Replace("Database=postgres", "Database=greenhouse", StringComparison.Ordinal)};Pooling=False"));

        problem.Fault.ShouldBe(LedgerFault.WrongConnection);
        problem.Message.ShouldContain("greenhouse");
        problem.Message.ShouldContain("Create");
    }

    [Fact]
    public async Task A_server_that_does_not_answer_is_named_by_host_and_port()
    {
        var problem = await Should.ThrowAsync<LedgerProblem>(() => OpenAsync("Host=127.0.0.1;Port=1;Database=bench;Username=me;Password=secret;Timeout=5"));

        problem.Fault.ShouldBe(LedgerFault.WrongConnection);
        problem.Message.ShouldContain("127.0.0.1:1");
        problem.Message.ShouldNotContain("secret");
    }

    [Theory]
    [InlineData("Host=localhost;Prot=5432")]
    [InlineData("postgresql://me@:bad/bench")]
    public async Task A_connection_string_that_cannot_be_read_is_answered_with_an_example(string connection)
    {
        var problem = await Should.ThrowAsync<LedgerProblem>(() => OpenAsync(connection));

        problem.Fault.ShouldBe(LedgerFault.WrongConnection);
        problem.Message.ShouldContain("Host=localhost;Port=5432");
    }

    [Fact]
    public async Task A_database_a_newer_program_made_is_refused()
    {
        await Host.ExecuteAsync("INSERT INTO \"__EFMigrationsHistory\" VALUES ('29990101000000_Robots', '99.0.0')");

        var problem = await Should.ThrowAsync<LedgerProblem>(() => OpenAsync(Host.Options.Location!));

        problem.Fault.ShouldBe(LedgerFault.NewerThanProgram);
        problem.Message.ShouldContain("29990101000000_Robots");
    }

    [Fact]
    public async Task A_locked_ledger_is_waited_for_and_then_named_and_nothing_is_saved()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await using var other = new NpgsqlConnection(Host.Options.Location);
        await other.OpenAsync(Cancel);
        await using var transaction = await other.BeginTransactionAsync(Cancel);
        await using (var command = new NpgsqlCommand("LOCK TABLE facts IN SHARE ROW EXCLUSIVE MODE", other, transaction))
        {
            await command.ExecuteNonQueryAsync(Cancel);
        }

        var problem = await Should.ThrowAsync<LedgerProblem>(() => Log.AppendAsync(Weighed(3), Cancel));

        problem.Fault.ShouldBe(LedgerFault.Locked);
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.GramsLeft.ShouldBe(500, "readers are not held up");
        await transaction.RollbackAsync(Cancel);
        (await Log.AppendAsync(Weighed(4), Cancel)).ShouldBe(1);
    }

    [Fact]
    public async Task A_connection_killed_in_the_middle_of_writing_leaves_nothing()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await Desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel);

        await Should.ThrowAsync<Exception>(() => Desks.Database.WriteAsync(async db =>
        {
            db.Lots.Single(lot => lot.Id == Small.SaltLot).GramsLeft = 1;
            await db.SaveChangesAsync(Cancel);
            var backend = await db.Database.SqlQueryRaw<int>("SELECT pg_backend_pid() AS \"Value\"").SingleAsync(Cancel);
            await Host.ExecuteAsync($"SELECT pg_terminate_backend({backend}, 5000)");
            return true;
        }, Cancel));

        (await Desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel)).ShouldBe(before);
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
    }

    private NewFact Weighed(double grams) => SmallBench.Fact(Small.SaltLot, new LotWeighed(Small.SaltLot, grams, null));

    private static Task<BenchDesks> OpenAsync(string connection) => BenchDesks.OpenAsync(new LedgerOptions { Location = connection }, cancel: Cancel);
}
