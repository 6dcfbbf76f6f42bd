using Rootwater.Growing.Evidence.Pooling;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Growing.Evidence.Verdicts;

namespace Rootwater.Growing.Tests.Evidence;

/// <summary>
/// How often the verdicts are wrong, on benches with a known truth. Reduced runs here, with bounds from the binomial error of so many runs (about three standard errors); the full 2,000 by
/// ROOTWATER_SWEEP=2000 with -showLiveOutput, their figures in docs/science/evidence.md.
/// </summary>
public sealed class SimulatedBenchTests(ITestOutputHelper output)
{
    private static readonly int? s_sweep = int.TryParse(Environment.GetEnvironmentVariable("ROOTWATER_SWEEP"), out var runs) ? runs : null;

    [Fact]
    public void Before_and_after_without_an_effect_claims_one_at_most_one_time_in_twenty()
    {
        var bench = new SimulatedBench();
        var share = Share(300, run => SurvivalVerdict.BeforeAndAfter("?", bench.Draw(run), 730, 1461).ClaimsDifference, "before/after, no effect, claims");
        share.ShouldBeLessThan(0.05 + Slack(300, 0.05));
    }

    [Fact]
    public void Before_and_after_finds_a_halving_on_a_large_bench()
    {
        var bench = new SimulatedBench { Plants = 20, Effect = (_, day) => day > 730 ? 0.4 : 1 };
        var share = Share(100, run => SurvivalVerdict.BeforeAndAfter("?", bench.Draw(run), 730, 1461) is { ClaimsDifference: true, HazardRatio: < 1 }, "before/after, hazard × 0.4, 20 plants, found");
        share.ShouldBeGreaterThan(0.75);
    }

    [Fact]
    public void Arms_without_an_effect_claim_one_at_most_one_time_in_twenty_however_plants_differ()
    {
        var bench = new SimulatedBench { Plants = 12, PlantSpread = 0.9 };
        var share = Share(300, run => Arms(bench.Draw(run), 0.05).ClaimsDifference, "arms, no effect, claims");
        share.ShouldBeLessThan(0.05 + Slack(300, 0.05));
    }

    [Fact]
    public void Looking_early_four_times_by_the_planned_boundaries_claims_at_most_one_time_in_twenty()
    {
        var design = new TrialDesign { PlantsPerArm = 8, MedianLeafYears = 2, HazardRatio = 0.5, Years = 4, Looks = 4 };
        var levels = design.Levels();
        var bench = new SimulatedBench { Plants = 16 };
        bool Claims(int run, Func<int, double> level)
        {
            var leaves = bench.Draw(run);
            return Enumerable.Range(0, 4).Any(look => Arms(SimulatedBench.AsOf(leaves, 1461 * (look + 1) / 4.0), level(look)).ClaimsDifference);
        }

        var share = Share(300, run => Claims(run, look => levels[look]), "arms, no effect, four planned looks, claims");
        share.ShouldBeLessThan(0.05 + Slack(300, 0.05));
        // What looking at 0.05 each time would do, so that the test is seen to have something to catch.
        Share(300, run => Claims(run, _ => 0.05), "arms, no effect, four looks at 0.05 each, claims").ShouldBeGreaterThan(0.06);
    }

    [Fact]
    public void Power_is_what_the_planner_promised()
    {
        // Six leaves and two new ones a year: in steady growth leaves are up to three years old at the start, as the planner takes it.
        // The planner's plants have a normal spread of log hazard, this generator's a uniform spread of hazard: the same standard deviation of the logarithm (0.31 at 0.5).
        var design = new TrialDesign { PlantsPerArm = 9, LeavesPerPlant = 6, NewLeavesPerYear = 2, MedianLeafYears = 900 * Math.Pow(Math.Log(2), 0.5) / 365.25, Shape = 2, PlantSpread = 0.31, HazardRatio = 0.6, Years = 3 };
        var runs = s_sweep ?? 400;
        var promised = TrialSimulator.Power(design, runs, 3, cancel: TestContext.Current.CancellationToken).Power;
        var bench = new SimulatedBench { Plants = 18, Days = 3 * 365.25, OldestAtStartDays = 3 * 365.25, Effect = (plant, _) => plant % 2 == 1 ? 0.6 : 1 };
        var found = Share(400, run => Arms(bench.Draw(run), 0.05) is { ClaimsDifference: true, HazardRatio: < 1 }, FormattableString.Invariant($"arms, hazard × 0.6, promised {promised:0.000}, found"));
        found.ShouldBe(promised, 0.03 + Slack(400, promised) * Math.Sqrt(2) * (s_sweep is null ? 1 : 0.45));
    }

