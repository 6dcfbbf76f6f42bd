using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests;

public abstract class FactLogTests : OnADatabase
{
    [Fact]
    public async Task A_fact_and_what_follows_from_it_are_written_together()
    {
        var facts = Small.Facts().ToList();

        (await Log.AppendAsync(facts, Cancel)).ShouldBe(facts.Count);

        await Desks.Database.ReadAsync(async db =>
        {
            (await db.Facts.CountAsync(Cancel)).ShouldBe(facts.Count);
            (await db.Plants.CountAsync(Cancel)).ShouldBe(2);
            (await db.Pots.CountAsync(Cancel)).ShouldBe(2);
            (await db.Lots.SingleAsync(lot => lot.Id == Small.SaltLot, Cancel)).GramsLeft.ShouldBe(500);
            return true;
        }, Cancel);
    }

    [Fact]
    public async Task A_fact_sent_twice_is_kept_once()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var weighed = SmallBench.Fact(Small.SaltLot, new LotWeighed(Small.SaltLot, 312.5, "on the scale"));

        (await Log.AppendAsync(weighed, Cancel)).ShouldBe(1);
        (await Log.AppendAsync(weighed, Cancel)).ShouldBe(0);
        (await Log.AppendAsync([weighed, weighed], Cancel)).ShouldBe(0);

        (await FactsOfAsync(Small.SaltLot)).Count(fact => fact.Kind == "lot.weighed").ShouldBe(1);
    }

    [Fact]
    public async Task An_id_that_stands_for_another_fact_is_refused_and_nothing_is_saved()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var weighed = SmallBench.Fact(Small.SaltLot, new LotWeighed(Small.SaltLot, 312.5, null));
        await Log.AppendAsync(weighed, Cancel);
        var before = await CountAsync();

        var problem = await Should.ThrowAsync<LedgerProblem>(() => Log.AppendAsync(
            [SmallBench.Fact(Small.AcidLot, new LotWeighed(Small.AcidLot, 1, null)), weighed with { Payload = new LotWeighed(Small.SaltLot, 99, null) }], Cancel));

        problem.Fault.ShouldBe(LedgerFault.Conflict);
        (await CountAsync()).ShouldBe(before);
        (await GramsLeftAsync(Small.AcidLot)).ShouldBe(1250);
        (await GramsLeftAsync(Small.SaltLot)).ShouldBe(312.5);
    }

    [Fact]
    public async Task A_fact_about_something_that_is_not_on_the_bench_is_refused_with_all_that_came_with_it()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await CountAsync();
        var stranger = Guid.CreateVersion7();

        var refused = await Should.ThrowAsync<EntryException>(() => Log.AppendAsync(
            [SmallBench.Fact(Small.SaltLot, new LotWeighed(Small.SaltLot, 7, null)), SmallBench.Fact(stranger, new LotWeighed(stranger, 7, null))], Cancel));

        refused.Problems.Single().Field.ShouldBe("lot");
        refused.Problems.Single().Value.ShouldBe(stranger.ToString());
        (await CountAsync()).ShouldBe(before);
        (await GramsLeftAsync(Small.SaltLot)).ShouldBe(500);
    }

    [Fact]
    public async Task Nothing_can_be_kept_before_a_bench_is_opened()
    {
        var place = Guid.CreateVersion7();

        var refused = await Should.ThrowAsync<EntryException>(() => Log.AppendAsync(
            SmallBench.Fact(place, new PlaceSet(new Rootwater.Growing.Bench.Place(place, "shelf", 1, "", ""))), Cancel));

        refused.Problems.Single().Field.ShouldBe("bench");
        (await CountAsync()).ShouldBe(0);
    }

    [Theory]
    [InlineData("UPDATE facts SET payload = '{}'")]
    [InlineData("DELETE FROM facts")]
    public async Task The_database_itself_refuses_to_change_or_remove_a_fact(string tampering)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await CountAsync();

        var refused = await Should.ThrowAsync<System.Data.Common.DbException>(() => Host.ExecuteAsync(tampering));

        refused.Message.ShouldContain("add one that corrects it");
        (await CountAsync()).ShouldBe(before);
    }

    [Fact]
    public async Task Positions_have_no_gaps_though_many_write_at_once()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await CountAsync();

        await Task.WhenAll(Enumerable.Range(0, 12).Select(i => Task.Run(() => Log.AppendAsync(
            [SmallBench.Fact(Small.SaltLot, new LotWeighed(Small.SaltLot, i, null)), SmallBench.Fact(Small.AcidLot, new LotWeighed(Small.AcidLot, i, null))], Cancel))));

        var positions = await Desks.Database.ReadAsync(db => db.Facts.OrderBy(fact => fact.Position).Select(fact => fact.Position).ToListAsync(Cancel), Cancel);
        positions.ShouldBe(Enumerable.Range(1, before + 24).Select(i => (long)i));
    }

    [Fact]
    public async Task When_it_was_and_when_it_was_written_down_are_kept_apart()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var arrived = (await FactsOfAsync(Small.FirstPlant)).First(fact => fact.Kind == "plant.arrived");

        arrived.Precision.ShouldBe(WhenPrecision.Month);
        arrived.Earliest.ShouldBe("2024-05-01T00:00");
        arrived.Latest.ShouldBe("2024-05-31T23:59");
        arrived.Zone.ShouldBe("UTC");
        arrived.RecordedAt.ShouldBe(Clock.Start);
    }

    [Fact]
    public async Task Facts_sort_by_when_they_were_in_the_database()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var earliest = await Desks.Database.ReadAsync(db => db.Facts.OrderBy(fact => fact.Earliest).Select(fact => fact.Earliest).ToListAsync(Cancel), Cancel);

        earliest.ShouldBe(earliest.Order(StringComparer.Ordinal));
        earliest[0].ShouldBe("2024-05-01T00:00");
        earliest[^1].ShouldBe("2026-03-14T09:00");
    }

    [Fact]
    public async Task A_writer_that_fails_after_its_rows_were_sent_leaves_none_of_them()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await CountAsync();

        await Should.ThrowAsync<InvalidOperationException>(() => Desks.Database.WriteAsync<bool>(async db =>
        {
            var lot = await db.Lots.FirstAsync(row => row.Id == Small.SaltLot, Cancel);
            lot.GramsLeft = 1;
            db.Facts.Add(new Fact
            {
                Id = Guid.CreateVersion7(),
                Position = before + 1,
                Kind = "lot.weighed",
                Version = 1,
                Payload = "{}",
                SubjectId = Small.SaltLot,
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
            throw new InvalidOperationException("the power goes");
        }, Cancel));

        (await CountAsync()).ShouldBe(before);
        (await GramsLeftAsync(Small.SaltLot)).ShouldBe(500);
    }

    private Task<int> CountAsync() => Desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel);

    private Task<double> GramsLeftAsync(Guid lotId) => Desks.Database.ReadAsync(db => db.Lots.Where(lot => lot.Id == lotId).Select(lot => lot.GramsLeft).SingleAsync(Cancel), Cancel);

    private Task<List<Fact>> FactsOfAsync(Guid subject) =>
        Desks.Database.ReadAsync(db => db.Facts.Where(fact => fact.SubjectId == subject).OrderBy(fact => fact.Position).ToListAsync(Cancel), Cancel);
}

public sealed class FactLogOnSqlite : FactLogTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class FactLogOnPostgres(PostgresServer server) : FactLogTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
