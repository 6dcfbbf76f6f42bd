using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>A record through the seasons: what the air does is not the pot's doing.</summary>
public sealed class SeasonsTests
{
    private static readonly PotClimate s_winter = new() { AirTemperatureCelsius = 15, RelativeHumidityPercent = 85, LightMolesPerM2Day = 1 };
    private static readonly PotClimate s_summer = new() { AirTemperatureCelsius = 26, RelativeHumidityPercent = 55, LightMolesPerM2Day = 8 };

    // Levels of a pot that is as its data say, read twice a week through a summer and a winter; refilled every week.
    private static PotHistory Read()
    {
        var setup = Samples.WickingClay;
        var feed = Samples.MixedFeed.PouredAt(5.8);
        var history = new PotHistory
        {
            Setup = setup,
            Climate = s_winter,
            Air = [new AirSpell(0, s_summer), new AirSpell(24 * 60, s_winter)],
            Start = PotState.FilledWith(setup, feed),
            Events = [.. Enumerable.Range(1, 16).Select(week => new PotEvent(PotEventKind.Refill, week * 168, setup.ReservoirLitres + setup.HeldLitres, feed))],
        };
        var asked = Enumerable.Range(0, 34).Select(i => new PotReading(84 * i + 80, ReadingKind.ReservoirLitres, 0)).ToList();
        var predicted = new double[asked.Count];
        new PotTrace(history, 0, history.Start, asked[^1].Hours, asked).Predict(new double[PotTraits.Count], predicted);
        return history with { Readings = [.. asked.Select((reading, i) => reading with { Value = predicted[i] })] };
    }

    [Fact]
    public void Water_loss_is_the_pots_where_the_air_of_each_time_is_known()
    {
        var history = Read();

        var known = PotCalibration.Fit([history], cancellation: TestContext.Current.CancellationToken).Of(history.Id);
        known[PotTrait.WaterLoss].Value.Value.ShouldBe(1, 0.05);
        known.Changes.ShouldBeEmpty();

        // With the winter's air throughout, the summer's thirst is taken for the pot's, and its end for a change of the pot.
        var once = history with { Air = [] };
        var change = PotCalibration.Fit([once], cancellation: TestContext.Current.CancellationToken).Of(once.Id).Changes.ShouldHaveSingleItem();
        change.Traits.Single(moved => moved.Trait == PotTrait.WaterLoss).Before.Value.ShouldBeGreaterThan(1.3);
    }

    [Fact]
    public void What_lives_goes_as_stated_at_21_degrees_and_faster_in_warmth_and_light()
    {
        var stated = PotParameters.Default;
        stated.PaceByWarmthAndLight(new PotClimate()).ShouldBe(1, 1e-12);
        stated.PaceByWarmthAndLight(new PotClimate { LightMolesPerM2Day = stated.StatedAtMolesPerM2Day }).ShouldBe(1, 1e-12);
        stated.PaceByWarmth(s_summer).ShouldBe(Math.Pow(2, 0.5), 1e-12);
        stated.PaceByWarmthAndLight(s_summer).ShouldBeGreaterThan(4 * stated.PaceByWarmthAndLight(s_winter));
        PotClimate.UsualLog10PotPCO2(21).ShouldBe(-3, 1e-9);
        PotClimate.UsualLog10PotPCO2(31).ShouldBe(Math.Log10(2e-3 - Math.Pow(10, -3.4)), 1e-9);
    }

    [Fact]
    public void Only_grains_that_stand_in_a_reservoir_give_it_base() =>
        Media.All.ShouldAllBe(medium => medium.GrainsInReservoirShare > 0 == medium.Id.StartsWith("expanded-clay", StringComparison.Ordinal));
}
