using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

public sealed class PotInverseTests
{
    private static readonly PourRequest s_request = new()
    {
        Setup = Samples.WickingClay,
        Climate = Samples.Room,
        FeedMolPerKgWater = Samples.MixedFeed,
        RootPH = new Band(6.0, 6.3, 6.6),
    };

    private static double ShareAt(PourRequest request, double ph)
    {
        var forecast = PotForecaster.Run(new PotForecastRequest
        {
            Setup = request.Setup,
            Climate = request.Climate,
            Start = PotState.FilledWith(request.Setup, PotInverse.AtPH(request.FeedMolPerKgWater, ph, celsius: request.Climate.AirTemperatureCelsius).Poured),
            Days = request.Days,
            RootPH = request.RootPH,
            PointEveryHours = 12,
        });
        return forecast.ShareInWindow.Value;
    }

    [Fact]
    public void No_other_starting_pH_on_a_grid_keeps_the_root_longer_in_its_window()
    {
        var request = s_request with { Strengths = [1] };
        var advice = PotInverse.BestPour(request);
        var best = ShareAt(request, advice.PourPH.Ideal);
        for (var ph = 5.0; ph <= 7.0; ph += 0.1)
        {
            ShareAt(request, ph).ShouldBeLessThanOrEqualTo(best + 0.01, $"pH {ph}");
        }

        advice.PourPH.Low.ShouldBeLessThanOrEqualTo(advice.PourPH.Ideal);
        advice.PourPH.High.ShouldBeGreaterThanOrEqualTo(advice.PourPH.Ideal);
    }

    [Fact]
    public void What_is_poured_has_the_pH_advised_and_says_what_it_took()
    {
        var advice = PotInverse.BestPour(s_request with { FeedMolPerKgWater = Samples.MixedFeed.Plus(Samples.Feed(("NaHCO3", 1.0))), Strengths = [1] });
        advice.PouredMolPerKgWater.PH(Samples.Room.AirTemperatureCelsius).ShouldBe(advice.PourPH.Ideal, 1e-4);

        // One meq/L of bicarbonate mostly neutralised.
        advice.AcidMmolPerLitre.ShouldBeInRange(0.4, 1.0);
        advice.BaseMmolPerLitre.ShouldBe(0);
    }

    [Fact]
    public void A_lower_window_is_poured_lower()
    {
        var low = PotInverse.BestPour(s_request with { RootPH = new Band(5.4, 5.6, 5.9), Strengths = [1] });
        var high = PotInverse.BestPour(s_request with { RootPH = new Band(6.2, 6.5, 6.9), Strengths = [1] });
        low.PourPH.Ideal.ShouldBeLessThan(high.PourPH.Ideal);
    }

    [Fact]
    public void A_pot_that_lifts_more_than_the_model_says_is_poured_lower()
    {
        var request = s_request with { Strengths = [1] };
        var lifts = new ToldBands((_, own) => new Expected(own.Low + 0.3, own.Value + 0.3, own.High + 0.3), (_, own) => own);
        var told = PotInverse.BestPour(request with { Told = lifts });

        // As a model without that error would say for a window as much lower.
        var asked = PotInverse.BestPour(request with { RootPH = new Band(5.7, 6.0, 6.3) });
        told.PourPH.ShouldBe(asked.PourPH);
        told.PourPH.Ideal.ShouldBeLessThan(PotInverse.BestPour(request).PourPH.Ideal);
        told.ShareInWindow.Value.ShouldBe(asked.ShareInWindow.Value, 0.05);
    }

    [Fact]
    public void A_feed_too_salty_for_the_root_is_thinned()
    {
        var advice = PotInverse.BestPour(s_request with { MostEcMicrosiemensPerCm = 700 });
        advice.Strength.ShouldBeLessThan(1);
        advice.Forecast.Points.ShouldAllBe(point => point.Medium.EcMicrosiemensPerCm.Value < 700);
    }

    [Fact]
    public void A_pot_with_a_past_is_refilled_and_remembers_it()
    {
        var before = Samples.Run(Samples.NitrateFeed.PouredAt(5.8), days: 10).End;
        var advice = PotInverse.BestPour(s_request with { Before = before, Strengths = [1] });
        var fresh = PotInverse.BestPour(s_request with { Strengths = [1] });

        // What a nitrate feed left behind lifts the root, so the next pour is lower than into a new pot.
        advice.PourPH.Ideal.ShouldBeLessThanOrEqualTo(fresh.PourPH.Ideal);
        advice.Forecast.Budget.RunOffLitres.ShouldBeGreaterThan(0);
    }

    [Fact]
    public void A_pH_that_the_acid_cannot_reach_is_refused()
    {
        var citricAsBase = Chemistry.Formulas.Formula.Parse("C6H8O7").ComponentsPerMole;
        Should.Throw<PotInputException>(() => PotInverse.AtPH(Samples.MixedFeed, 9, basePerMole: citricAsBase)).Field.ShouldBe("pourPH");
    }
}
