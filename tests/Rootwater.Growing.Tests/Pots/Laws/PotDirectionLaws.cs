using CsCheck;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots.Laws;

/// <summary>What must rise or fall with what, and what must not matter.</summary>
public sealed class PotDirectionLaws
{
    private static readonly Gen<(ComponentAmounts Feed, PotSetup Pot, PotClimate Climate)> s_case =
        Gen.Select(Gen.Double[0.2, 2], Gen.Double[0.2, 3], Gen.Double[0, 1], Gen.Double[0.05, 1], Gen.Double[5.2, 6.8], Gen.Double[0.4, 2], Gen.Double[40, 85], Gen.Double[0, 0.08])
            .Select((calcium, potassium, ammonium, phosphate, ph, litres, humidity, leaf) => (
                Samples.Feed(("Ca(NO3)2", calcium), ("KNO3", potassium), ("NH4NO3", ammonium), ("KH2PO4", phosphate), ("MgSO4", 0.5)).PouredAt(ph),
                Samples.WickingClay with { MediumLitres = litres, ReservoirLitres = litres * 0.35, LeafAreaSquareMetres = leaf },
                new PotClimate { RelativeHumidityPercent = humidity }));

    [Fact]
    public void More_base_in_the_medium_never_lowers_the_pH_at_the_root() => s_case.Sample(c =>
    {
        var less = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { BaseFactor = 0.5 }, lookEveryHours: 24);
        var more = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { BaseFactor = 2 }, lookEveryHours: 24);
        foreach (var (a, b) in less.Samples.Zip(more.Samples))
        {
            b.Medium.PH.ShouldBeGreaterThanOrEqualTo(a.Medium.PH - 0.002);
        }
    }, iter: 40);

    [Fact]
    public void Below_its_own_pH_a_medium_that_gives_base_faster_has_the_higher_pH() => s_case.Sample(c =>
    {
        var slow = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { ExchangeFactor = 0.5 }, lookEveryHours: 24);
        var fast = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { ExchangeFactor = 2 }, lookEveryHours: 24);
        // A nitrate feed and a large plant may lift the root above the clay's own pH, where the clay pulls it down.
        var rest = c.Pot.Medium.RestingPHAt(c.Climate.Log10PotPCO2Atmospheres);
        if (slow.Samples.Concat(fast.Samples).All(sample => sample.Medium.PH < rest))
        {
            fast.Samples[^1].Medium.PH.ShouldBeGreaterThan(slow.Samples[^1].Medium.PH);
        }
    }, iter: 40);

    [Fact]
    public void More_water_lost_to_the_air_leaves_a_higher_EC() => s_case.Sample(c =>
    {
        var moist = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { WaterLossFactor = 0.7 }, lookEveryHours: 24);
        var dry = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { WaterLossFactor = 1.4 }, lookEveryHours: 24);
        dry.Samples[^1].Medium.EcMicrosiemensPerCm.ShouldBeGreaterThan(moist.Samples[^1].Medium.EcMicrosiemensPerCm);
        (dry.End.Reservoir.Litres + dry.End.Medium.Litres).ShouldBeLessThan(moist.End.Reservoir.Litres + moist.End.Medium.Litres);
    }, iter: 40);

    [Fact]
    public void A_leach_from_above_lowers_EC_at_the_root_and_the_more_the_more_water_it_takes() => Gen.Select(s_case, Gen.Double[0.2, 3]).Sample((c, litres) =>
    {
        PotEvent Leach(double much) => new(PotEventKind.Leach, 5 * 24, much, Samples.Rain);
        var once = Samples.Run(c.Feed, c.Pot, c.Climate, lookEveryHours: 24, events: Leach(litres));
        var twice = Samples.Run(c.Feed, c.Pot, c.Climate, lookEveryHours: 24, events: Leach(2 * litres));
        var before = once.Samples.Single(sample => sample.Hours == 120 && !sample.AfterEvent).Medium.EcMicrosiemensPerCm;
        var after = once.Samples.Single(sample => sample.AfterEvent).Medium.EcMicrosiemensPerCm;
        after.ShouldBeLessThan(before);

        // A small pot is rinsed through long before three litres: then nothing is left to wash out and both hold plain water.
        twice.Samples.Single(sample => sample.AfterEvent).Medium.EcMicrosiemensPerCm.ShouldBeLessThanOrEqualTo(after + 1e-6);
    }, iter: 40);

    [Fact]
    public void Halving_the_step_and_looking_twice_as_often_changes_little() => s_case.Sample(c =>
    {
        var usual = Samples.Run(c.Feed, c.Pot, c.Climate);
        var finer = Samples.Run(c.Feed, c.Pot, c.Climate, PotParameters.Default with { StepHours = 0.75 }, lookEveryHours: 3);
        foreach (var sample in usual.Samples)
        {
            var other = finer.Samples.Single(one => one.Hours == sample.Hours);

            // Where a large plant uses the phosphate up, nothing buffers and an hour's difference shows as 0.08; elsewhere it is below 0.05.
            sample.Medium.PH.ShouldBe(other.Medium.PH, 0.1, $"hour {sample.Hours}");
            sample.Medium.EcMicrosiemensPerCm.ShouldBe(other.Medium.EcMicrosiemensPerCm, 0.005 * other.Medium.EcMicrosiemensPerCm);
        }
    }, iter: 30);

    [Fact]
    public void A_longer_forecast_begins_as_the_shorter_one() => s_case.Sample(c =>
    {
        var week = Samples.Run(c.Feed, c.Pot, c.Climate, days: 7);
        var fortnight = Samples.Run(c.Feed, c.Pot, c.Climate, days: 14);
        foreach (var (a, b) in week.Samples.Zip(fortnight.Samples))
        {
            b.Medium.PH.ShouldBe(a.Medium.PH, 1e-12);
            b.Medium.Water.Mol.ShouldBe(a.Medium.Water.Mol);
        }
    }, iter: 20);

    [Fact]
    public void Three_days_and_then_four_are_a_week() => s_case.Sample(c =>
    {
        var week = Samples.Run(c.Feed, c.Pot, c.Climate, days: 7);
        var three = Samples.Run(c.Feed, c.Pot, c.Climate, days: 3);
        var four = PotSimulator.Run(PotParameters.Default, c.Pot, c.Climate, three.End, [], 4 * 24);
        foreach (var component in Components.All)
        {
            four.End.Medium.Mol[component].ShouldBe(week.End.Medium.Mol[component], 1e-9 * Math.Abs(week.End.Medium.Mol[component]) + 1e-15, component.ToString());
        }
    }, iter: 20);

    [Fact]
    public void In_saturated_air_a_pot_twice_as_large_in_everything_has_the_same_pH() => s_case.Sample(c =>
    {
        var still = c.Climate with { RelativeHumidityPercent = 100 };
        var one = Samples.Run(c.Feed, c.Pot, still, lookEveryHours: 24);
        var two = Samples.Run(c.Feed, c.Pot with { MediumLitres = 2 * c.Pot.MediumLitres, ReservoirLitres = 2 * c.Pot.ReservoirLitres, LeafAreaSquareMetres = 2 * c.Pot.LeafAreaSquareMetres }, still, lookEveryHours: 24);
        foreach (var (a, b) in one.Samples.Zip(two.Samples))
        {
            b.Medium.PH.ShouldBe(a.Medium.PH, 1e-7);
        }
    }, iter: 20);

    [Fact]
    public void The_same_request_gives_the_same_answer_to_the_last_digit() => s_case.Sample(c =>
    {
        var once = Samples.Run(c.Feed, c.Pot, c.Climate);
        var again = Samples.Run(c.Feed, c.Pot, c.Climate);
        again.End.ShouldBe(once.End);
    }, iter: 20);
}
