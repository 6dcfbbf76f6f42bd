using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

public sealed class PotForecasterTests
{
    private static PotForecastRequest Request(ComponentAmounts? feed = null, PotSetup? setup = null, double days = 7, params PotEvent[] events)
    {
        setup ??= Samples.WickingClay;
        return new PotForecastRequest
        {
            Setup = setup,
            Climate = Samples.Room,
            Start = PotState.FilledWith(setup, feed ?? Samples.MixedFeed.PouredAt(5.8)),
            Events = events,
            Days = days,
            RootPH = new Band(6, 6.3, 6.6),
        };
    }

    [Fact]
    public void Bands_hold_the_middle_and_widen_with_time()
    {
        var forecast = PotForecaster.Run(Request());
        foreach (var point in forecast.Points)
        {
            point.Medium.PH.Low.ShouldBeLessThanOrEqualTo(point.Medium.PH.Value);
            point.Medium.PH.High.ShouldBeGreaterThanOrEqualTo(point.Medium.PH.Value);
            point.Medium.EcMicrosiemensPerCm.Low.ShouldBeLessThanOrEqualTo(point.Medium.EcMicrosiemensPerCm.Value);
        }

        static double Width(Expected value) => value.High - value.Low;
        Width(forecast.Points[0].Medium.PH).ShouldBe(0, 1e-9);
        Width(forecast.Points[^1].Medium.PH).ShouldBeGreaterThan(0.2);
        forecast.ShareInWindow.Low.ShouldBeInRange(0, forecast.ShareInWindow.Value);
        forecast.ShareInWindow.High.ShouldBeInRange(forecast.ShareInWindow.Value, 1);
    }

    [Fact]
    public void The_middle_is_the_simulator_s_own_run()
    {
        var request = Request();
        var forecast = PotForecaster.Run(request);
        var run = PotSimulator.Run(request.Parameters, request.Setup, request.Climate, request.Start, request.Events, request.Days * 24, 6);
        forecast.Points.Count.ShouldBe(run.Samples.Count);
        foreach (var (point, sample) in forecast.Points.Zip(run.Samples))
        {
            point.Medium.PH.Value.ShouldBe(sample.Medium.PH, 1e-12);
            point.Medium.EcMicrosiemensPerCm.Value.ShouldBe(sample.Medium.EcMicrosiemensPerCm, 1e-9);
        }
    }

    [Fact]
    public void Bands_drawn_straight_between_their_solves_agree_with_bands_solved_at_every_point()
    {
        var request = Request(days: 14, events: new PotEvent(PotEventKind.TopUp, 7 * 24, 0.1, Samples.MixedFeed));
        var forecast = PotForecaster.Run(request);
        var middle = Run(request.Parameters);
        var variants = Uncertain.All.SelectMany(one => new[] { Run(one.Low(request.Parameters)), Run(one.High(request.Parameters)) }).ToList();
        for (var i = 0; i < forecast.Points.Count; i++)
        {
            var deviations = variants.Select(run => run.Samples[i].Medium.PH - middle.Samples[i].Medium.PH).ToList();
            var up = Math.Sqrt(deviations.Where(deviation => deviation > 0).Sum(deviation => deviation * deviation));
            var down = Math.Sqrt(deviations.Where(deviation => deviation < 0).Sum(deviation => deviation * deviation));

            // In the first day the straight line cuts a corner of 0.1; the band itself is wider than that.
            var tolerance = forecast.Points[i].Hours < 24 || forecast.Points[i].Hours is > 168 and < 192 ? 0.1 : 0.05;
            (forecast.Points[i].Medium.PH.High - forecast.Points[i].Medium.PH.Value).ShouldBe(up, tolerance, $"hour {forecast.Points[i].Hours}");
            (forecast.Points[i].Medium.PH.Value - forecast.Points[i].Medium.PH.Low).ShouldBe(down, tolerance, $"hour {forecast.Points[i].Hours}");
        }

        PotTrajectory Run(PotParameters parameters) => PotSimulator.Run(parameters, request.Setup, request.Climate, request.Start, request.Events, request.Days * 24, 12);
    }

