using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>What a reverse-osmosis membrane lets through (data/growing/reverse-osmosis.csv).</summary>
/// <remarks>Each ion passes by its share; alkalinity is what keeps the charges even; carbon dioxide passes freely, so the permeate is more acid than its feed.</remarks>
public static class ReverseOsmosis
{
    private static readonly Lazy<IReadOnlyDictionary<Component, double>> s_passage = new(() => EmbeddedTable.Read("reverse-osmosis.csv")
        .ToDictionary(row => WaterIon.Find(Enum.Parse<WaterQuantity>(row["quantity"]))!.Component, row => row.Number("passage")));

    /// <summary>The permeate of a feed.</summary>
    /// <param name="feed">The water that goes in.</param>
    /// <param name="name">What the grower calls what comes out.</param>
    /// <param name="wear">1 for a membrane in good order; 3 for one that lets three times as much through. 0.1 to 20.</param>
    /// <param name="id">Of the source; a new one when null.</param>
    /// <exception cref="ArgumentOutOfRangeException">Wear out of range.</exception>
    public static WaterSource Permeate(WaterSource feed, string name, double wear = 1, Guid? id = null)
    {
        if (wear is not (>= 0.1 and <= 20))
        {
            throw new ArgumentOutOfRangeException(nameof(wear), wear, "Wear must lie between 0.1 and 20 (1 is a membrane in good order).");
        }

        var amounts = ComponentAmounts.Zero;
        double charge = 0;
        foreach (var ion in WaterIon.All)
        {
            var through = feed.MolPerKgWater[ion.Component] * Math.Min(1, s_passage.Value[ion.Component] * wear);
            amounts = amounts.With(ion.Component, through);
            charge += ion.Charge * through;
        }

        // What passes is even in charge: where the anions outweigh, the feed's bicarbonate stays behind and sodium follows them.
        var alkalinity = Math.Max(0, charge);
        amounts = amounts.With(Component.Sodium, amounts[Component.Sodium] + Math.Max(0, -charge));
        var carbon = alkalinity + FreeCarbonDioxide(feed);
        amounts = amounts.With(Component.Carbonate, carbon).With(Component.Hydrogen, 2 * carbon + 2 * amounts[Component.Phosphate] - alkalinity);
        return new WaterSource
        {
            Id = id ?? Guid.CreateVersion7(),
            Name = name,
            MolPerKgWater = amounts,
            RelativeUncertainty = 0.5,
            Notes = ["Computed from its feed and what membranes usually let through, not measured: an EC pen on it tells more."],
        };
    }

    private static double FreeCarbonDioxide(WaterSource feed)
    {
        var solution = EquilibriumSolver.Solve(feed.MolPerKgWater).Required();
        var carbon = feed.MolPerKgWater[Component.Carbonate];
        // Of each carbonate, protons beyond the first make it carbon dioxide.
        return carbon == 0 ? 0 : Math.Clamp(solution.ProtonsPerMole(Component.Carbonate) - 1, 0, 1) * carbon;
    }
}
