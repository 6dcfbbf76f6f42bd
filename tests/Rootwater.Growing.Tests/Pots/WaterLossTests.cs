using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

public sealed class WaterLossTests
{
    private static WaterLoss In(PotClimate climate, PotSetup? setup = null) => WaterLoss.Of(setup ?? Samples.WickingClay, climate, PotParameters.Default);

    [Fact]
    public void Evaporating_clay_is_a_degree_or_two_cooler_than_room_air()
    {
        var loss = In(new PotClimate { AirTemperatureCelsius = 21, RelativeHumidityPercent = 65 });
        (21 - loss.MediumCelsius).ShouldBeInRange(1, 2.5);
        loss.WetSurfaceCelsius.ShouldBeLessThan(loss.MediumCelsius);
    }

    [Fact]
    public void Nothing_is_lost_to_saturated_air()
    {
        var loss = In(new PotClimate { RelativeHumidityPercent = 100 });
        loss.LitresPerDay.ShouldBe(0, 1e-12);
        loss.MediumCelsius.ShouldBe(21, 1e-9);
    }

    [Fact]
    public void Drier_or_warmer_air_takes_more_and_cools_more()
    {
        var moist = In(new PotClimate { RelativeHumidityPercent = 80 });
        var dry = In(new PotClimate { RelativeHumidityPercent = 50 });
        var warm = In(new PotClimate { RelativeHumidityPercent = 80, AirTemperatureCelsius = 28 });
        dry.LitresPerDay.ShouldBeGreaterThan(moist.LitresPerDay);
        dry.MediumCelsius.ShouldBeLessThan(moist.MediumCelsius);
        warm.LitresPerDay.ShouldBeGreaterThan(moist.LitresPerDay);
    }

    [Fact]
    public void A_basket_and_moss_lose_more_than_a_pot_of_clay()
    {
        var pot = Samples.WickingClay with { Culture = Culture.OpenMix, ReservoirLitres = 0 };
        In(Samples.Room, pot with { Culture = Culture.Basket }).EvaporationLitresPerDay.ShouldBeGreaterThan(2 * In(Samples.Room, pot).EvaporationLitresPerDay);
        In(Samples.Room, pot with { Medium = Media.ById("sphagnum") }).EvaporationLitresPerDay.ShouldBeGreaterThan(In(Samples.Room, pot).EvaporationLitresPerDay);
    }

    [Fact]
    public void Transpiration_goes_with_leaf_area()
    {
        var one = In(Samples.Room);
        var two = In(Samples.Room, Samples.WickingClay with { LeafAreaSquareMetres = 0.06 });
        two.TranspirationLitresPerDay.ShouldBe(2 * one.TranspirationLitresPerDay, 1e-12);
        two.EvaporationLitresPerDay.ShouldBe(one.EvaporationLitresPerDay, 1e-12);
    }
}
