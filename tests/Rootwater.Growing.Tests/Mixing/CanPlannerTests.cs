using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Mixing;

public sealed class CanPlannerTests
{
    [Fact]
    public void A_plain_can_meets_every_band_with_its_acid_split_into_early_and_trim()
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
