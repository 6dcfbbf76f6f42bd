using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>What a plant was given over some weeks beside what it wants.</summary>
/// <param name="OfWant">Share of the want by element: "K" 0.3.</param>
/// <param name="OfCeiling">Mean of what was poured as a share of the most it may hold, by element.</param>
/// <param name="AmmoniumShare">Ammonium and urea of all nitrogen; null where none was given.</param>
internal sealed record SupplyOfWant(IReadOnlyDictionary<string, double> OfWant, IReadOnlyDictionary<string, double> OfCeiling, double? AmmoniumShare)
{
    private static readonly (string Symbol, Nutrient Nutrient)[] s_elements =
    [
        ("P", Nutrient.Phosphorus), ("K", Nutrient.Potassium), ("Ca", Nutrient.Calcium), ("Mg", Nutrient.Magnesium), ("S", Nutrient.Sulfur),
        ("Fe", Nutrient.Iron), ("Mn", Nutrient.Manganese), ("Zn", Nutrient.Zinc), ("Cu", Nutrient.Copper), ("B", Nutrient.Boron), ("Mo", Nutrient.Molybdenum),
    ];

    public static SupplyOfWant Nothing { get; } = new(new Dictionary<string, double>(), new Dictionary<string, double>(), null);

    /// <summary>
    /// What was given over what would have been given at the want's ideal. A pot that is passed by because it is still full drinks less and wants less, so what was
    /// fed counts, but at least half of what the usual interval makes; weeks at rest are left out of that. Plain water between feeds takes nothing off.
    /// </summary>
    /// <param name="weeks">What was given.</param>
    /// <param name="want">By which it is fed; null where none was chosen.</param>
    /// <param name="pot">It stands in; null where unknown.</param>
    /// <param name="days">The weeks' length without rests, days.</param>
    public static SupplyOfWant Of(IReadOnlyList<NutrientWeek> weeks, Want? want, PotRow? pot, double days)
    {
        var given = weeks.Aggregate(NutrientAmounts.Zero, (sum, week) => sum.PlusScaled(week.Milligrams, 1));
        var (feed, water) = (weeks.Sum(week => week.FeedMillilitres) / 1000, weeks.Sum(week => week.WaterMillilitres) / 1000);
        double? ammonium = given.TotalNitrogen > 0 ? (given[Nutrient.AmmoniumNitrogen] + given[Nutrient.UreaNitrogen]) / given.TotalNitrogen : null;
        if (want is null || pot is null || days < 28)
        {
            return Nothing with { AmmoniumShare = ammonium };
        }

        var usual = pot.FeedEveryDays > 0 ? pot.FeedMillilitres / 1000 * days / pot.FeedEveryDays : 0;
        var litres = Math.Max(feed, usual / 2);
        if (!(litres > 0))
        {
            return Nothing with { AmmoniumShare = ammonium };
        }

        var shares = new Dictionary<string, double> { ["N"] = given.TotalNitrogen / (litres * want.TotalNitrogenMgPerLitre.Ideal) };
        foreach (var (symbol, nutrient) in s_elements)
        {
            if (want.FeedMgPerLitre.TryGetValue(nutrient, out var band) && band.Ideal > 0 && double.IsFinite(band.Ideal))
            {
                shares[symbol] = given[nutrient] / (litres * band.Ideal);
            }
            else if (feed > 0 && !(given[nutrient] > 0))
            {
                shares[symbol] = 0; // no want says how much, but nothing at all is short of any
            }
        }

        return new SupplyOfWant(shares.Where(pair => double.IsFinite(pair.Value)).ToDictionary(), Ceilings(given, feed + water, want.Limits), ammonium);
    }

    private static Dictionary<string, double> Ceilings(NutrientAmounts given, double litres, HardLimits limits) => litres <= 0 ? [] : new (string Symbol, Nutrient Nutrient, double Most)[]
    {
        ("Na", Nutrient.Sodium, limits.SodiumMgPerLitre), ("Cl", Nutrient.Chloride, limits.ChlorideMgPerLitre), ("B", Nutrient.Boron, limits.BoronMgPerLitre),
        ("Zn", Nutrient.Zinc, limits.ZincMgPerLitre), ("Cu", Nutrient.Copper, limits.CopperMgPerLitre), ("Mn", Nutrient.Manganese, limits.ManganeseMgPerLitre),
        ("Fe", Nutrient.Iron, limits.IronMgPerLitre), ("Mo", Nutrient.Molybdenum, limits.MolybdenumMgPerLitre),
    }.Where(each => each.Most > 0).ToDictionary(each => each.Symbol, each => given[each.Nutrient] / litres / each.Most);
}