    [Fact]
    public void A_top_up_shows_before_and_after_and_its_pH_comes_from_the_mixed_totals_not_from_a_mean_of_pH()
    {
        var hard = Samples.Feed(("Ca(HCO3)2", 1.5), ("MgSO4", 0.3));
        var run = Samples.Run(Samples.MixedFeed.PouredAt(5.5), events: new PotEvent(PotEventKind.TopUp, 72, 0.1, hard));
        var before = run.Samples.Single(sample => sample.Hours == 72 && !sample.AfterEvent);
        var after = run.Samples.Single(sample => sample.AfterEvent);
        var solved = EquilibriumSolver.Solve(after.Reservoir!.Water.InMolPerKgWater(), new SolveConditions { Temperature = Temperature.FromCelsius(run.Loss.MediumCelsius) }).Required();
        after.Reservoir.PH.ShouldBe(solved.PH, 1e-9);

        var litres = before.Reservoir!.Water.Litres;
        var meanOfPH = (before.Reservoir.PH * litres + hard.PH() * 0.1) / (litres + 0.1);
        Math.Abs(after.Reservoir.PH - meanOfPH).ShouldBeGreaterThan(0.1);
    }

    [Fact]
    public void An_overfull_reservoir_spills()
    {
        var run = Samples.Run(Samples.MixedFeed.PouredAt(5.8), events: new PotEvent(PotEventKind.TopUp, 24, 1, Samples.Rain));
        run.Samples.Single(sample => sample.AfterEvent).Reservoir!.Water.Litres.ShouldBe(0.35, 1e-12);
        run.Budget.RunOffLitres.ShouldBeGreaterThan(0.9);
    }

    [Fact]
    public void Refilled_pots_are_close_to_the_new_feed()
    {
        var feed = Samples.MixedFeed.PouredAt(5.8);
        var run = Samples.Run(Samples.NitrateFeed.Scaled(2), days: 14, events: new PotEvent(PotEventKind.Refill, 7 * 24, 0.6, feed));
        var after = run.Samples.Single(sample => sample.AfterEvent);
        after.Reservoir!.EcMicrosiemensPerCm.ShouldBeInRange(776 * 0.9, 776 * 1.5);
        after.Medium.EcMicrosiemensPerCm.ShouldBeLessThan(1.2 * 776);
    }

    [Fact]
    public void A_small_reservoir_in_dry_air_runs_dry_and_the_words_say_so()
    {
        var request = Request(setup: Samples.WickingClay with { ReservoirLitres = 0.05 }) with { Climate = new PotClimate { RelativeHumidityPercent = 35, AirTemperatureCelsius = 26 } };
        var forecast = PotForecaster.Run(request);
        forecast.ReservoirEmptyDay.ShouldNotBeNull().ShouldBeLessThan(4);
        forecast.Points[^1].Reservoir.ShouldBeNull();
        forecast.Notes.ShouldContain(note => note.Contains("runs dry", StringComparison.Ordinal));
        forecast.Points[^1].Medium.EcMicrosiemensPerCm.Value.ShouldBeGreaterThan(forecast.Points[0].Medium.EcMicrosiemensPerCm.Value);
    }

    [Fact]
    public void A_strong_feed_that_creeps_up_calls_for_a_leach()
    {
        var strong = Samples.MixedFeed.Scaled(1.7).PouredAt(5.8);
        var forecast = PotForecaster.Run(Request(strong, Samples.WickingClay with { LeafAreaSquareMetres = 0.01 }));
        forecast.EcCreepMicrosiemensPerCmPerWeek.Value.ShouldBeGreaterThan(50);
        var due = forecast.LeachDueDay.ShouldNotBeNull();
        forecast.LeachDueEarliestDay.ShouldNotBeNull().ShouldBeLessThanOrEqualTo(due);
    }

