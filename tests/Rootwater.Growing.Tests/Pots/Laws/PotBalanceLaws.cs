using CsCheck;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots.Laws;

/// <summary>Nothing comes from nowhere: mass of every component, charge and water are kept over any pot, feed and list of events.</summary>
public sealed class PotBalanceLaws
{
    private static readonly Gen<ComponentAmounts> s_water =
        Gen.Select(Gen.Double[0, 3], Gen.Double[0, 4], Gen.Double[0, 2], Gen.Double[0.01, 1.5], Gen.Double[0, 2], Gen.Double[0, 3], Gen.Double[0, 1], Gen.Double[0, 1])
            .Select((calcium, potassium, ammonium, phosphate, magnesium, bicarbonate, urea, citric) => Samples.Feed(
                ("Ca(NO3)2", calcium), ("KNO3", potassium), ("NH4NO3", ammonium), ("KH2PO4", phosphate), ("MgSO4", magnesium), ("NaHCO3", bicarbonate), ("CO(NH2)2", urea), ("C6H8O7", citric * 0.3)));

    private static readonly Gen<PotSetup> s_pot =
        Gen.Select(Gen.Int[0, Media.All.Count - 1], Gen.Enum<Culture>(), Gen.Double[0.1, 3], Gen.Double[0.05, 1], Gen.Double[0, 0.2])
            .Select((medium, culture, litres, reservoir, leaf) => Samples.WickingClay with
            {
                Medium = Media.All[medium],
                Culture = culture,
                MediumLitres = litres,
                ReservoirLitres = culture == Culture.Wicking ? reservoir : 0,
                LeafAreaSquareMetres = leaf,
            });

    private static readonly Gen<PotClimate> s_climate =
        Gen.Select(Gen.Double[10, 32], Gen.Double[25, 98], Gen.Double[0, 16], Gen.Double[-3.4, -2])
            .Select((celsius, humidity, light, carbon) => new PotClimate { AirTemperatureCelsius = celsius, RelativeHumidityPercent = humidity, LightHoursPerDay = light, Log10PotPCO2Atmospheres = carbon });

    private static readonly Gen<PotEvent[]> s_events =
        Gen.Select(Gen.Enum<PotEventKind>(), Gen.Double[0, 9 * 24], Gen.Double[0.01, 2], s_water)
            .Select((kind, hour, litres, water) => new PotEvent(kind, hour, litres, water)).Array[0, 4];

    private static readonly Gen<PotTrajectory> s_run = Gen.Select(s_pot, s_climate, s_water, s_events)
        .Select((pot, climate, feed, events) => PotSimulator.Run(PotParameters.Default, pot, climate, PotState.FilledWith(pot, feed), events, 9 * 24, 24));

    [Fact]
    public void Mass_of_every_component_is_kept() => s_run.Sample(run =>
    {
        var b = run.Budget;
        for (var i = 0; i < ComponentAmounts.Count; i++)
        {
            var c = (Component)i;
            var left = b.Start[c] + b.Added[c] + b.FromMedium[c] + b.FromAir[c] + b.Transformed[c] - b.TakenUp[c] - b.RunOff[c] - b.End[c];
            var turnover = Math.Abs(b.Start[c]) + Math.Abs(b.Added[c]) + Math.Abs(b.FromMedium[c]) + Math.Abs(b.FromAir[c]) + Math.Abs(b.Transformed[c]) + Math.Abs(b.TakenUp[c]) + Math.Abs(b.RunOff[c]);
            Math.Abs(left).ShouldBeLessThanOrEqualTo(1e-9 * turnover + 1e-18, c.ToString());
        }
    }, iter: 300);

    [Fact]
    public void Water_is_kept() => s_run.Sample(run =>
    {
        var b = run.Budget;
        (b.StartLitres + b.AddedLitres - b.EvaporatedLitres - b.TranspiredLitres - b.RunOffLitres).ShouldBe(b.EndLitres, 1e-9 * (b.StartLitres + b.AddedLitres));
    }, iter: 300);

    [Fact]
    public void Every_water_is_without_charge_and_nothing_is_negative() => s_run.Sample(run =>
    {
        foreach (var water in run.Samples.SelectMany(sample => new[] { sample.Medium.Water, sample.Reservoir?.Water }).OfType<PotWater>())
        {
            double charge = 0, charges = 0;
            foreach (var component in Components.All)
            {
                var amount = water.Mol[component];
                charge += amount * component.Charge();
                charges += Math.Abs(amount * component.Charge());
                if (component != Component.Hydrogen)
                {
                    amount.ShouldBeGreaterThanOrEqualTo(0, component.ToString());
                }
            }

            Math.Abs(charge).ShouldBeLessThanOrEqualTo(1e-9 * charges);
        }
    }, iter: 300);

    [Fact]
    public void What_microbes_turn_over_keeps_nitrogen_and_carbon() => s_run.Sample(run =>
    {
        var made = run.Budget.Transformed;
        (made[Component.Ammonium] + made[Component.Nitrate] + 2 * made[Component.Urea]).ShouldBe(0, 1e-15);

        // Citrate gives six carbonates, urea one.
        (made[Component.Carbonate] + 6 * made[Component.Citrate] + made[Component.Urea] + 2 * made[Component.Acetate]).ShouldBe(0, 1e-15);
    }, iter: 300);

    [Fact]
    public void The_medium_gives_as_much_base_as_it_loses() => s_run.Sample(
        run => run.Budget.FromMedium[Component.Hydrogen].ShouldBe((run.End.BaseHeldMeq - run.Start.BaseHeldMeq) / 1000, 1e-12), iter: 300);

    [Fact]
    public void The_pH_shown_is_the_pH_of_the_totals_shown() => s_run.Sample(run =>
    {
        foreach (var look in run.Samples.SelectMany(sample => new[] { sample.Medium, sample.Reservoir }).OfType<PotLook>())
        {
            var solved = EquilibriumSolver.Solve(look.Water.InMolPerKgWater(), new SolveConditions { Temperature = Temperature.FromCelsius(run.Loss.MediumCelsius) }).Required();

            // 0.005: carbon dioxide within 1 % of balance is taken as in balance.
            look.PH.ShouldBe(solved.PH, 0.006);
        }
    }, iter: 60);

    [Fact]
    public void Every_forecast_is_made_of_finite_numbers_in_their_order() => Gen.Select(s_pot, s_climate, s_water, s_events).Sample((pot, climate, feed, events) =>
    {
        var forecast = PotForecaster.Run(new PotForecastRequest
        {
            Setup = pot,
            Climate = climate,
            Start = PotState.FilledWith(pot, feed),
            Events = events,
            Days = 9,
            RootPH = new Band(5.8, 6.2, 6.6),
        });
        foreach (var value in forecast.Points.SelectMany(point => new[] { point.Medium, point.Reservoir }).OfType<ForecastWater>().SelectMany(water => new[] { water.PH, water.EcMicrosiemensPerCm }).Append(forecast.ShareInWindow))
        {
            double.IsFinite(value.Low + value.High).ShouldBeTrue();
            value.Value.ShouldBeInRange(value.Low, value.High);
        }

        forecast.Points.Zip(forecast.Points.Skip(1)).ShouldAllBe(pair => pair.First.Hours <= pair.Second.Hours);
    }, iter: 60);
}
