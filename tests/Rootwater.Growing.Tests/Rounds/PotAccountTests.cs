using CsCheck;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Rounds;

namespace Rootwater.Growing.Tests.Rounds;

public sealed class PotAccountTests
{
    private static readonly PotSetup s_setup = Shelf.Setup(Guid.CreateVersion7());
    private static readonly PotClimate s_climate = new();

    private static PotNow On(int day, params PotEntry[] entries) => PotAccount.On(s_setup, s_climate, entries, Shelf.Today.AddDays(day))!;

    private static PouredIn Fed(int day = 0, double litres = 0.25, double ec = 600) => new(Shelf.Today.AddDays(day), RoundAct.Feed, litres, ec);

    [Fact]
    public void Nothing_poured_nothing_reckoned() => PotAccount.On(s_setup, s_climate, [new LevelSeen(Shelf.Today, 0.5)], Shelf.Today).ShouldBeNull();

    // The pot model with its full chemistry, run over the same days, is the check: another computation of the same pot. The account leaves out
    // what the medium gives and what becomes of ammonium; a quarter is what it may be off by.
    [Theory]
    [InlineData(21, 65, 7)]
    [InlineData(27, 50, 7)]
    [InlineData(16, 75, 12)]
    public void The_account_agrees_with_the_pot_model(double celsius, double humidity, int days)
    {
        var climate = new PotClimate { AirTemperatureCelsius = celsius, RelativeHumidityPercent = humidity };
        var feed = ComponentAmounts.From((Component.Calcium, 1.2e-3), (Component.Potassium, 1.5e-3), (Component.Magnesium, 0.5e-3), (Component.Nitrate, 4.5e-3), (Component.Sulfate, 0.1e-3), (Component.Phosphate, 0.2e-3), (Component.Hydrogen, 0.4e-3));
        var forecast = PotForecaster.Run(new PotForecastRequest { Setup = s_setup, Climate = climate, Start = PotState.FilledWith(s_setup, feed), Days = days, RootPH = new Band(5.8, 6.2, 6.6) });
        var poured = forecast.Points[0].Medium.EcMicrosiemensPerCm.Value;
        var now = PotAccount.On(s_setup, climate, [new PouredIn(Shelf.Today, RoundAct.Feed, 0.25, poured)], Shelf.Today.AddDays(days))!;
        var end = forecast.Points[^1];
        now.Level.Value.ShouldBe((end.Reservoir?.Litres ?? 0) / s_setup.ReservoirLitres, 0.02);
        (now.RootEcMicrosiemensPerCm.Value / end.Medium.EcMicrosiemensPerCm.Value).ShouldBe(1, 0.25, $"account {now.RootEcMicrosiemensPerCm.Value:0}, model {end.Medium.EcMicrosiemensPerCm.Value:0} µS/cm");
        now.DaysLeft.Value.ShouldBe(forecast.ReservoirEmptyDay!.Value - days, 0.5);
    }

    [Fact]
    public void Fed_again_and_again_without_a_leach_the_salt_creeps_up()
    {
        var fed = Enumerable.Range(0, 8).Select(week => (PotEntry)Fed(7 * week)).ToArray();
        On(56, fed).RootEcMicrosiemensPerCm.Value.ShouldBeGreaterThan(On(7, fed).RootEcMicrosiemensPerCm.Value * 1.2);
    }

    [Fact]
    public void A_leach_takes_the_salt_out() =>
        On(10, Fed(0, 0.25, 1500), new PouredIn(Shelf.Today.AddDays(9), RoundAct.Leach, 1, 100)).RootEcMicrosiemensPerCm.Value.ShouldBeLessThan(400);

    [Fact]
    public void What_was_read_replaces_what_was_reckoned()
    {
        var read = On(5, Fed(), new EcSeen(Shelf.Today.AddDays(5), 1400, false), new LevelSeen(Shelf.Today.AddDays(5), 0.4));
        read.Level.Value.ShouldBe(0.4, 1e-9);
        read.RootEcMicrosiemensPerCm.Value.ShouldBeInRange(1400, 1600);
        On(9, Fed(), new SeenFull(Shelf.Today.AddDays(9))).Level.Value.ShouldBeGreaterThanOrEqualTo(0.75);
    }

    [Fact]
    public void Bands_hold_the_middle_and_water_never_goes_below_nothing() => Gen.Select(Gen.Int[1, 60], Gen.Double[8, 36], Gen.Double[20, 95], Gen.Double[0, 0.3], Gen.Int[1, 20]).Sample((days, celsius, humidity, leaf, every) =>
    {
        var setup = Shelf.Setup(Guid.NewGuid(), leaf);
        var entries = Enumerable.Range(0, 60 / every + 1).Select(i => (PotEntry)Fed(i * every, 0.15)).Append(new EcSeen(Shelf.Today.AddDays(3), 0, false));
        var now = PotAccount.On(setup, new PotClimate { AirTemperatureCelsius = celsius, RelativeHumidityPercent = humidity }, entries, Shelf.Today.AddDays(days))!;
        foreach (var band in new[] { now.Level, now.DaysLeft, now.RootEcMicrosiemensPerCm })
        {
            band.Low.ShouldBeInRange(-1e-9, band.Value + 1e-9);
            band.High.ShouldBeGreaterThanOrEqualTo(band.Value - 1e-9);
            double.IsFinite(band.High).ShouldBeTrue();
        }

        now.Level.High.ShouldBeLessThanOrEqualTo(1 + 1e-9);
        now.RoomLitres.ShouldBeInRange(-1e-9, setup.ReservoirLitres + setup.HeldLitres);
    }, iter: 300);
}
