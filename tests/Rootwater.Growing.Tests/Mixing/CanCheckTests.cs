using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Mixing;

public sealed class CanCheckTests
{
    private static readonly PlanRequest s_request = Kitchen.Request(cupboard:
        [Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.PhosphoricAcid, Kitchen.PotassiumHydroxide],
        groups: [Kitchen.Group("growing", Kitchen.Want(), plants: 16)]) with
    { Tools = new Tools { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.01 } };

    private static readonly Lazy<CanPlan> s_can = new(() => Kitchen.Plan(s_request).Plan!.Cans[0]);

    private static readonly RepairMeans s_means = new() { Cupboard = s_request.Cupboard, Waters = s_request.Waters, Tools = s_request.Tools, VesselLitres = 5 };

    [Fact]
    public void Readings_as_expected_agree_and_need_no_repair()
    {
        var can = s_can.Value;

        var verdict = CanCheck.Judge(can, s_request.Tools, can.EcOnPenMicrosiemensPerCm, can.PH.Value);

        verdict.Agrees.ShouldBeTrue();
        verdict.CheckFirst.ShouldBeEmpty();
        CanRepair.Offer(can, s_means, can.EcOnPenMicrosiemensPerCm, can.PH.Value).Additions.ShouldBeEmpty();
    }

    [Fact]
    public void A_weak_can_is_called_low_and_the_rinse_comes_before_the_volume_and_the_volume_before_the_standard()
    {
        var can = s_can.Value;

        var verdict = CanCheck.Judge(can, s_request.Tools, 0.8 * can.EcOnPenMicrosiemensPerCm, null);

        verdict.Agrees.ShouldBeFalse();
        verdict.Words.ShouldContain("20 % low");
        var order = new[] { "rinse", "grains", "mark", "1413" }.Select(word => verdict.CheckFirst.ToList().FindIndex(check => check.Contains(word, StringComparison.Ordinal))).ToList();
        order.ShouldAllBe(index => index >= 0);
        order.ShouldBe(order.Order());
    }

    [Fact]
    public void A_dose_left_out_is_named_by_the_gap_it_leaves()
    {
        var can = s_can.Value;
        var (dose, before) = can.Steps.Zip(can.Steps.Prepend(can.Steps[0])).Where(pair => pair.First.Kind == MixStepKind.Product)
            .MaxBy(pair => pair.First.EcMicrosiemensPerCm.Value - pair.Second.EcMicrosiemensPerCm.Value);
        var brings = dose.EcMicrosiemensPerCm.Value - before.EcMicrosiemensPerCm.Value;

        var verdict = CanCheck.Judge(can, s_request.Tools, can.EcOnPenMicrosiemensPerCm - brings, null);

        verdict.CheckFirst.ShouldContain(check => check.Contains($"step {dose.Number} ", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0.75, 0)]
    [InlineData(1.0, 0.9)]
    [InlineData(1.0, -1.2)]
    public void A_can_that_reads_wrong_is_brought_back_into_every_band_that_the_card_met(double strength, double phShift)
    {
        var can = s_can.Value;

        var repair = CanRepair.Offer(can, s_means, strength * can.EcOnPenMicrosiemensPerCm, can.PH.Value + phShift);

        TestContext.Current.TestOutputHelper!.WriteLine(repair.Words);
        repair.Additions.ShouldNotBeEmpty(repair.Words);
        var bands = can.Serves[0].Bands;
        bands.Single(band => band.What == "pH as poured").Band.Holds(repair.PH!.Value.Value).ShouldBeTrue();
        var factor = can.EcOnPenMicrosiemensPerCm / can.EcMicrosiemensPerCm.Value;
        bands.Single(band => band.What == "EC").Band.Holds(repair.EcMicrosiemensPerCm!.Value.Value / factor).ShouldBeTrue();
    }

    [Fact]
    public void A_can_too_strong_for_its_vessel_is_thinned_with_water_and_not_poured_away()
    {
        var can = s_can.Value;
        var tooStrong = 1.9 * can.EcOnPenMicrosiemensPerCm;

        CanRepair.Offer(can, s_means with { VesselLitres = can.Litres }, tooStrong, null).Words.ShouldContain("Pour nothing away");
        CanRepair.Offer(can, s_means with { VesselLitres = 3 * can.Litres }, tooStrong, null).Additions.ShouldContain(addition => addition.WaterId != null);
    }

    [Theory]
    [InlineData(-5.0, null)]
    [InlineData(30_000.0, null)]
    [InlineData(null, 15.0)]
    public void A_reading_no_pen_can_show_is_refused(double? ec, double? ph) =>
        Should.Throw<ArgumentOutOfRangeException>(() => CanCheck.Judge(s_can.Value, s_request.Tools, ec, ph)).Message.ShouldContain("must be");
}
