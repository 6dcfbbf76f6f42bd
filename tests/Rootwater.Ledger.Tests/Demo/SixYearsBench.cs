using Microsoft.Extensions.Time.Testing;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>The six years kept on a bench, filled once for all tests that ask its desks.</summary>
public sealed class SixYearsBench : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-six-years-asked-").FullName;

    public BenchDesks Desks { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        var clock = new FakeTimeProvider(new DateTimeOffset(SixYearsTold.Today.ToDateTime(new TimeOnly(10, 0)), TimeSpan.Zero));
        Desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(_folder, "bench.db") }, demo: true, clock: clock, story: Ledger.Demo.DemoStory.SixYears);
    }

    public async ValueTask DisposeAsync()
    {
        await Desks.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }
}
