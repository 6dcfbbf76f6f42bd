using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>Which pour keeps roots in their windows, under what is not known.</summary>
public sealed class PourSearchTests
{
    private static ServedPot Pot(int id, Band window, params PotParameters[] draws)
    {
        var setup = Samples.WickingClay with { Id = new Guid(id, 0, 0x7000, [0x80, 0, 0, 0, 0, 0, 0, 2]) };
        return new ServedPot { Setup = setup, Climate = Samples.Room, Before = PotState.FilledWith(setup, Samples.MixedFeed), Draws = draws.Length == 0 ? [PotParameters.Default] : draws, RootPH = window };
    }

    private static GroupPourRequest Group(params ServedPot[] pots) => new()
    {
        Pots = pots,
        FeedMolPerKgWater = Samples.MixedFeed,
        WaterMolPerKgWater = Samples.Rain,
        Feeds = 3,
        PourPH = [5.0, 5.6, 6.2, 6.8],
        Strengths = [1, 0.5],
        LeachEvery = [0, 2],
    };

    [Fact]
    public void A_pot_that_lifts_pH_faster_is_poured_lower()
    {
        var window = new Band(6.0, 6.3, 6.6);
        double Best(double baseRate) => PourSearch.Best(Group(Pot(1, window, PotParameters.Default with { ExchangeFactor = baseRate })) with { Strengths = [1], LeachEvery = [0] }, cancellation: TestContext.Current.CancellationToken).PH;
        Best(3).ShouldBeLessThanOrEqualTo(Best(0.3));
    }

    [Fact]
    public void A_shared_can_never_beats_a_can_of_its_own_and_the_loss_is_told()
    {
        var advice = PourSearch.Best(Group(Pot(1, new Band(5.2, 5.5, 5.9)), Pot(2, new Band(6.3, 6.6, 7.0))), cancellation: TestContext.Current.CancellationToken);
        advice.Members.ShouldAllBe(member => member.Own.ShareInWindow.Value >= member.Shared.ShareInWindow.Value - 0.011);
        advice.MeanDaysAWeekLost.ShouldBeGreaterThan(0.3, "windows that do not meet cannot share a can for nothing");
        advice.Words.ShouldContain(words => words.Contains("days a week"));
    }

    [Fact]
    public void Salt_that_builds_up_asks_for_a_leach()
    {
        var salty = Pot(1, new Band(4.5, 6, 8), PotParameters.Default with { WaterLossFactor = 3 }) with { MostEcMicrosiemensPerCm = 1500 };
        var advice = PourSearch.Best(Group(salty) with { Strengths = [1], PourPH = [5.8], Feeds = 8, LeachEvery = [0, 2] }, cancellation: TestContext.Current.CancellationToken);
        advice.Members[0].Own.LeachEvery.ShouldBe(2);
    }

    [Fact]
    public void What_is_not_known_shows_as_a_chance_of_leaving()
    {
        var window = new Band(5.6, 6.2, 6.8);
        PotParameters[] unsure = [.. new[] { 0.2, 0.6, 1.0, 2.0, 5.0 }.Select(rate => PotParameters.Default with { ExchangeFactor = rate })];
        var sure = PourSearch.Best(Group(Pot(1, window)), cancellation: TestContext.Current.CancellationToken).Members[0].Own;
        var spread = PourSearch.Best(Group(Pot(1, window, unsure)), cancellation: TestContext.Current.CancellationToken).Members[0].Own;
        (spread.ShareInWindow.High - spread.ShareInWindow.Low).ShouldBeGreaterThan(0.02);
        (sure.ShareInWindow.High - sure.ShareInWindow.Low).ShouldBe(0);
        spread.ChanceOfLeaving.ShouldBeInRange(0, 1);
    }

    [Fact]
    public void What_cannot_be_asked_is_refused_by_name()
    {
        Should.Throw<PotInputException>(() => PourSearch.Best(Group(), cancellation: TestContext.Current.CancellationToken)).Field.ShouldBe("pots");
        Should.Throw<PotInputException>(() => PourSearch.Best(Group(Pot(1, new Band(5, 6, 7))) with { PourPH = [65] }, cancellation: TestContext.Current.CancellationToken)).Field.ShouldBe("pourPH");
    }
}
