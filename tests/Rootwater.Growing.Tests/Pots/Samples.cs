using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

/// <summary>Invented feeds and pots that the tests of this room share.</summary>
internal static class Samples
{
    /// <summary>Feed for a mixed collection: 5.3 mmol/L N (74 mg/L), 13 % of it ammonium.</summary>
    public static ComponentAmounts MixedFeed { get; } = Feed(("Ca(NO3)2", 1.2), ("KNO3", 1.5), ("NH4NO3", 0.7), ("KH2PO4", 0.5), ("MgSO4", 0.7));

    /// <summary>All nitrogen as nitrate.</summary>
    public static ComponentAmounts NitrateFeed { get; } = Feed(("Ca(NO3)2", 1.6), ("KNO3", 2.0), ("KH2PO4", 0.5), ("MgSO4", 0.7));

    /// <summary>Three quarters of the nitrogen as ammonium.</summary>
    public static ComponentAmounts AmmoniumFeed { get; } = Feed(("Ca(NO3)2", 0.5), ("(NH4)2SO4", 1.5), ("KCl", 1.5), ("KH2PO4", 0.5), ("MgSO4", 0.7));

    public static ComponentAmounts Rain { get; } = Feed(("NaHCO3", 0.05), ("CaCl2", 0.02));

    public static PotSetup WickingClay { get; } = new()
    {
        Id = Guid.Parse("0193d0b0-0000-7000-8000-000000000001"),
        Medium = Media.Default,
        MediumLitres = 1.0,
        ReservoirLitres = 0.35,
        Culture = Culture.Wicking,
        LeafAreaSquareMetres = 0.03,
    };

    public static PotClimate Room { get; } = new();

    public static ComponentAmounts Feed(params (string Formula, double MmolPerLitre)[] salts)
    {
        var feed = ComponentAmounts.Zero;
        foreach (var (formula, mmol) in salts)
        {
            feed = feed.PlusScaled(Formula.Parse(formula).ComponentsPerMole, mmol / 1000);
        }

        return feed;
    }

    public static ComponentAmounts PouredAt(this ComponentAmounts feed, double ph) => PotInverse.AtPH(feed, ph).Poured;

    public static double PH(this ComponentAmounts totals, double celsius = 25) =>
        EquilibriumSolver.Solve(totals, new SolveConditions { Temperature = Chemistry.Quantities.Temperature.FromCelsius(celsius) }).Required().PH;

    public static PotTrajectory Run(ComponentAmounts feed, PotSetup? setup = null, PotClimate? climate = null, PotParameters? parameters = null, double days = 7, double lookEveryHours = 6, params PotEvent[] events)
    {
        setup ??= WickingClay;
        return PotSimulator.Run(parameters ?? PotParameters.Default, setup, climate ?? Room, PotState.FilledWith(setup, feed), events, days * 24, lookEveryHours);
    }

    public static double PHOnDay(this PotTrajectory trajectory, double day) => trajectory.Samples.Last(sample => Math.Abs(sample.Hours - day * 24) < 1e-6).Medium.PH;
}
