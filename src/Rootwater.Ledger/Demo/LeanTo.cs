namespace Rootwater.Ledger.Demo;

/// <summary>The invented demo bench: "the lean-to", a narrow glasshouse on the north side of a town house.</summary>
public static partial class LeanTo
{
    /// <summary>Fills a bench that holds nothing yet.</summary>
    /// <returns>How many facts were written; 0 when the bench held something.</returns>
    public static Task<int> FillIfEmptyAsync(BenchDatabase database, TimeProvider clock, int seed = 36, CancellationToken cancel = default) => Task.FromResult(0);
}
