using BenchmarkDotNet.Attributes;
using Rootwater.Growing.Evidence.Causes;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Trials;

namespace Rootwater.Benchmarks;

/// <summary>
/// Leaf survival: 10,000 leaves under 10 ms for Kaplan–Meier with log-rank; Cox with supply that changes over time, 200,000 intervals and 6 covariates, under 1 s; a cause sheet under 100 ms; a power
/// simulation of 2,000 trials under 10 s.
/// </summary>
[MemoryDiagnoser]
public class EvidenceBenchmark
{
    private const int Leaves = 10_000;
    private const int IntervalsPerLeaf = 20;
    private Lifetime[] _lives = null!;
    private CoxRequest _supply = null!;

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(42);
        _lives = [.. Enumerable.Range(0, Leaves).Select(i =>
        {
            var entry = random.Next(4) == 0 ? Math.Floor(300 * random.NextDouble()) : double.NegativeInfinity;
            var life = Math.Ceiling(900 * Math.Pow(-Math.Log(random.NextDouble()), 0.5));
            return new Lifetime(entry, Math.Max(entry, 0) + life, random.Next(5) > 0, i % 2 == 0 ? "old feed" : "new feed");
        })];
        var n = Leaves * IntervalsPerLeaf;
        var (entry, exit, ended, plants) = (new double[n], new double[n], new bool[n], new int[n]);
        var x = Enumerable.Range(0, 6).Select(_ => new double[n]).ToArray();
        for (var leaf = 0; leaf < Leaves; leaf++)
        {
            var step = Math.Ceiling(60 * random.NextDouble());
            for (var k = 0; k < IntervalsPerLeaf; k++)
            {
                var i = leaf * IntervalsPerLeaf + k;
                (entry[i], exit[i], plants[i]) = (k * step, (k + 1) * step, leaf / 25);
                ended[i] = k == IntervalsPerLeaf - 1 && random.Next(3) > 0;
                for (var j = 0; j < x.Length; j++)
                {
                    x[j][i] = j == 5 ? random.Next(2) : random.NextDouble() * (j + 1);
                }
            }
        }

        _supply = new CoxRequest { Entry = entry, Exit = exit, Ended = ended, Names = ["N", "P", "K", "Ca", "Mg", "cold"], Covariates = x, Clusters = plants };
    }

    [Benchmark(Description = "Kaplan–Meier by feed and log-rank, 10,000 leaves")]
    public double KaplanMeierAndLogRank() => KaplanMeier.ByGroup(_lives)[0].Quantile(0.5)!.Value + LogRank.Compare(_lives).ChiSquare!.Value;

    [Benchmark(Description = "cause sheet, seven clues and the ledger")]
    public int Causes() => CauseSheet.Make(
        new CauseRecords { LeafAgeDays = 1100, SisterLosses = [950, 1240], Supply = new Dictionary<string, double> { ["K"] = 0.3, ["N"] = 0.9, ["Ca"] = 1.2 }, ReservoirOverFeed = 1.4, LowestCelsius = 15 },
        new Dictionary<string, string> { ["leaf-age"] = "oldest", ["pattern"] = "margin-tip", ["speed"] = "weeks", ["roots"] = "firm", ["turgor"] = "firm", ["crust"] = "no", ["spread"] = "alone" }).Causes.Count;

    [Benchmark(Description = "power, 2,000 trials of 2 × 12 plants over 3 years, four looks, all cores")]
    public double Power() => TrialSimulator.Power(new TrialDesign { PlantsPerArm = 12, MedianLeafYears = 2.5, HazardRatio = 0.5, Years = 3, Looks = 4 }, 2000).Power;

    [Benchmark(Description = "Cox, 10,000 leaves, 200,000 intervals, 6 covariates, robust by plant")]
    public double CoxOfSupply() => CoxRegression.Fit(_supply).LogLikelihood!.Value;
}
