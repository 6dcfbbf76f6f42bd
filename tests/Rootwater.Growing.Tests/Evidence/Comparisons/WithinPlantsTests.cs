using Rootwater.Growing.Evidence.Comparisons;

namespace Rootwater.Growing.Tests.Evidence.Comparisons;

public sealed class WithinPlantsTests
{
    [Fact]
    public void Each_plant_is_its_own_control_so_that_plants_that_differ_are_no_effect()
    {
        // Plants with more of x are the larger ones, but within each plant nothing goes with x.
        List<PlantValue> values = [];
        for (var plant = 0; plant < 6; plant++)
        {
            values.AddRange(Enumerable.Range(0, 4).Select(k => new PlantValue("p" + plant, 10 * plant + (k is 0 or 3 ? 1 : -1), [plant + k])));
        }

        var slope = WithinPlants.Fit(values, ["x"])[0];
        slope.Slope!.Value.ShouldBe(0, 1e-9);
        slope.Plants.ShouldBe(6);
    }

    [Fact]
    public void The_slope_is_that_of_least_squares_with_a_column_for_each_plant()
    {
        // Worked by hand: two values a plant are one difference; the slope is the sum of dx·dy over that of dx².
        (double Dx, double Dy)[] pairs = [(1, 2), (2, 3), (1, 1), (-1, -3), (3, 5)];
        var values = pairs.SelectMany((pair, i) => new[] { new PlantValue("p" + i, 7 * i, [0]), new PlantValue("p" + i, 7 * i + pair.Dy, [pair.Dx]) }).ToList();
        var slope = WithinPlants.Fit(values, ["x"])[0];
        slope.Slope!.Value.ShouldBe(27 / 16.0, 1e-12);
        slope.P!.Value.ShouldBeInRange(1e-4, 0.02);
        slope.Interval!.Value.Lower.ShouldBeGreaterThan(0);
    }

    [Fact]
    public void What_varies_in_too_few_plants_or_nowhere_is_said_and_has_no_p()
    {
        List<PlantValue> values = [new("a", 1, [0, 1]), new("a", 2, [1, 1]), new("b", 1, [0, 1]), new("b", 2, [1, 1]), new("c", 5, [1, 1])];
        var slopes = WithinPlants.Fit(values, ["few", "never"]);
        slopes.ShouldAllBe(slope => slope.P == null && slope.Slope == null && slope.Cannot != null);
        slopes[0].Cannot!.ShouldContain("varied in 2 plants");
        WithinPlants.Fit([], ["x"])[0].Cannot.ShouldNotBeNull().ShouldContain("varied in 0 plants");
    }

    [Fact]
    public void Without_an_effect_it_claims_at_most_one_time_in_twenty_however_plants_differ()
    {
        var claims = 0;
        for (var run = 0; run < 1000; run++)
        {
            var random = new Random(run);
            double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            List<PlantValue> values = [];
            for (var plant = 0; plant < 8; plant++)
            {
                // Years of one plant hang together.
                var (mean, drift) = (3 * Normal(), 0.0);
                for (var k = 0; k < 6; k++)
                {
                    drift = 0.5 * drift + Normal();
                    values.Add(new PlantValue("p" + plant, mean + drift, [random.Next(2)]));
                }
            }

            claims += WithinPlants.Fit(values, ["x"])[0].P <= 0.05 ? 1 : 0;
        }

        claims.ShouldBeLessThan(71, "50 and three standard errors");
    }
}
