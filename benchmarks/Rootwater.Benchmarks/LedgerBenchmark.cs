using BenchmarkDotNet.Attributes;
using Rootwater.Growing.Cupboard;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Benchmarks;

/// <summary>What pages ask of the demo bench in SQLite (a page has 50 ms of server time in all), what one tick costs, and how long filling the demo takes (under 3 s).</summary>
[MemoryDiagnoser]
public class LedgerBenchmark
{
    private string _folder = null!;
    private BenchDesks _desks = null!;
    private Guid _can;
    private bool _ticked;

    [GlobalSetup]
    public async Task Setup()
    {
        _folder = Directory.CreateTempSubdirectory("rootwater-benchmark-").FullName;
        _desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(_folder, "bench.db") }, demo: true);
        _can = (await _desks.Mixing.ListCansAsync(1))[0].Id;
    }

    [GlobalCleanup]
    public async Task Cleanup()
    {
        await _desks.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Benchmark(Description = "who is due, and all there is to mix from")]
    public Task<BenchToday> Today() => _desks.Mixing.GetBenchTodayAsync();

    [Benchmark(Description = "list of cans")]
    public Task<IReadOnlyList<CanSummary>> Cans() => _desks.Mixing.ListCansAsync();

    [Benchmark(Description = "one card")]
    public Task<SavedCan?> Card() => _desks.Mixing.GetCanAsync(_can);

    [Benchmark(Description = "cupboard")]
    public Task<IReadOnlyList<SupplyItem>> Cupboard() => _desks.Cupboard.ListAsync();

    [Benchmark(Description = "tick a step or take it back (on the disk before it returns)")]
    public Task<SavedCan> Tick() => (_ticked = !_ticked) ? _desks.Mixing.UndoStepAsync(_can, 1) : _desks.Mixing.TickStepAsync(_can, 1);

    [Benchmark(Description = "open a new file and fill it with the demo")]
    public async Task Demo()
    {
        var file = Path.Combine(_folder, $"{Guid.NewGuid():N}.db");
        await using var desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = file }, demo: true);
    }
}
