using BenchmarkDotNet.Attributes;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Desks;

namespace Rootwater.Benchmarks;

/// <summary>A cause sheet read from the ledger of the six-year demo (under 100 ms), and the evidence pages' questions of the whole bench, as they are asked again after something was written.</summary>
[MemoryDiagnoser]
public class CauseSheetBenchmark
{
    private string _folder = null!;
    private BenchDesks _desks = null!;
    private Guid[] _plants = null!;
    private int _next;

    [GlobalSetup]
    public async Task Setup()
    {
        _folder = Directory.CreateTempSubdirectory("rootwater-benchmark-").FullName;
        _desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(_folder, "bench.db") }, demo: true, story: DemoStory.SixYears);
        _plants = [.. (await _desks.Plants.ListAsync()).Select(card => card.Id)];
        // What the program does once at its start.
        await _desks.Seasons.GetAsync();
        await _desks.Causes.SheetAsync(_plants[0]);
    }

    [GlobalCleanup]
    public async Task Cleanup()
    {
        await _desks.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Benchmark(Description = "cause sheet of the next plant, two clues seen")]
    public Task<CauseSheetView> Sheet() => _desks.Causes.SheetAsync(_plants[_next++ % _plants.Length], Guid.Empty, new Dictionary<string, string> { ["leaf-age"] = "oldest", ["pattern"] = "even-yellow" });
}