    [Fact]
    public void Share_creep_leach_and_notes_go_by_the_bands_that_are_told()
    {
        var request = Request(days: 7);
        var own = PotForecaster.Run(request);
        static Expected Times(Expected value, double by) => new(by * value.Low, by * value.Value, by * value.High);
        var told = PotForecaster.Run(request with { Told = new ToldBands((_, _) => new Expected(7, 8, 9), (hours, ec) => Times(ec, 1 + hours / 168)) });

        told.Points.ShouldAllBe(point => point.Medium.PH == new Expected(7, 8, 9));
        told.ShareInWindow.ShouldBe(new Expected(0, 0, 0));
        told.Points[^1].Medium.EcMicrosiemensPerCm.ShouldBe(Times(own.Points[^1].Medium.EcMicrosiemensPerCm, 2));
        told.EcCreepMicrosiemensPerCmPerWeek.Value.ShouldBe(2 * own.Points[^1].Medium.EcMicrosiemensPerCm.Value - own.Points[0].Medium.EcMicrosiemensPerCm.Value, 1e-6);
        told.LeachDueDay.ShouldNotBeNull().ShouldBeLessThan(own.LeachDueDay ?? double.PositiveInfinity);
        told.Notes.ShouldContain(note => note.Contains("The model's own bands"));
        // What is not told stays: the pot itself is the same.
        told.End.ShouldBe(own.End);
        told.Points[^1].Reservoir!.PH.ShouldBe(own.Points[^1].Reservoir!.PH);
    }

    [Fact]
    public void Pots_without_a_reservoir_have_one_water()
    {
        var pot = Samples.WickingClay with { Culture = Culture.Basket, ReservoirLitres = 0, Medium = Media.ById("bark-mix") };
        var forecast = PotForecaster.Run(Request(setup: pot, events: new PotEvent(PotEventKind.TopUp, 72, 0.3, Samples.Rain)));
        forecast.Points.ShouldAllBe(point => point.Reservoir == null);
        forecast.ReservoirEmptyDay.ShouldBeNull();
        forecast.Budget.RunOffLitres.ShouldBeGreaterThan(0);
    }

    [Fact]
    public void Leaving_chelated_traces_out_of_the_solve_changes_neither_pH_nor_EC_by_what_a_pen_shows()
    {
        var traces = Samples.Feed(("NaFeEDTA", 0.02), ("MnSO4", 0.005), ("ZnSO4", 0.001), ("CuSO4", 0.0003), ("H3BO3", 0.02), ("Na2MoO4", 0.0002));
        var feed = Samples.MixedFeed.Plus(traces).PouredAt(5.8);
        var run = Samples.Run(feed, days: 1);
        var full = EquilibriumSolver.Solve(feed, new SolveConditions { Temperature = Temperature.FromCelsius(run.Loss.MediumCelsius) }).Required();
        run.Samples[0].Medium.PH.ShouldBe(full.PH, 0.005);
        run.Samples[0].Medium.EcMicrosiemensPerCm.ShouldBe(full.ConductivityAt25MicrosiemensPerCm(), 0.005 * run.Samples[0].Medium.EcMicrosiemensPerCm);
    }

    [Fact]
    public void Bad_input_names_the_field_the_value_and_what_would_do()
    {
        void Refuses(PotForecastRequest request, string field, string value)
        {
            var problem = Should.Throw<PotInputException>(() => PotForecaster.Run(request));
            problem.Field.ShouldBe(field);
            problem.Message.ShouldContain(value);
        }

        Refuses(Request() with { Days = 0 }, "days", "0");
        Refuses(Request() with { RootPH = new Band(6.6, 6.3, 6.0) }, "window", "6.6");
        Refuses(Request() with { Climate = new PotClimate { RelativeHumidityPercent = 120 } }, "climate.relativeHumidityPercent", "120");
        Refuses(Request(events: new PotEvent(PotEventKind.TopUp, 500, 0.1, Samples.Rain)), "events[0].hour", "500");
        Refuses(Request(events: new PotEvent(PotEventKind.TopUp, 5, -1, Samples.Rain)), "events[0].litres", "-1");
        Refuses(Request(events: new PotEvent(PotEventKind.TopUp, 5, 1, ComponentAmounts.From((Component.Sodium, 0.001)))), "events[0]", "0.001");
        Refuses(Request(Samples.Feed(("KNO3", 2000))), "start.medium.Potassium", "2");

        var basket = Samples.WickingClay with { Culture = Culture.Basket };
        Should.Throw<PotInputException>(() => PotForecaster.Run(Request(setup: basket))).Field.ShouldBe("pot.reservoirLitres");
    }
}
