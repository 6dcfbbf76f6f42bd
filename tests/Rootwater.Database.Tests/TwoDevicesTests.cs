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

    /// <summary>Both phones were without network on their walk, so each began a walk of its own.</summary>
    [Fact]
    public async Task A_plant_ticked_by_two_phones_on_one_walk_is_counted_once_unless_it_was_given_twice()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var (mine, hers) = (Guid.CreateVersion7(), Guid.CreateVersion7());
        var day = new DateOnly(2026, 3, 14);
        var first = Told(Small.FirstPlant, new PlantGiven(Small.FirstPlant, mine, Pouring.PlainWater, null, Small.WaterId, 200));
        await Desks.Facts.WriteAsync([Told(mine, new RoundBegun(mine, day)), first], device: "phone a", cancel: Cancel);
        await Desks.Facts.WriteAsync([Told(hers, new RoundBegun(hers, day))], device: "phone b", cancel: Cancel);
        var second = Told(Small.FirstPlant, new PlantGiven(Small.FirstPlant, hers, Pouring.PlainWater, null, Small.WaterId, 210));

        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Facts.WriteAsync([second], device: "phone b", cancel: Cancel));
        refused.Problems.ShouldHaveSingleItem().Field.ShouldBe("again");
        refused.Problems[0].Accepted.ShouldStartWith("already ticked by phone a (grower) at ");
        refused.Problems[0].Accepted.ShouldContain("200 mL");
        await DrankAsync(1);

        // Sent again after a lost answer the first is still one; so is the second once it is said to be meant.
        await Desks.Facts.WriteAsync([first], device: "phone a", cancel: Cancel);
        await DrankAsync(1);
        var meant = second with { Payload = (PlantGiven)second.Payload with { Again = true } };
        await Desks.Facts.WriteAsync([meant], device: "phone b", cancel: Cancel);
        await Desks.Facts.WriteAsync([meant], device: "phone b", cancel: Cancel);
        await DrankAsync(2);

        // Another can or water from above is another thing; so is what the same phone says twice, or what is given outside a walk.
        await Desks.Facts.WriteAsync([Told(Small.FirstPlant, new PlantGiven(Small.FirstPlant, hers, Pouring.Leach, null, Small.WaterId, 1000))], device: "phone b", cancel: Cancel);
        await Desks.Facts.WriteAsync([Told(Small.FirstPlant, new PlantGiven(Small.FirstPlant, null, Pouring.PlainWater, null, Small.WaterId, 50))], device: "desk", cancel: Cancel);
        await DrankAsync(4);

        async Task DrankAsync(int times) => (await Desks.Plants.GetAsync(Small.FirstPlant, Cancel))!.Given.Count.ShouldBe(times);
    }

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
