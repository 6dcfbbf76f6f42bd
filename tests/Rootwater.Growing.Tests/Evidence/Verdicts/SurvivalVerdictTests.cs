using Rootwater.Growing.Evidence.Verdicts;

namespace Rootwater.Growing.Tests.Evidence.Verdicts;

public sealed class SurvivalVerdictTests
{
    [Fact]
    public void Too_early_says_how_often_chance_does_it_and_what_it_would_take()
    {
        var verdict = SurvivalVerdict.BeforeAndAfter("Better since the change of feed?", new SimulatedBench { Plants = 4, Days = 900 }.Draw(5), 450, 900);
        verdict.Strength.ShouldBe(Strength.TooEarly);
        verdict.Words.ShouldStartWith("Too early to tell: the chance of losing a leaf since the change is ");
        verdict.Words.ShouldContain("comes by chance");
        verdict.WhatItWouldTake.ShouldNotBeNull().ShouldContain("losses in all");
        verdict.P.ShouldNotBeNull().ShouldBeGreaterThan(0.05);
        verdict.Interval!.Value.Lower.ShouldBeLessThan(verdict.HazardRatio!.Value);
    }

    [Fact]
    public void What_changed_at_the_same_time_is_listed_and_weakens_the_verdict()
    {
        var leaves = new SimulatedBench { Plants = 40, Effect = (_, day) => day > 730 ? 0.2 : 1 }.Draw(1);
        var alone = SurvivalVerdict.BeforeAndAfter("?", leaves, 730, 1461);
        var beside = SurvivalVerdict.BeforeAndAfter("?", leaves, 730, 1461, [new OtherChange("repotted", 745, "p3"), new OtherChange("new lamp", 100)]);
        alone.Strength.ShouldBe(Strength.Good);
        beside.Strength.ShouldBe(Strength.Hint);
        beside.AlsoChanged.ShouldHaveSingleItem().ShouldBe("repotted (p3), 15 days after");
        beside.Words.ShouldContain("cannot tell them apart");
    }

    [Fact]
    public void Arms_drawn_at_random_may_give_strong_evidence()
    {
        var leaves = new SimulatedBench { Plants = 40, Effect = (plant, _) => plant % 2 == 1 ? 0.2 : 1 }.Draw(2);
        bool Second(LeafLife leaf) => int.Parse(leaf.Plant[1..], System.Globalization.CultureInfo.InvariantCulture) % 2 == 1;
        var verdict = SurvivalVerdict.Arms("?", [.. leaves.Where(leaf => !Second(leaf))], [.. leaves.Where(Second)], ("old", "new"), true, 1461);
        verdict.Strength.ShouldBe(Strength.Strong);
        verdict.HazardRatio!.Value.ShouldBeInRange(0.1, 0.35);
        SurvivalVerdict.Arms("?", [.. leaves.Where(leaf => !Second(leaf))], [.. leaves.Where(Second)], ("old", "new"), false, 1461).Strength.ShouldBe(Strength.Good);
    }

    [Fact]
    public void Three_plants_an_arm_cannot_tell_whatever_is_seen()
    {
        LeafLife Leaf(int plant, double day) => new("p" + plant, 0, 0, day, true);
        var verdict = SurvivalVerdict.Arms("?", [Leaf(1, 10), Leaf(2, 11), Leaf(3, 12)], [Leaf(4, 900), Leaf(5, 901), Leaf(6, 902)], ("a", "b"), true, 1000);
        verdict.Strength.ShouldBe(Strength.CannotTell);
        verdict.Words.ShouldContain("cannot be told from chance");
        verdict.P.ShouldBeNull();
    }

    [Fact]
    public void Nothing_lost_is_good_news_and_no_answer()
    {
        LeafLife Leaf(int plant) => new("p" + plant, 0, 0, 500, false);
        var verdict = SurvivalVerdict.BeforeAndAfter("?", [Leaf(1), Leaf(2)], 200, 500);
        verdict.Strength.ShouldBe(Strength.CannotTell);
        verdict.Words.ShouldContain("good news");
        verdict.P.ShouldBeNull();
    }

    [Fact]
    public void All_lost_on_one_day_is_one_happening()
    {
        LeafLife Leaf(int plant) => new("p" + plant, 0, 0, 300, true);
        var verdict = SurvivalVerdict.Arms("?", [.. Enumerable.Range(0, 5).Select(Leaf)], [.. Enumerable.Range(5, 5).Select(Leaf)], ("a", "b"), true, 500);
        verdict.Strength.ShouldBe(Strength.CannotTell);
        verdict.Words.ShouldContain("one happening");
    }
}
