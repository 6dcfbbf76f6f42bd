using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Demo;

/// <summary>The invented demo bench: "the lean-to", a narrow glasshouse on the north side of a town house. 36 plants, rain barrel and hard tap water, a small cupboard, three months of cans.</summary>
/// <remarks>The same day and the same seed give the same facts, ids included. Past readings are what the models say of what is truly in the products, plus noise.</remarks>
public static class LeanTo
{
    public const int DefaultSeed = 36;

    /// <summary>Fills a bench that holds nothing yet, in one transaction.</summary>
    /// <returns>How many facts were written; 0 when the bench held something.</returns>
    public static async Task<int> FillIfEmptyAsync(BenchDatabase database, TimeProvider clock, int seed = DefaultSeed, CancellationToken cancel = default)
    {
        if (await database.ReadAsync(db => db.Facts.AnyAsync(cancel), cancel))
        {
            return 0;
        }

        var today = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);
        var scenario = new LeanToScenario(today, seed);
        return await new FactLog(database, scenario.Clock, who: "demo", device: $"demo seed {seed}").AppendAsync(scenario.Facts(), cancel);
    }
}
