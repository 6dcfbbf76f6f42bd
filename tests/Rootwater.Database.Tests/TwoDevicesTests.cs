using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests;

/// <summary>Phone and laptop write at once, each through a program of its own: nothing is lost, nothing is doubled.</summary>
public abstract class TwoDevicesTests : OnADatabase
{
    private const int Each = 15;

    [Fact]
    public async Task Two_programs_that_write_of_one_plant_at_once_lose_nothing()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var can = (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        await using var laptop = await BenchDesks.OpenAsync(Host.Options with { LockWait = TimeSpan.FromSeconds(60) }, clock: Clock, cancel: Cancel);
        await using var phone = await BenchDesks.OpenAsync(Host.Options with { LockWait = TimeSpan.FromSeconds(60) }, clock: Clock, cancel: Cancel);

        await Task.WhenAll(WalkAsync(laptop, "laptop"), WalkAsync(phone, "phone"));

        var life = (await Desks.Plants.GetAsync(Small.FirstPlant, Cancel))!;
        life.Notes.Count.ShouldBe(2 * Each);
        life.Given.Count.ShouldBe(2 * Each);
        (await Desks.Mixing.GetCanAsync(can, Cancel))!.LitresLeft.ShouldBe(5 - 2 * Each * 0.01, 1e-9);
        foreach (var device in new[] { "laptop", "phone" })
        {
            // The root forecasts that go along with the feeds are the program's own and carry no count of the device.
            var sequence = await Desks.Database.ReadAsync(db => db.Facts.Where(fact => fact.Device == device && fact.Sequence != 0).OrderBy(fact => fact.Position).Select(fact => fact.Sequence).ToListAsync(Cancel), Cancel);
            sequence.ShouldBe(Enumerable.Range(1, 2 * Each).Select(number => (long)number), "each device's own order is kept");
        }

        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();

        async Task WalkAsync(BenchDesks desks, string device)
        {
            for (var i = 0; i < Each; i++)
            {
                NewFact[] entry =
                [
                    Told(Small.FirstPlant, new PlantNoted(Small.FirstPlant, $"{device} {i}")) with { Sequence = 2 * i + 1 },
                    Told(Small.FirstPlant, new PlantGiven(Small.FirstPlant, null, Pouring.Feed, can, null, 10)) with { Sequence = 2 * i + 2 },
                ];
                (await desks.Facts.WriteAsync(entry, device, device, Cancel)).Written.ShouldBe(2);
            }
        }
    }

    [Fact]
    public async Task One_queue_sent_by_two_connections_at_once_is_kept_once()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await using var other = await BenchDesks.OpenAsync(Host.Options with { LockWait = TimeSpan.FromSeconds(60) }, clock: Clock, cancel: Cancel);
        var queue = Enumerable.Range(0, 20).Select(i => Told(Small.FirstPlant, new PlantNoted(Small.FirstPlant, $"note {i}"))).ToList();

        var receipts = await Task.WhenAll(new[] { Desks, other, Desks, other }.Select(desks => Task.Run(() => desks.Facts.WriteAsync(queue, "phone", "phone", Cancel))));

        receipts.Sum(receipt => receipt.Written).ShouldBe(20);
        receipts.Sum(receipt => receipt.AlreadyThere).ShouldBe(60);
        (await Desks.Plants.GetAsync(Small.FirstPlant, Cancel))!.Notes.Count.ShouldBe(20);
    }

    [Fact]
    public async Task A_leaf_that_two_hands_take_off_at_once_is_lost_once_and_the_second_is_told()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await Desks.Facts.WriteAsync([Growth(Small.FirstPlant, out var stem, when: "2025"), Leaf(Small.FirstPlant, stem, out var leaf, when: "2025-06")], cancel: Cancel);

        var results = await Task.WhenAll(Enumerable.Range(0, 2).Select(_ => Task.Run(async () =>
        {
            try
            {
                await Desks.Facts.WriteAsync([Told(Small.FirstPlant, new LeafLost(Small.FirstPlant, leaf, Rootwater.Growing.Bench.LeafLoss.Age, null))], cancel: Cancel);
                return null;
            }
            catch (EntryException refused)
            {
                return refused.Problems[0].Field;
            }
        })));

        results.Order().ShouldBe([null, "leaf"]);
    }
}

public sealed class TwoDevicesOnSqlite : TwoDevicesTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class TwoDevicesOnPostgres(PostgresServer server) : TwoDevicesTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
