using Microsoft.Extensions.Time.Testing;
using Rootwater.Ledger.Demo;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>The six years kept on a bench, filled once for all tests that ask its desks.</summary>
public sealed class SixYearsBench : IAsyncLifetime
{
    private readonly int _seed;
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-six-years-asked-").FullName;

    public SixYearsBench()
        : this(LeanTo.DefaultSeed)
    {
    }

    internal SixYearsBench(int seed) => _seed = seed;

    public BenchDesks Desks { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        var clock = new FakeTimeProvider(new DateTimeOffset(SixYearsTold.Today.ToDateTime(new TimeOnly(10, 0)), TimeSpan.Zero));
        var options = new LedgerOptions { Location = Path.Combine(_folder, "bench.db") };
        await using (var database = await BenchDatabase.OpenAsync(options))
        {
            await LeanTo.FillIfEmptyAsync(database, clock, _seed, DemoStory.SixYears);
        }

        Desks = await BenchDesks.OpenAsync(options, clock: clock);
    }

    public async ValueTask DisposeAsync()
    {
        await Desks.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }
}
