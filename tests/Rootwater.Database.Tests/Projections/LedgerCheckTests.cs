using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Projections;

public abstract class LedgerCheckTests : OnADatabase
{
    [Fact]
    public async Task The_demo_bench_made_again_from_its_facts_is_the_same_in_every_table()
    {
        (await LeanTo.FillIfEmptyAsync(Desks.Database, Clock, cancel: Cancel)).ShouldBeGreaterThan(500);

        var report = await LedgerCheck.RebuildAsync(Desks.Database, Cancel);

        report.Differences.ShouldBeEmpty();
        report.Tables["plants"].ShouldBe(36);
        report.Tables["can_steps"].ShouldBeGreaterThan(300);
    }

    [Fact]
    public async Task A_row_that_does_not_follow_from_the_facts_is_found_and_put_right()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await Host.ExecuteAsync("UPDATE lots SET grams_left = 1 WHERE grams = 500");

        var found = await LedgerCheck.CheckAsync(Desks.Database, Cancel);
        found.Differences.Count.ShouldBe(2);
        found.Differences.ShouldAllBe(difference => difference.StartsWith("lots:", StringComparison.Ordinal));
        (await LeftAsync()).ShouldBe(1, "a check changes nothing");

        await LedgerCheck.RebuildAsync(Desks.Database, Cancel);
        (await LeftAsync()).ShouldBe(500);
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_fact_of_an_unknown_kind_stops_the_check_and_is_named()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var next = await Desks.Database.ReadAsync(db => db.Facts.MaxAsync(fact => fact.Position, Cancel), Cancel) + 1;
        await Host.ExecuteAsync($"""
            INSERT INTO facts (id, position, kind, version, payload, subject_id, precision, earliest, latest, zone, recorded_microseconds, who, device, sequence)
            SELECT '{Guid.CreateVersion7().ToString().ToUpperInvariant()}', {next}, 'plant.sung.to', 1, payload, subject_id, precision, earliest, latest, zone, recorded_microseconds, who, device, sequence
            FROM facts WHERE position = 1
            """);

        var problem = await Should.ThrowAsync<LedgerProblem>(() => LedgerCheck.RebuildAsync(Desks.Database, Cancel));

        problem.Fault.ShouldBe(LedgerFault.NewerThanProgram);
        problem.Message.ShouldContain("plant.sung.to");
        (await Desks.Pots.ListAsync(Cancel)).Count.ShouldBe(2, "the tables stand as they stood");
    }

    private Task<double> LeftAsync() => Desks.Database.ReadAsync(db => db.Lots.Where(lot => lot.Id == Small.SaltLot).Select(lot => lot.GramsLeft).SingleAsync(Cancel), Cancel);
}

public sealed class LedgerCheckOnSqlite : LedgerCheckTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class LedgerCheckOnPostgres(PostgresServer server) : LedgerCheckTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
