using BenchmarkDotNet.Attributes;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Benchmarks.Scale;

/// <summary>
/// What pages ask of a bench of 500 plants and ten years (683,000 facts), warm. The file is filled once for all methods, which takes half a minute;
/// a dry run (<c>--job dry</c>) takes 12 plants of one year instead, to see that each method runs. Asked: bench, round and plant page under 100 ms, ledger of a plant
/// 30 ms, of the bench 2 s.
/// </summary>
[MemoryDiagnoser]
public class LargeBenchBenchmark
{
    /// <summary>Set by the program before the jobs start, inherited by the processes they run in.</summary>
    public const string FolderVariable = "ROOTWATER_BENCHMARK_FOLDER", SmallVariable = "ROOTWATER_BENCHMARK_SMALL";

    private BenchDesks _desks = null!;
    private IReadOnlyList<Guid> _ids = [];
    private int _next;

    [GlobalSetup]
    public async Task Setup()
    {
        var small = Environment.GetEnvironmentVariable(SmallVariable) is { Length: > 0 };
        var bench = small ? new LargeBench(12, 1) : new LargeBench(500, 10);
        var file = Path.Combine(Environment.GetEnvironmentVariable(FolderVariable) ?? Path.GetTempPath(), small ? "small.db" : "large.db");
        var fill = !File.Exists(file);
        _desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = file }, clock: new FixedClock(bench.Now));
        if (fill)
        {
            await _desks.Import.RunAsync(bench.Facts());
        }

        _ids = [.. (await _desks.Plants.ListAsync()).Select(card => card.Id)];
    }

    [GlobalCleanup]
    public async Task Cleanup() => await _desks.DisposeAsync();

    private Guid Next => _ids[_next++ * 7 % _ids.Count];

    [Benchmark(Description = "bench list")]
    public Task<IReadOnlyList<PlantCard>> Bench() => _desks.Plants.ListAsync();

    [Benchmark(Description = "bench list, two words sought")]
    public Task<IReadOnlyList<PlantCard>> Sought() => _desks.Plants.ListAsync(new BenchQuery { Words = "window 1" });

    [Benchmark(Description = "round")]
    public Task<RoundSheet> Round() => _desks.Rounds.TodayAsync();

    [Benchmark(Description = "rounds of the next six weeks")]
    public Task<IReadOnlyList<ComingWalk>> Coming() => _desks.Rounds.ComingAsync(42);

    [Benchmark(Description = "plant page")]
    public Task<PlantLife?> Plant() => _desks.Plants.GetAsync(Next);

    [Benchmark(Description = "nutrient ledger of a plant")]
    public Task<IReadOnlyList<NutrientWeek>> Nutrients() => _desks.Nutrients.OfPlantAsync(Next);

    [Benchmark(Description = "nutrient ledger of the bench")]
    public Task<IReadOnlyDictionary<Guid, IReadOnlyList<NutrientWeek>>> AllNutrients() => _desks.Nutrients.OfBenchAsync();

    [Benchmark(Description = "the year")]
    public Task<YearSheet> Year() => _desks.Year.GetAsync();
}
