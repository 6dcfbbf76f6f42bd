using Rootwater.Growing.Climate;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Climate;

public sealed class AirDaySummaryTests
{
    private static readonly List<AirMoment> s_twoHalves = [.. Enumerable.Range(0, 48).Select(i => new AirMoment(i * 30, i < 24 ? 18 : 25, i < 24 ? 0.82 : 0.54, null, i < 24 ? 0 : 5400))];

    [Fact]
    public void The_deficit_of_a_day_is_the_mean_of_its_deficits()
    {
        // Half a day at 18 °C and 82 %, half at 25 °C and 54 %: e° of FAO-56 eq. 11 times (1 - RH), averaged.
        var by18 = VapourPressure.SaturationKilopascals(18) * 0.18;
        var by25 = VapourPressure.SaturationKilopascals(25) * 0.46;
        AirDaySummary.Of(s_twoHalves, Lamp.Sun).MeanVpdKilopascals!.Value.ShouldBe((by18 + by25) / 2, 1e-9);
    }

    [Fact]
    public void Lux_becomes_photons_by_the_lamp_and_measured_photons_win()
    {
        var lux = AirDaySummary.Of(s_twoHalves, Lamp.Sun).DailyLightMoles!.Value;
        lux.ShouldBe(DailyLight.Steady(100, 12), 0.1); // 5400 lx of sun are 100 µmol; the edge at noon is cut off straight.
        AirDaySummary.Of(s_twoHalves, Lamp.Named("white LED")!).DailyLightMoles!.Value.ShouldBe(lux * 54 / 66.7, 1e-9);
        AirDaySummary.Of([.. s_twoHalves.Select(moment => moment with { Ppfd = 10 })], Lamp.Sun).DailyLightMoles!.Value.ShouldBe(DailyLight.Steady(10, 24), 1e-9);
    }

    [Fact]
    public void A_day_that_was_half_read_has_no_integral_but_its_temperatures()
    {
        var half = AirDaySummary.Of([.. s_twoHalves.Take(24)], Lamp.Sun);
        half.DailyLightMoles.ShouldBeNull();
        half.LowCelsius.ShouldBe(18);
        half.HighCelsius.ShouldBe(18);
    }

    [Fact]
    public void A_gap_is_not_bridged() =>
        DailyLight.Integral([(0, 100), (60, 100), (900, 100), (1439, 100)]).ShouldBeNull();

    [Fact]
    public void A_logger_that_reads_every_four_hours_gives_a_rough_sum_where_the_fine_one_gives_none()
    {
        (int, double)[] sparse = [(0, 0), (240, 0), (480, 150), (720, 300), (960, 150), (1200, 0)];
        DailyLight.Integral(sparse).ShouldBeNull();
        DailyLight.Rough(sparse)!.Value.ShouldBe(DailyLight.Steady(100, 24), 1e-9);
        DailyLight.Rough(sparse[..4]).ShouldBeNull();
        DailyLight.Rough([]).ShouldBeNull();
    }

    [Fact]
    public void What_was_not_read_stays_unknown()
    {
        var nothing = AirDaySummary.Of([new AirMoment(0, null, 0.5, null, null)], Lamp.Sun);
        nothing.ShouldBe(new AirDaySummary(null, null, null, null, null));
    }
}