    [Fact]
    public void Power_of_a_draw_within_kinds_is_what_the_planner_promised()
    {
        // Kinds of 5, 4, 3, 2 and four plants that are the only ones of theirs, drawn together: as a bench is. The test is the trial's own: the draw made again, blocks and all.
        var redraws = Kinds(5);
        var design = new TrialDesign { PlantsPerArm = 9, Blocks = s_kinds, LeavesPerPlant = 6, NewLeavesPerYear = 2, MedianLeafYears = 900 * Math.Pow(Math.Log(2), 0.5) / 365.25, Shape = 2, PlantSpread = 0.31, HazardRatio = 0.5, Years = 3 };
        var promised = TrialSimulator.Power(design, s_sweep ?? 400, 3, cancel: TestContext.Current.CancellationToken).Power;
        var found = Share(400, run => Claims(redraws, run, 0.5, _ => 1), FormattableString.Invariant($"drawn within kinds, hazard × 0.5, promised {promised:0.000}, found"));
        found.ShouldBe(promised, 0.03 + Slack(400, promised) * Math.Sqrt(2) * (s_sweep is null ? 1 : 0.45));
    }

    [Fact]
    public void A_draw_within_kinds_that_differ_much_claims_at_most_one_time_in_twenty_without_an_effect()
    {
        var redraws = Kinds(6);
        Share(300, run => Claims(redraws, run, 1, plant => s_kinds[plant] switch { "a" => 0.4, "b" => 2.5, _ => 1 }), "drawn within kinds that differ sixfold, no effect, claims").ShouldBeLessThan(0.05 + Slack(300, 0.05));
    }

    private static readonly string[] s_kinds = ["a", "a", "a", "a", "a", "b", "b", "b", "b", "c", "c", "c", "d", "d", "", "", "", ""];

    private static TrialRedraws Kinds(int seed) => new([.. s_kinds.Select((kind, i) => new TrialPlant("p" + i, kind))], seed);

    private static bool Claims(TrialRedraws redraws, int run, double ratio, Func<int, double> ofPlant)
    {
        var arms = redraws.Deal(new Random(run));
        var leaves = new SimulatedBench { Plants = 18, Days = 3 * 365.25, OldestAtStartDays = 3 * 365.25, Effect = (plant, _) => ofPlant(plant) * (arms[plant] == 1 ? ratio : 1) }.Draw(run);
        var scores = PlantScores.Of([.. leaves.Select(leaf => (leaf.Plant, new Lifetime(leaf.WatchedFromDay > leaf.BornDay ? leaf.WatchedFromDay - leaf.BornDay : double.NegativeInfinity, Math.Max(leaf.LastDay - leaf.BornDay, 0.5), leaf.Lost)))]);
        return redraws.P([.. redraws.Plants.Select(plant => scores.GetValueOrDefault(plant, double.NaN))], arms) <= 0.05;
    }

    [Fact]
    public void A_simulation_of_power_tells_how_far_it_is_and_stops_when_told()
    {
        var design = new TrialDesign { PlantsPerArm = 12, MedianLeafYears = 2.5, HazardRatio = 0.5, Years = 3, Looks = 4 };
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var last = 0.0;
        var watch = new Told(share =>
        {
            last = Math.Max(last, share);
            stop.Cancel();
        });
        // A million trials would take an hour.
        Should.Throw<OperationCanceledException>(() => TrialSimulator.Power(design, 1_000_000, 1, watch, stop.Token));
        last.ShouldBeInRange(1e-6, 0.1);
    }

    private sealed class Told(Action<double> tell) : IProgress<double>
    {
        public void Report(double value) => tell(value);
    }

    [Fact]
    public void Ninety_percent_bands_of_a_curve_cover_the_truth_nine_times_in_ten()
    {
        var share = Share(600, run =>
        {
            var random = new Random(run);
            var lives = Enumerable.Range(0, 60).Select(_ => 900 * Math.Sqrt(-Math.Log(1 - random.NextDouble()))).Select(life => (life, Cut: 400 + 1200 * random.NextDouble())).Select(pair => Lifetime.FromStart(Math.Min(pair.life, pair.Cut), pair.life <= pair.Cut)).ToList();
            var (lower, upper) = KaplanMeier.Fit(lives).Band(700, BandKind.LogLog, 0.9);
            var truth = Math.Exp(-Math.Pow(700 / 900.0, 2));
            return lower <= truth && truth <= upper;
        }, "Kaplan–Meier 90 % band at 700 days, 60 leaves, covers");
        share.ShouldBe(0.9, 0.02 + Slack(600, 0.9));
    }

