using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots.References;

/// <summary>
/// Common practice, no source: a feed poured at pH 5.8 into clay that sits near pH 8 by itself is at 6 to 6.5 by the time roots take it up.
/// The cases here are the table of docs/science/pots.md: where the default medium gives this, and where it does not.
/// </summary>
public sealed class ClayPractice
{
    /// <summary>Clay alone: no plant, air that takes no water, outdoor carbon dioxide.</summary>
    private static readonly PotClimate s_still = Samples.Room with { RelativeHumidityPercent = 100, Log10PotPCO2Atmospheres = -3.4 };

    [Fact]
    public void Clay_alone_in_nearly_pure_water_rests_near_pH_8()
    {
        var pot = Samples.WickingClay with { Culture = Culture.OpenMix, ReservoirLitres = 0, LeafAreaSquareMetres = 0 };
        var run = Samples.Run(Samples.Feed(("NaCl", 0.001)), pot, s_still, days: 100, lookEveryHours: 24);
        run.PHOnDay(100).ShouldBe(8.0, 0.1);

        // And it stays there: the last month moves it by less than a tenth.
        run.PHOnDay(70).ShouldBe(run.PHOnDay(100), 0.1);
    }

    [Fact]
    public void Under_more_carbon_dioxide_it_rests_lower()
    {
        var pot = Samples.WickingClay with { Culture = Culture.OpenMix, ReservoirLitres = 0, LeafAreaSquareMetres = 0 };
        var run = Samples.Run(Samples.Feed(("NaCl", 0.001)), pot, s_still with { Log10PotPCO2Atmospheres = -2.4 }, days: 100, lookEveryHours: 24);

        // The law of calcite: two thirds of a unit for each tenfold.
        run.PHOnDay(100).ShouldBe(8.0 - 0.667, 0.15);
    }

    [Fact]
    public void A_mixed_feed_poured_at_5_8_is_at_6_to_6_5_from_the_first_day_to_the_fourth()
    {
        // 74 mg/L N, 13 % of it ammonium; alkalinity 0.03 meq/L as poured; 1 L clay holding 150 mL over 350 mL; 10^-3.0 atm CO2.
        var run = Samples.Run(Samples.MixedFeed.PouredAt(5.8));
        for (var day = 1; day <= 3; day++)
        {
            run.PHOnDay(day).ShouldBeInRange(6.0 - 0.05, 6.5);
        }

        run.PHOnDay(7).ShouldBeInRange(6.5, 7.0);
    }

    [Fact]
    public void It_does_not_hold_for_a_feed_with_all_nitrogen_as_nitrate()
    {
        var run = Samples.Run(Samples.NitrateFeed.PouredAt(5.8));
        run.PHOnDay(1).ShouldBeGreaterThan(6.5);
        run.PHOnDay(7).ShouldBeGreaterThan(7.3);
    }

    [Fact]
    public void It_does_not_hold_in_new_clay()
    {
        var run = Samples.Run(Samples.MixedFeed.PouredAt(5.8), Samples.WickingClay with { Medium = Media.ById("expanded-clay-new") });
        run.PHOnDay(2).ShouldBeGreaterThan(7);
    }

    [Fact]
    public void Nor_in_bark_which_stays_below_6()
    {
        var run = Samples.Run(Samples.MixedFeed.PouredAt(5.8), Samples.WickingClay with { Medium = Media.ById("bark-mix"), Culture = Culture.OpenMix, ReservoirLitres = 0 });
        run.PHOnDay(3).ShouldBeLessThan(5.6);
    }
}
