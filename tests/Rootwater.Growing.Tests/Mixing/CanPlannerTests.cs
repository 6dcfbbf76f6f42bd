using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Mixing;

public sealed class CanPlannerTests
{
    [Fact]
    public void In_hard_water_most_of_the_acid_goes_in_before_phosphate_meets_its_calcium_and_the_rest_trims()
    {
        var outcome = Kitchen.Plan(Kitchen.Request(waters: [Kitchen.HardTap], vessels: [new Vessel("10 L can", 10)], groups: [Kitchen.Group("growing", Kitchen.Want(nitrogen: 80, ec: 900), plants: 20, millilitres: 400)],
            cupboard: [Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.NitricAcid]));

        var steps = outcome.Plan.ShouldNotBeNull().Cans.ShouldHaveSingleItem().Steps;
        TestContext.Current.TestOutputHelper!.WriteLine(Card(outcome));
        var early = steps.Single(step => step.Kind == MixStepKind.EarlyAcid);
        early.Number.ShouldBeLessThan(steps.Single(step => step.ProductId == Kitchen.MonopotassiumPhosphate.Product.Id).Number);
        steps[^1].Kind.ShouldBe(MixStepKind.Trim);
        steps[^1].ProductId.ShouldBe(early.ProductId);
        steps[^1].Amount.ShouldBeLessThan(early.Amount);
    }

    [Fact]
    public void No_can_sets_an_acid_against_a_base_where_one_of_them_will_do()
    {
        var outcome = Kitchen.Plan(Kitchen.Request(cupboard:
            [Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.CitricAcid, Kitchen.PotassiumHydroxide]));

        var used = outcome.Plan.ShouldNotBeNull().Cans.ShouldHaveSingleItem().Steps.Select(step => step.ProductId).ToHashSet();
        (used.Contains(Kitchen.CitricAcid.Product.Id) && used.Contains(Kitchen.PotassiumHydroxide.Product.Id)).ShouldBeFalse(Card(outcome));
        outcome.Unmet.ShouldBeEmpty();
    }

    [Fact]
    public void An_acid_that_microbes_eat_is_left_where_another_does_the_same()
    {
        var outcome = Kitchen.Plan(Kitchen.Request(waters: [Kitchen.HardTap], vessels: [new Vessel("10 L can", 10)], groups: [Kitchen.Group("growing", Kitchen.Want(nitrogen: 80, ec: 900), plants: 20, millilitres: 400)],
            cupboard: [Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.CitricAcid, Kitchen.NitricAcid]));

        var can = outcome.Plan.ShouldNotBeNull().Cans.ShouldHaveSingleItem();
        can.Steps.ShouldNotContain(step => step.ProductId == Kitchen.CitricAcid.Product.Id, Card(outcome));
        can.AgeLimit.ShouldBeNull();
    }

    [Fact]
    public void A_plain_can_meets_every_band()
    {
        var outcome = Kitchen.Plan(Kitchen.Request());

        var can = outcome.Plan.ShouldNotBeNull().Cans.ShouldHaveSingleItem();
        TestContext.Current.TestOutputHelper!.WriteLine(Card(outcome));
        can.Serves.SelectMany(served => served.Bands).ShouldAllBe(band => band.Met);
    }

    internal static string Card(PlanOutcome outcome) => outcome.Plan is not { } plan ? "no plan: " + string.Join("; ", outcome.Unmet) : string.Join(Environment.NewLine, plan.Cans.SelectMany(can => new[]
    {
        $"can {can.Letter} {can.Vessel} {can.Litres} L EC {can.EcMicrosiemensPerCm} pH {can.PH} later {can.PHAfterADay:0.00} {can.PHInBalanceWithAir:0.00} alk {can.AlkalinityMilliequivalentsPerLitre:0.00} {can.ClosestMineral} {can.WorstSaturationIndex:0.00} gap {plan.RelativeGap:0.000} took {plan.Took.TotalMilliseconds:0} ms",
    }.Concat(can.Steps.Select(step => $"  {step.Number} {step.Kind} {step.What} {step.Amount} {step.Unit} EC {step.EcMicrosiemensPerCm.Value:0} pH {step.PH.Low:0.00} {step.PH.Value:0.00} {step.PH.High:0.00} {step.ClosestMineral} {step.WorstSaturationIndex:0.0}: {step.Reason}"))
    .Concat(can.Serves.SelectMany(served => served.Bands.Select(band => $"    {band.What} {band.Value:0.0} [{band.Band.Low} {band.Band.Ideal} {band.Band.High}] {(band.Met ? "met" : "NOT MET")}")))))
        + string.Concat(outcome.Unmet.Select(unmet => Environment.NewLine + unmet));
}
