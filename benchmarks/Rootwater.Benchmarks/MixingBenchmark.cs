using BenchmarkDotNet.Attributes;
using Rootwater.Growing.Mixing;

namespace Rootwater.Benchmarks;

/// <summary>Planning with a stated gap, warm: a shelf (40 plants, 12 products, 2 waters, 2 cans) and a house (500 plants, 30 products, 4 cans, with progress).</summary>
public class MixingBenchmark
{
    private readonly PlanRequest _shelf = MixingRequests.Shelf();
    private readonly PlanRequest _house = MixingRequests.House();

    [GlobalSetup]
    public void Warm() => CanPlanner.Plan(_shelf);

    [Benchmark]
    public double Shelf() => Gap(CanPlanner.Plan(_shelf));

    [Benchmark]
    public double House() => Gap(CanPlanner.Plan(_house, new Progress()));

    /// <summary>The curve of cans against unmet wants: one search that shares its lines, relaxed cans and bounds between the numbers of cans.</summary>
    [Benchmark]
    public int HouseFromOneToFourCans() => TradeOff.Of(_house with { TimeLimit = TimeSpan.FromSeconds(2.5) }, new Progress()).Count;

    private static double Gap(PlanOutcome outcome) => outcome.Plan?.RelativeGap ?? throw new InvalidOperationException("No plan came back.");

    private sealed class Progress : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value)
        {
        }
    }
}
