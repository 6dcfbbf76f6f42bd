using Rootwater.Growing.Evidence.Comparisons;

namespace Rootwater.Growing.Tests.Evidence.Comparisons;

public sealed class WithinPlantRanksTests
{
    [Fact]
    public void One_value_far_off_does_not_hide_what_all_others_show()
    {
        List<PlantValue> values = [];
        for (var plant = 0; plant < 4; plant++)
        {
            values.AddRange(Enumerable.Range(0, 5).Select(k => new PlantValue("p" + plant, 100 * plant + 6 * k + (plant == 0 && k == 1 ? 90 : 0), [k])));
        }

        var slope = WithinPlantRanks.Fit(values, "x");
        slope.Slope!.Value.ShouldBe(6, 1e-9, "the median of slopes between two values of a plant");
        slope.P!.Value.ShouldBeLessThan(0.001);
        slope.Interval!.Value.Lower.ShouldBe(6, 1e-9);
        WithinPlants.Fit(values, ["x"])[0].P!.Value.ShouldBeGreaterThan(slope.P.Value, "least squares about the mean takes it for scatter");
    }

    [Fact]
    public void P_is_the_share_of_all_deals_that_give_as_much()
    {
        // Worked by hand: six plants of two values each, larger x always with the larger value. Of 64 equally likely deals two give as much, one to each side.
        var values = Enumerable.Range(0, 6).SelectMany(plant => new[] { new PlantValue("p" + plant, 0, [0]), new PlantValue("p" + plant, 1 + plant, [1]) }).ToList();
        var slope = WithinPlantRanks.Fit(values, "x");
        // 9,999 deals: three of their standard errors.
        slope.P!.Value.ShouldBe(2 / 64.0, 3 * Math.Sqrt(2 / 64.0 / 9_999));
        slope.Slope!.Value.ShouldBe(3, 1e-9);
    }

    [Fact]
    public void Too_few_values_or_nothing_that_varies_is_said()
    {
        var few = WithinPlantRanks.Fit([new("a", 1, [0]), new("a", 2, [1]), new("b", 1, [0])], "x");
        (few.P, few.Slope).ShouldBe((null, null));
        few.Cannot!.ShouldContain("too few");
        WithinPlantRanks.Fit([.. Enumerable.Range(0, 12).Select(k => new PlantValue("p" + k % 2, k, [1]))], "x").Cannot.ShouldNotBeNull().ShouldContain("0 plants");
        WithinPlantRanks.Fit([.. Enumerable.Range(0, 12).Select(k => new PlantValue("p" + k % 2, 7, [k]))], "x").Cannot.ShouldBe("Nothing scatters.");
    }

    [Fact]
    public void Without_an_effect_it_claims_at_most_one_time_in_twenty_and_its_interval_holds_nought_as_often()
    {
        var (claims, outside) = (0, 0);
        for (var run = 0; run < 200; run++)
        {
            var random = new Random(run);
            List<PlantValue> values = [];
            // Autumns are shared by all plants; now and then a weak plant is months late.
            var autumns = Enumerable.Range(0, 5).Select(_ => 4 * random.NextDouble()).ToArray();
            for (var plant = 0; plant < 4; plant++)
            {
                values.AddRange(autumns.Select(warmth => new PlantValue("p" + plant, 15 * random.NextDouble() + (random.Next(10) == 0 ? 80 : 0), [warmth])));
            }

            var slope = WithinPlantRanks.Fit(values, "x");
            claims += slope.P <= 0.05 ? 1 : 0;
            outside += slope.Interval!.Value.Lower > 0 || slope.Interval.Value.Upper < 0 ? 1 : 0;
        }

        // 5 % of 200 and three standard errors.
        claims.ShouldBeInRange(1, 19);
        outside.ShouldBeLessThanOrEqualTo(19);
    }
}
