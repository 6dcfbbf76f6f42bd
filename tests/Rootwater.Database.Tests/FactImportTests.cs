using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Database.Tests.Laws;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests;

/// <summary>Facts of another ledger brought in at once.</summary>
public abstract class FactImportTests : OnADatabase
{
    [Fact]
    public async Task A_ledger_brought_into_an_empty_one_makes_the_same_bench()
    {
        await using var source = new SqliteHost();
        await using var there = await BenchDesks.OpenAsync(source.Options, clock: Clock, cancel: Cancel);
        await there.Log.AppendAsync(Small.Facts(), Cancel);
        var can = (await there.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        await new RandomHistory(there, Small, can, seed: 5).RunAsync(60, Cancel);
        var facts = await there.Database.ReadAsync(db => db.Facts.OrderBy(fact => fact.Position).ToListAsync(Cancel), Cancel);
        var told = new List<ImportProgress>();

        var receipt = await Desks.Import.RunAsync(facts, facts.Count, new Listener(told.Add), Cancel);

        receipt.ShouldBe(new WriteReceipt(facts.Count, 0));
        told[^1].ShouldBe(new ImportProgress(facts.Count, facts.Count));
        foreach (var plant in new[] { Small.FirstPlant, Small.SecondPlant })
        {
            FactJson.Write(await Desks.Plants.GetAsync(plant, Cancel)).ShouldBe(FactJson.Write(await there.Plants.GetAsync(plant, Cancel)));
        }

        (await Desks.Mixing.GetCanAsync(can, Cancel))!.LitresLeft.ShouldBe((await there.Mixing.GetCanAsync(can, Cancel))!.LitresLeft);
        var brought = await Desks.Database.ReadAsync(db => db.Facts.OrderBy(fact => fact.Position).ToListAsync(Cancel), Cancel);
        brought.ShouldBeEquivalentTo(facts, "ids, times and tellers are their own");
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();

        (await Desks.Import.RunAsync(facts, cancel: Cancel)).ShouldBe(new WriteReceipt(0, facts.Count));
    }

    [Fact]
    public async Task One_fact_that_cannot_be_keeps_all_out_and_is_named()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var before = await CountAsync();
        var good = Row(Told(Small.FirstPlant, new PlantNoted(Small.FirstPlant, "fine")));
        var bad = Row(Told(Small.FirstPlant, new LeafMeasured(Small.FirstPlant, Guid.CreateVersion7(), 1e9, null)));
        var stray = Row(Told(Small.FirstPlant, new PlantNoted(Guid.CreateVersion7(), "of a plant that never was")));

        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Import.RunAsync([good, bad], cancel: Cancel));
        refused.Problems.ShouldHaveSingleItem().ShouldSatisfyAllConditions(problem => problem.Field.ShouldBe("length"), problem => problem.FactId.ShouldBe(bad.Id));
        (await Should.ThrowAsync<EntryException>(() => Desks.Import.RunAsync([good, stray], cancel: Cancel))).Problems[0].Field.ShouldBe("subjectId");

        (await CountAsync()).ShouldBe(before);
        (await Desks.Import.RunAsync([good, good], cancel: Cancel)).ShouldBe(new WriteReceipt(1, 1));
    }

    private Task<int> CountAsync() => Desks.Database.ReadAsync(db => db.Facts.CountAsync(Cancel), Cancel);

    private static Fact Row(NewFact fact)
    {
        var (kind, version, json) = FactKinds.Write(fact.Payload);
        return new Fact
        {
            Id = fact.Id,
            Position = 0,
            Kind = kind,
            Version = version,
            Payload = json,
            SubjectId = fact.SubjectId,
            Precision = WhenPrecision.Minute,
            Earliest = "2026-03-14T08:00",
            Latest = "2026-03-14T08:00",
            Zone = "UTC",
            RecordedMicroseconds = 1,
            Who = "elsewhere",
            Device = "archive",
            Sequence = 0,
        };
    }

    private sealed class Listener(Action<ImportProgress> hear) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) => hear(value);
    }
}

public sealed class FactImportOnSqlite : FactImportTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class FactImportOnPostgres(PostgresServer server) : FactImportTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
