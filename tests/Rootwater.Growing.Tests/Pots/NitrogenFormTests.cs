using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

/// <summary>NO3 uptake raises, NH4 uptake and nitrification lower root-zone pH (supported in general plant physiology; Marschner, from memory).</summary>
public sealed class NitrogenFormTests
{
    // A medium that gives nothing, so that only the plant and its microbes act.
    private static readonly PotSetup s_inert = Samples.WickingClay with { Medium = Media.Default with { ExchangePerDay = 0, SaltMeqPerLitre = 0 } };
    private static readonly PotParameters s_noMicrobes = PotParameters.Default with { NitrificationPerDay = 0 };

    private static double AfterAWeek(ComponentAmounts feed, double leafSquareMetres, PotParameters parameters) =>
        Samples.Run(feed.PouredAt(6), s_inert with { LeafAreaSquareMetres = leafSquareMetres }, parameters: parameters).PHOnDay(7);

    [Fact]
    public void Feeding_on_nitrate_lifts_the_pH() =>
        AfterAWeek(Samples.NitrateFeed, 0.03, s_noMicrobes).ShouldBeGreaterThan(AfterAWeek(Samples.NitrateFeed, 0, s_noMicrobes) + 0.5);

    [Fact]
    public void Feeding_on_ammonium_lowers_it() =>
        AfterAWeek(Samples.AmmoniumFeed, 0.03, s_noMicrobes).ShouldBeLessThan(AfterAWeek(Samples.AmmoniumFeed, 0, s_noMicrobes) - 0.5);

    [Fact]
    public void Nitrification_lowers_it_without_any_plant() =>
        AfterAWeek(Samples.AmmoniumFeed, 0, PotParameters.Default).ShouldBeLessThan(AfterAWeek(Samples.AmmoniumFeed, 0, s_noMicrobes) - 0.3);

    [Fact]
    public void An_ammonium_feed_does_not_sour_without_end() =>
        AfterAWeek(Samples.AmmoniumFeed, 0.1, PotParameters.Default).ShouldBeGreaterThan(3.2);

    [Fact]
    public void Roots_never_take_more_than_there_is()
    {
        var weak = Samples.Feed(("Ca(NO3)2", 0.02), ("KH2PO4", 0.001));
        var run = Samples.Run(weak, s_inert with { LeafAreaSquareMetres = 1 }, days: 14);
        run.Budget.TakenUp[Component.Nitrate].ShouldBeLessThanOrEqualTo(run.Budget.Start[Component.Nitrate]);
        run.Budget.End[Component.Nitrate].ShouldBeGreaterThanOrEqualTo(0);
    }

    [Fact]
    public void Citric_acid_is_eaten_and_the_pH_comes_back()
    {
        var softened = Samples.Feed(("Ca(NO3)2", 1), ("KNO3", 1), ("NaHCO3", 1));
        var withCitric = PotInverse.AtPH(softened, 5.8, Chemistry.Formulas.Formula.Parse("C6H8O7").ComponentsPerMole).Poured;
        var withNitric = softened.PouredAt(5.8);
        var pot = s_inert with { LeafAreaSquareMetres = 0 };
        var citric = Samples.Run(withCitric, pot, parameters: s_noMicrobes, days: 10);
        var nitric = Samples.Run(withNitric, pot, parameters: s_noMicrobes, days: 10);
        citric.PHOnDay(10).ShouldBeGreaterThan(nitric.PHOnDay(10) + 0.3);
    }
}
