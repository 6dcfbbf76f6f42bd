using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Demo;

/// <summary>A house recipe, from before the planner: so much a litre, acid until the pen says 5.8.</summary>
/// <param name="Vessel">Where it is mixed.</param>
/// <param name="Wants">Whom it is for.</param>
/// <param name="TapShare">Share of tap water, the rest is rain.</param>
/// <param name="GramsPerLitre">Products by key.</param>
internal sealed record DemoRecipe(Vessel Vessel, IReadOnlyList<string> Wants, double TapShare, IReadOnlyList<(string Key, double GramsPerLitre)> GramsPerLitre)
{
    /// <summary>Those who are served before the vessel is empty, in walking order; the rest wait for the next round.</summary>
    public IReadOnlyList<DemoPlant> Fill(IEnumerable<DemoPlant> due)
    {
        var left = Vessel.Litres * 1000;
        var served = new List<DemoPlant>();
        foreach (var plant in due.OrderBy(plant => plant.PotNow.LastFed ?? DateOnly.MinValue).ThenBy(plant => plant.Number))
        {
            if (plant.PotNow.FeedMillilitres <= left)
            {
                left -= plant.PotNow.FeedMillilitres;
                served.Add(plant);
            }
        }

        return [.. served.OrderBy(plant => plant.Place == "hanging").ThenBy(plant => plant.Place, StringComparer.Ordinal).ThenBy(plant => plant.Number)];
    }
}

/// <summary>The two house recipes.</summary>
internal static class DemoRecipes
{
    public const double PourPH = 5.8;

    /// <summary>A pocket scale to a hundredth of a gram, a 1 mL syringe, two cheap pens.</summary>
    public static Tools Tools { get; } = new() { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.01, SyringeStepMillilitres = 0.05, SyringeErrorMillilitres = 0.02 };

    public static IReadOnlyList<Vessel> Vessels { get; } = [new("5 L can", 5), new("2 L can", 2)];

    public static IReadOnlyList<DemoRecipe> All { get; } =
    [
        new(Vessels[0], ["strong", "steady"], 0.24, [("calnit", 0.28), ("kno3", 0.10), ("feed", 0.20), ("mgso4", 0.06)]),
        new(Vessels[1], ["light", "ripening"], 0.20, [("calnit", 0.08), ("kno3", 0.05), ("feed", 0.10), ("mgso4", 0.02)]),
    ];
}
