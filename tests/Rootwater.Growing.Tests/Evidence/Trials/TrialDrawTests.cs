using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Trials;

namespace Rootwater.Growing.Tests.Evidence.Trials;

public sealed class TrialDrawTests
{
    private static readonly TrialPlant[] s_plants = [.. Enumerable.Range(1, 13).Select(i => new TrialPlant($"plant {i}", i % 3 == 0 ? "Paphiopedilum" : "Cattleya"))];

    [Fact]
    public void The_same_seed_deals_the_same_arms_whatever_the_order_of_the_list()
    {
        var first = TrialDraw.Draw(s_plants, ["old", "new"], 7);
        TrialDraw.Draw([.. s_plants.Reverse()], ["old", "new"], 7).OrderBy(e => e.Key).ShouldBe(first.OrderBy(e => e.Key));
        Enumerable.Range(8, 5).ShouldContain(seed => TrialDraw.Draw(s_plants, new[] { "old", "new" }, seed).Any(e => first[e.Key] != e.Value));
    }

    [Fact]
    public void Arms_are_within_one_plant_of_each_other_in_all_and_within_each_kind()
    {
        for (var seed = 0; seed < 50; seed++)
        {
            var dealt = TrialDraw.Draw(s_plants, ["old", "new"], seed);
            Math.Abs(dealt.Values.Count(arm => arm == "old") - dealt.Values.Count(arm => arm == "new")).ShouldBeLessThanOrEqualTo(1);
            foreach (var kind in s_plants.GroupBy(plant => plant.Block))
            {
                Math.Abs(kind.Count(plant => dealt[plant.Plant] == "old") - kind.Count(plant => dealt[plant.Plant] == "new")).ShouldBeLessThanOrEqualTo(1);
            }
        }
    }

    [Fact]
    public void Every_plant_comes_into_each_arm_about_as_often()
    {
        var old = Enumerable.Range(0, 1000).Count(seed => TrialDraw.Draw(s_plants, ["old", "new"], seed)["plant 1"] == "old");
        old.ShouldBeInRange(430, 570); // 500 ± 4.4 standard errors
    }

    [Fact]
    public void A_plant_named_twice_is_refused() =>
        Should.Throw<EvidenceInputException>(() => TrialDraw.Draw([new("a"), new("a"), new("b")], ["x", "y"], 1)).Field.ShouldBe("plants");
}
