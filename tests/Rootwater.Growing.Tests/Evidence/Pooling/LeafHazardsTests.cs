using Rootwater.Growing.Evidence.Pooling;

namespace Rootwater.Growing.Tests.Evidence.Pooling;

public sealed class LeafHazardsTests
{
    private static PlantLosses[] Kind(params (int Losses, double Years)[] plants) => [.. plants.Select((plant, i) => new PlantLosses("p" + i, "kind", plant.Losses, plant.Years))];

    [Fact]
    public void A_plant_with_few_records_borrows_more_and_lies_nearer_to_its_kind()
    {
        var pooled = LeafHazards.Pool(Kind((4, 20), (6, 22), (5, 18), (0, 1), (9, 20)));
        pooled[3].Borrowed.ShouldBeGreaterThan(pooled[4].Borrowed);
        pooled[3].Middle.ShouldBeInRange(0.1, 0.35);
        pooled[4].Middle.ShouldBeInRange(0.27, 0.45);
        pooled[3].Words.ShouldContain("borrowed from kind");
    }

    [Fact]
    public void A_plant_without_loss_has_a_hazard_above_nothing_and_a_band() =>
        LeafHazards.Pool(Kind((0, 5), (0, 6), (0, 4))).ShouldAllBe(p => p.Middle > 0 && p.Lower >= 0 && p.Upper > p.Middle && p.Upper < 2);

    [Fact]
    public void Plants_with_many_records_keep_their_own_figures()
    {
        var pooled = LeafHazards.Pool(Kind((400, 1000), (100, 1000), (200, 1000)));
        pooled[0].Middle.ShouldBe(0.4, 0.01);
        pooled[1].Middle.ShouldBe(0.1, 0.01);
    }

    [Fact]
    public void The_only_plant_of_a_kind_borrows_from_all_and_says_so() =>
        LeafHazards.Pool([new("a", "x", 3, 10), new("b", "x", 4, 10), new("c", "alone", 0, 1)])[2].Words.ShouldContain("the only one of its kind");
}
