using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

/// <summary>
/// The table of docs/science/pots.md is what the program computes now: our own output, held so that the page cannot grow stale, and no reference.
/// </summary>
public sealed class ClayTableTests
{
    private static readonly PotSetup s_open = Samples.WickingClay with { Culture = Culture.OpenMix, ReservoirLitres = 0 };

    private static readonly Dictionary<string, (ComponentAmounts Feed, PotSetup Pot, PotClimate Climate, PotParameters Parameters)> s_cases = new()
    {
        ["**default case**"] = Case(),
        ["0.4 of its strength"] = Case(Samples.MixedFeed.Scaled(0.4)),
        ["twice the phosphate"] = Case(Samples.MixedFeed.Plus(Samples.Feed(("KH2PO4", 0.5)))),
        ["made with hard water (2 meq/L bicarbonate, nitric acid)"] = Case(Samples.MixedFeed.Plus(Samples.Feed(("Ca(HCO3)2", 1)))),
        ["all nitrogen as nitrate"] = Case(Samples.NitrateFeed),
        ["three quarters as ammonium"] = Case(Samples.AmmoniumFeed),
        ["no plant"] = Case(pot: Samples.WickingClay with { LeafAreaSquareMetres = 0 }),
        ["large plant, 0.08 m²"] = Case(pot: Samples.WickingClay with { LeafAreaSquareMetres = 0.08 }),
        ["pot CO2 10^-3.4 atm"] = Case(climate: Samples.Room with { Log10PotPCO2Atmospheres = -3.4 }),
        ["pot CO2 10^-2.4 atm"] = Case(climate: Samples.Room with { Log10PotPCO2Atmospheres = -2.4 }),
        ["base at twice the rate"] = Case(parameters: PotParameters.Default with { ExchangeFactor = 2 }),
        ["base at half the rate"] = Case(parameters: PotParameters.Default with { ExchangeFactor = 0.5 }),
        ["new clay, only rinsed"] = Case(pot: Samples.WickingClay with { Medium = Media.ById("expanded-clay-new") }),
        ["bark mix, open pot"] = Case(pot: s_open with { Medium = Media.ById("bark-mix") }),
        ["sphagnum, open pot"] = Case(pot: s_open with { Medium = Media.ById("sphagnum") }),
    };

    [Fact]
    public void Every_row_of_the_page_is_what_the_program_computes()
    {
        var rows = File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Pots", "pots.md"))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            .Where(cells => cells.Length == 9 && s_cases.ContainsKey(cells[0]))
            .ToDictionary(cells => cells[0], cells => cells[1..].Select(cell => double.Parse(cell.Replace(" %", "", StringComparison.Ordinal), CultureInfo.InvariantCulture)).ToArray());
        rows.Keys.ShouldBe(s_cases.Keys, ignoreOrder: true);
        foreach (var (name, (feed, pot, climate, parameters)) in s_cases)
        {
            var solution = EquilibriumSolver.Solve(feed).Required();
            var run = Samples.Run(feed, pot, climate, parameters);
            var share = TimeShare.Inside([.. run.Samples.Select(sample => sample.Hours)], [.. run.Samples.Select(sample => sample.Medium.PH)], new Band(6, 6.25, 6.5));
            var row = rows[name];

            // Printed digits, and a little for the chemistry's constants to move.
            solution.AlkalinityMeqPerKgWater.ShouldBe(row[0], 0.011, name);
            solution.ConductivityAt25MicrosiemensPerCm().ShouldBe(row[1], 0.02 * row[1], name);
            run.PHOnDay(0.25).ShouldBe(row[2], 0.1, name);
            run.PHOnDay(1).ShouldBe(row[3], 0.1, name);
            run.PHOnDay(3).ShouldBe(row[4], 0.1, name);
            run.PHOnDay(7).ShouldBe(row[5], 0.1, name);
            (100 * share).ShouldBe(row[6], 5, name);
            run.Samples[^1].Medium.EcMicrosiemensPerCm.ShouldBe(row[7], 0.02 * row[7], name);
        }
    }

    private static (ComponentAmounts Feed, PotSetup Pot, PotClimate Climate, PotParameters Parameters) Case(
        ComponentAmounts? feed = null, PotSetup? pot = null, PotClimate? climate = null, PotParameters? parameters = null) =>
        ((feed ?? Samples.MixedFeed).PouredAt(5.8), pot ?? Samples.WickingClay, climate ?? Samples.Room, parameters ?? PotParameters.Default);
}
