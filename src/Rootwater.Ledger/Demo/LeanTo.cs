using Rootwater.Ledger.Demo.SixYears;
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

        if (story == DemoStory.ThreeMonths)
        {
            var quarter = new LeanToScenario(Today(clock), seed);
            return await new FactLog(database, quarter.Clock, who: "demo", device: $"demo seed {seed}").AppendAsync(quarter.Facts(), cancel);
        }

        using var told = Tell(clock, seed);
        return await WriteAsync(database, told, cancel);
    }

    /// <summary>Begins to tell six years.</summary>
    internal static ToldYears Tell(TimeProvider clock, int seed = DefaultSeed) => new(Today(clock), seed);

    /// <summary>The same with six years that are being told already.</summary>
    internal static async Task<int> FillIfEmptyAsync(BenchDatabase database, ToldYears told, CancellationToken cancel) =>
        (await database.LookAsync(cancel)).HasFacts ? 0 : await WriteAsync(database, told, cancel);

    // Forty thousand facts go in as an import does; one by one they would take a minute.
    private static async Task<int> WriteAsync(BenchDatabase database, ToldYears told, CancellationToken cancel)
    {
        var written = (await new FactImport(database).RunAsync(told.Facts(cancel), cancel: cancel)).Written;
        var store = new PhotoStore(database.PhotosFolder);
        foreach (var (sha256, jpeg) in await told.PicturesAsync())
        {
            await store.KeepCleanAsync(sha256, jpeg, cancel);
        }

        return written;
    }

    private static DateOnly Today(TimeProvider clock) => DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);
}