    [Theory]
    [InlineData(0.3, false)]
    [InlineData(0.5, false)]
    [InlineData(0.8, false)]
    [InlineData(0.3, true)]
    [InlineData(0.5, true)]
    [InlineData(0.8, true)]
    public void Ninety_percent_bands_of_pooled_hazards_cover_the_truth_nine_times_in_ten(double spread, bool gamma)
    {
        // Eight bands a run: an eighth of the runs.
        var runs = (s_sweep ?? 320) / 8;
        var covered = 0;
        Parallel.For(0, runs, new ParallelOptions { MaxDegreeOfParallelism = 2 }, run =>
        {
            var random = new Random(run + 1);
            // The method believes in neither: normal logarithms, or gamma hazards of the same coefficient of variation.
            var shape = 1 / (Math.Exp(spread * spread) - 1);
            var truths = Enumerable.Range(0, 8).Select(_ => gamma ? MathNet.Numerics.Distributions.Gamma.Sample(random, shape, shape / 0.3) : 0.3 * Math.Exp(spread * Normal(random))).ToArray();
            var plants = truths.Select(truth => (truth, Years: 3 + 17 * random.NextDouble())).Select((each, i) => new PlantLosses("p" + i, "kind", Poisson(random, each.truth * each.Years), each.Years)).ToList();
            Interlocked.Add(ref covered, LeafHazards.Pool(plants).Zip(truths).Count(pair => pair.First.Lower <= pair.Second && pair.Second <= pair.First.Upper));
        });
        var share = covered / (8.0 * runs);
        output.WriteLine(FormattableString.Invariant($"pooled hazard 90 % band of a plant, 8 plants, {(gamma ? "gamma" : "log-normal")} hazards as wide as ± {spread:0.0} of the logarithm, covers {share:0.0000} ({8 * runs} bands)"));
        share.ShouldBe(0.9, 0.02 + 1.5 * Slack(320, 0.9));
    }

    [Fact]
    public void Ninety_percent_bands_of_the_next_leaf_cover_it_nine_times_in_ten()
    {
        var share = Share(200, run =>
        {
            var random = new Random(run);
            double Draw(double age) => 900 * Math.Sqrt(age * age / 810000 - Math.Log(1 - random.NextDouble()));
            var past = Enumerable.Range(0, 40).Select(_ => Draw(0)).Select(life => Lifetime.FromStart(Math.Min(life, 1300), life <= 1300)).ToList();
            var leaves = Enumerable.Range(0, 5).Select(i => new StandingLeaf("leaf " + i, 100 + 150 * i)).ToList();
            var next = leaves.Min(leaf => Draw(leaf.AgeDays) - leaf.AgeDays);
            var forecast = LeafForecast.Next(WeibullRegression.Fit(past), leaves, draws: 1000, seed: run)!;
            return forecast.EarlyDays <= next && next <= forecast.LateDays;
        }, "next leaf 90 % band from 40 past leaves, covers");
        share.ShouldBe(0.9, 0.02 + Slack(200, 0.9));
    }

    private static Verdict Arms(List<LeafLife> leaves, double level)
    {
        bool Second(LeafLife leaf) => (leaf.Plant[^1] - '0') % 2 == 1;
        return SurvivalVerdict.Arms("?", [.. leaves.Where(leaf => !Second(leaf))], [.. leaves.Where(Second)], ("old", "new"), true, 1461, level);
    }

    private double Share(int reduced, Func<int, bool> yes, string what)
    {
        var runs = s_sweep ?? reduced;
        var count = 0;
        Parallel.For(0, runs, new ParallelOptions { MaxDegreeOfParallelism = 2 }, run =>
        {
            if (yes(run + 1))
            {
                Interlocked.Increment(ref count);
            }
        });
        var share = count / (double)runs;
        output.WriteLine(FormattableString.Invariant($"{what} {share:0.0000} (± {Math.Sqrt(share * (1 - share) / runs):0.0000}, {runs} runs)"));
        return share;
    }

    /// <summary>Three standard errors of a share in the reduced run; in the full sweep the same for its runs.</summary>
    private static double Slack(int reduced, double share) => 3 * Math.Sqrt(share * (1 - share) / (s_sweep ?? reduced));

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static int Poisson(Random random, double mean)
    {
        var count = 0;
        for (var time = -Math.Log(1 - random.NextDouble()); time < mean; time -= Math.Log(1 - random.NextDouble()))
        {
            count++;
        }

        return count;
    }
}
