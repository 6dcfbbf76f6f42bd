using CsCheck;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Tests.Mixing;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>Rounding to the steps of scale, syringe and jug never leaves a band that the unrounded can met without the plan saying so.</summary>
public sealed class RoundingLaws
{
    private const int Cans = 40;

    [Fact]
    public void A_band_that_only_the_steps_leave_is_named_and_mostly_with_the_steps_as_the_reason()
    {
        var (left, met, saidSteps) = (0, 0, 0);
        var requests =
            from nitrogen in Gen.Double[15, 120]
            from ec in Gen.Double[0.8, 1.2]
            from coarse in Gen.Bool
            from plants in Gen.Int[2, 12]
            select Kitchen.Request([Kitchen.Group("all", Kitchen.Want(nitrogen, ec * (60 + 8 * nitrogen)), plants)]) with
            {
                Tools = new Tools { ScaleStepGrams = coarse ? 0.5 : 0.1, ScaleErrorGrams = coarse ? 0.1 : 0.02, SyringeStepMillilitres = coarse ? 1 : 0.1, SyringeErrorMillilitres = 0.04 },
                TimeLimit = TimeSpan.FromSeconds(5),
            };

        foreach (var request in FixedDraws.Of(requests, Cans, seed: 20261125))
        {
            var outcome = Kitchen.Plan(request);
            var can = outcome.Plan.ShouldNotBeNull().Cans.ShouldHaveSingleItem();
            var rounded = can.Serves[0].Bands.Where(band => !band.Met).Select(band => band.What).ToHashSet();

            // The same can without steps: a scale, a syringe and a jug a hundred times as fine.
            var tools = request.Tools;
            var unrounded = Kitchen.Plan(request with
            {
                Tools = tools with
                {
                    ScaleStepGrams = tools.ScaleStepGrams / 100,
                    ScaleErrorGrams = tools.ScaleErrorGrams / 100,
                    SyringeStepMillilitres = tools.SyringeStepMillilitres / 100,
                    SyringeErrorMillilitres = tools.SyringeErrorMillilitres / 100,
                    WaterStepLitres = tools.WaterStepLitres / 10,
                },
            }).Plan.ShouldNotBeNull().Cans[0].Serves[0].Bands.Where(band => band.Met).Select(band => band.What).ToHashSet();

            rounded.ShouldBe(outcome.Unmet.Select(unmet => unmet.What).ToHashSet(), ignoreOrder: true);
            var byTheSteps = rounded.Where(unrounded.Contains).ToList();
            left += byTheSteps.Count;
            saidSteps += byTheSteps.Count(what => outcome.Unmet.Single(unmet => unmet.What == what).WayOut.Contains("steps", StringComparison.Ordinal));
            met += can.Serves[0].Bands.Count - rounded.Count;
        }

        // Where a concentrate came in between, the way out may speak of that in place of the steps.
        saidSteps.ShouldBeGreaterThanOrEqualTo((int)(0.8 * left));
        TestContext.Current.TestOutputHelper!.WriteLine($"{Cans} cans: {met} bands met, {left} left by the steps alone, all named, {saidSteps} with the steps as the reason");
    }
}
