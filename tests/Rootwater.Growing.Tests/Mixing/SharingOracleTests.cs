using CsCheck;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>Small benches against a search of every way of sharing over two cans and every point of each can's step grid, under the full chemistry.</summary>
public sealed class SharingOracleTests
{
    private const int Benches = 20;

    private static readonly SupplyItem[] s_solids = [Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumNitrate, Kitchen.AmmoniumNitrate];

    // Each group drinks 0.95 L, which with the spare for spills is one step of the jug; the pH may be what it likes, so that two solids are the whole grid; a scale
    // without error, so that no dose is too small for it and no bottle comes in between.
    private static readonly Gen<PlanRequest> s_request =
        from picks in Gen.Int[0, s_solids.Length - 1].HashSet[2, 2]
        from nitrogen in Gen.Double[20, 110].Array[3, 4]
        from tap in Gen.Bool
        select Kitchen.Request(
            [.. nitrogen.Select((each, i) => Kitchen.Group($"group {i + 1}", Kitchen.Want(each, 60 + 8 * each), plants: 2 + i, millilitres: 950.0 / (2 + i), pourPH: new Band(4, 6, 9), firstNumber: 1 + 10 * i))],
            [tap ? Kitchen.HardTap : Kitchen.Rain],
            [.. picks.Select(i => s_solids[i])],
            [new Vessel("5 L can", 5), new Vessel("other 5 L can", 5)]) with
        {
            MostCans = 2,
            Tools = new Tools { ScaleStepGrams = 0.15, ScaleErrorGrams = 1e-12, WaterStepLitres = 1 },
        };

    [Fact]
    public void Shared_over_two_cans_small_benches_mostly_get_the_best_sharing_and_the_best_doses_there_are()
    {
        var (exact, worst, sum, fewer, finer, gapHolds) = (0, 0.0, 0.0, 0, 0, 0);
        foreach (var request in FixedDraws.Of(s_request, Benches, seed: 20261126))
        {
            var plan = Kitchen.Plan(request).Plan.ShouldNotBeNull();
            var oracle = Best(request);
            var found = plan.Cans.Sum(can => ObjectiveOf(request, can));

            // One can that meets every band ends the search: two might stand nearer to the ideals, and are two cans to mix.
            if (plan.Cans.Count == 1 && plan.Cans[0].Serves.SelectMany(served => served.Bands).All(band => band.Met))
            {
                fewer++;
                continue;
            }

            // A bottle, an earlier can or a fuller one is finer than any grid of just what the plants drink.
            if (plan.Concentrates.Count > 0 || plan.Cans.Any(can => can.Litres != can.Serves.Count || can.Steps.Any(step => step.Kind == MixStepKind.Leftover)))
            {
                finer++;
                continue;
            }

            var above = (found - oracle) / Math.Max(1, oracle);
            above.ShouldBeGreaterThan(-1e-6, "the planner cannot beat a search of everything");
            exact += above < 1e-6 ? 1 : 0;
            sum += Math.Max(0, above);
            worst = Math.Max(worst, above);
            gapHolds += (1 - plan.RelativeGap) * found <= oracle + 1e-6 ? 1 : 0;
        }

        var compared = Benches - fewer - finer;
        TestContext.Current.TestOutputHelper!.WriteLine($"{Benches} benches: {fewer} served by one can, {finer} with a bottle, a topped or a fuller can, {exact} of {compared} exactly the oracle's best, the rest at worst {worst:0.0000} and on average {sum / Math.Max(1, compared):0.0000} above it (relative); the stated gap reached down to the oracle in {gapHolds} of {compared}");
        compared.ShouldBeGreaterThan(Benches / 2);
        worst.ShouldBeLessThan(0.15);
        exact.ShouldBeGreaterThanOrEqualTo((int)(0.8 * compared));
    }

    private static double ObjectiveOf(PlanRequest request, CanPlan can)
    {
        var groups = request.Groups.Where(group => can.Serves.Any(served => served.Group == group.Name)).ToList();
        var columns = Columns.Of(request);
        var steps = columns.Select(column => Math.Round(can.Steps.Where(step => step.ProductId == column.Id || step.WaterId == column.Id).Sum(step => step.Amount) / column.Step)).ToList();
        return ShareOf(request, groups) * Optimiser(request, groups, can.Litres).Verify(steps).ShouldNotBeNull().Objective;
    }

    private static double Best(PlanRequest request)
    {
        var known = new Dictionary<string, double>();
        return Assignment.Partitions([.. Enumerable.Range(0, request.Groups.Count)], request.MostCans).Min(blocks => blocks.Sum(BestOf));

        double BestOf(List<int> block)
        {
            var key = string.Join(',', block);
            if (!known.TryGetValue(key, out var best))
            {
                var litres = block.Count;
                var groups = block.Select(i => request.Groups[i]).ToList();
                var optimiser = Optimiser(request, groups, litres);
                best = double.PositiveInfinity;
                for (var a = 0; a <= Most(litres); a++)
                {
                    for (var b = 0; b <= Most(litres); b++)
                    {
                        if (optimiser.Verify([litres, a, b]) is { } can && can.Objective < best && can.IsAllowed)
                        {
                            best = can.Objective;
                        }
                    }
                }

                known[key] = best = best * ShareOf(request, groups);
            }

            return best;
        }
    }

    // Seven steps a litre are twice what the highest band takes.
    private static int Most(int litres) => 6 + 7 * litres;

    private static double ShareOf(PlanRequest request, IReadOnlyList<WantGroup> groups) => groups.Sum(group => group.Portions.Count) / (double)request.Groups.Sum(group => group.Portions.Count);

    private static CanOptimiser Optimiser(PlanRequest request, IReadOnlyList<WantGroup> groups, double litres)
    {
        var plants = (double)groups.Sum(group => group.Portions.Count);
        return new CanOptimiser(new CanChemistry(request.CanTemperature), Columns.Of(request), CanGoal.For([.. groups.Select(group => (group, group.Portions.Count / plants))]), litres, request.Vessels[0].RelativeVolumeError);
    }
}
