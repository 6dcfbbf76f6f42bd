using System.Collections.Concurrent;
using Rootwater.Ledger.Demo.SixYears;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Demo;

/// <summary>How much the demo tells.</summary>
public enum DemoStory
{
    /// <summary>36 plants and 91 days of cans: quick, for tests and for trying a command.</summary>
    ThreeMonths,

    /// <summary>Six years, about 40,000 facts, pictures: what a grower is shown.</summary>
    SixYears,
}

/// <summary>The invented demo bench: "the lean-to", a narrow glasshouse on the north side of a town house. 36 plants, rain barrel and hard tap water, a small cupboard.</summary>
/// <remarks>The same day and the same seed give the same facts, ids included. Past readings are what the models say of what is truly in the products, plus noise.</remarks>
public static class LeanTo
{
    public const int DefaultSeed = 36;

    /// <summary>Fills a bench that holds nothing yet, in one transaction.</summary>
    /// <returns>How many facts were written; 0 when the bench held something.</returns>
    public static async Task<int> FillIfEmptyAsync(
        BenchDatabase database, TimeProvider clock, int seed = DefaultSeed, DemoStory story = DemoStory.ThreeMonths, CancellationToken cancel = default)
    {
        if ((await database.LookAsync(cancel)).HasFacts)
        {
            return 0;
        }

        var today = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);
        if (story == DemoStory.ThreeMonths)
        {
            var quarter = new LeanToScenario(today, seed);
            return await new FactLog(database, quarter.Clock, who: "demo", device: $"demo seed {seed}").AppendAsync(quarter.Facts(), cancel);
        }

        var scenario = new SixYearScenario(today, seed);
        // Forty thousand facts go in as an import does (one by one they would take a minute), and are told while earlier ones are written.
        using var told = new BlockingCollection<(Fact, FactPayload?)>(boundedCapacity: 4000);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        var telling = Task.Run(() => Tell(scenario, seed, told, stop.Token), stop.Token);
        int written;
        try
        {
            written = (await new FactImport(database).RunAsync(told.GetConsumingEnumerable(stop.Token), cancel: cancel)).Written;
        }
        finally
        {
            await stop.CancelAsync();
            await Task.WhenAny(telling);
        }

        await telling;
        var store = new PhotoStore(database.PhotosFolder);
        foreach (var (sha256, jpeg) in scenario.Pictures)
        {
            await store.KeepCleanAsync(sha256, jpeg, cancel);
        }

        return written;
    }

    private static void Tell(SixYearScenario scenario, int seed, BlockingCollection<(Fact, FactPayload?)> told, CancellationToken cancel)
    {
        try
        {
            foreach (var fact in scenario.Facts())
            {
                var recorded = scenario.Clock.GetUtcNow();
                var when = fact.When ?? BenchClock.MinuteAt(recorded, SixYearScenario.Zone);
                told.Add((FactLog.Row(fact, FactKinds.Write(fact.Payload), when, recorded, 0, "demo", $"demo seed {seed}"), fact.Payload), cancel);
            }
        }
        finally
        {
            told.CompleteAdding();
        }
    }
}
