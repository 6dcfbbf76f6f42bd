using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;

namespace Rootwater.Benchmarks;

/// <summary>Invented benches of the two sizes that the speed of planning is stated for.</summary>
internal static class MixingRequests
{
    private static readonly string[] s_kinds = ["Cattleya", "Phalaenopsis", "Paphiopedilum", "Oncidium", "Masdevallia", "Dendrobium nobile"];
    private static readonly string[] s_states = ["leafGrowth", "newRoots", "inSpike", "flowering", "coolRest", "establishing"];

    private static readonly (string Formula, decimal Price, double Percent, double? Density)[] s_products =
    [
        ("5Ca(NO3)2·NH4NO3·10H2O", 2.2m, 100, null), ("KNO3", 3.1m, 100, null), ("KH2PO4", 6.5m, 100, null), ("MgSO4·7H2O", 1.4m, 100, null),
        ("H3PO4", 5m, 24, 1.14), ("K2SO4", 3m, 100, null), ("Mg(NO3)2·6H2O", 3.4m, 100, null), ("NH4NO3", 2m, 100, null), ("NaFeEDTA", 30m, 100, null),
        ("CaCl2·2H2O", 2m, 100, null), ("NH4H2PO4", 4m, 100, null), ("KOH", 6m, 10, 1.09), ("CO(NH2)2", 1m, 100, null), ("HNO3", 5m, 10, 1.055),
        ("H3BO3", 8m, 100, null), ("MnSO4·H2O", 6m, 100, null), ("ZnSO4·7H2O", 5m, 100, null), ("CuSO4·5H2O", 9m, 100, null), ("Na2MoO4·2H2O", 40m, 100, null),
        ("Ca(NO3)2·4H2O", 2.4m, 100, null), ("(NH4)2SO4", 1m, 100, null), ("KCl", 2m, 100, null), ("MgCl2·6H2O", 2m, 100, null), ("C6H8O7", 4m, 20, 1.08),
        ("K2HPO4", 7m, 100, null), ("NaNO3", 2m, 100, null), ("FeSO4·7H2O", 2m, 100, null), ("(NH4)2HPO4", 4m, 100, null), ("KHCO3", 3m, 100, null), ("H2SO4", 4m, 10, 1.066),
    ];

    /// <summary>40 plants in six groups, 12 products, 2 waters, up to 2 cans.</summary>
    public static PlanRequest Shelf() => Request(groups: 6, plants: 40, products: 12, mostCans: 2, litres: [5, 10], TimeSpan.FromSeconds(0.25));

    /// <summary>500 plants in thirty-six groups, 30 products, 2 waters, up to 4 cans.</summary>
    public static PlanRequest House() => Request(groups: 36, plants: 500, products: 30, mostCans: 4, litres: [20, 60, 60, 100], TimeSpan.FromSeconds(3.5));

    private static PlanRequest Request(int groups, int plants, int products, int mostCans, double[] litres, TimeSpan timeLimit)
    {
        var number = 0;
        return new PlanRequest
        {
            Groups = [.. Enumerable.Range(0, groups).Select(g =>
            {
                var (kind, state) = (s_kinds[g % s_kinds.Length], s_states[(g / s_kinds.Length + g) % s_states.Length]);
                return new WantGroup
                {
                    Name = $"{kind}, {state}, {g}",
                    Want = DefaultWants.Find(kind, state)!,
                    PourPH = new(5.5, 5.8 + 0.02 * (g % 3), 6.2),
                    Portions = [.. Enumerable.Range(0, plants / groups + (g < plants % groups ? 1 : 0)).Select(_ => new Portion
                    {
                        PlantId = Guid.CreateVersion7(), Number = ++number, PlantName = $"plant {number}", Place = "shelf", Millilitres = 200, WalkOrder = number,
                    })],
                };
            })],
            Waters = [Water("rain water", 0.05, 0.02, 0.08, 0.08, 0.04), Water("tap water", 2, 0.5, 0.8, 1, 0.4)],
            Cupboard = [.. s_products.Take(products).Select(Item)],
            Vessels = [.. litres.Select((volume, i) => new Vessel($"{volume} L can {i + 1}", volume))],
            MostCans = mostCans,
            Tools = new Tools { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.01 },
            TimeLimit = timeLimit,
        };
    }

    private static SupplyItem Item((string Formula, decimal Price, double Percent, double? Density) row, int index)
    {
        var formula = Formula.Parse(row.Formula);
        var kind = row.Formula is "H3PO4" or "HNO3" or "C6H8O7" or "H2SO4" ? ProductKind.Acid : row.Formula == "KOH" ? ProductKind.Base : ProductKind.Salt;
        var product = new Product { Id = new Guid(index + 1, 0, 0, new byte[8]), Name = row.Formula, Kind = kind, MolPerKg = formula.ComponentsPerMole.Scaled(10 * row.Percent / formula.GramsPerMole), DensityKgPerLitre = row.Density, PricePerKg = row.Price };
        return new SupplyItem(product, [new Lot { Id = new Guid(index + 1000, 0, 0, new byte[8]), ProductId = product.Id, GramsLeft = 2000 }]);
    }

    private static WaterSource Water(string name, double calcium, double magnesium, double sodium, double chloride, double sulfate)
    {
        var alkalinity = 2 * calcium + 2 * magnesium + sodium - chloride - 2 * sulfate;
        return new WaterSource
        {
            Id = Guid.CreateVersion7(),
            Name = name,
            MolPerKgWater = ComponentAmounts.From((Component.Calcium, calcium), (Component.Magnesium, magnesium), (Component.Sodium, sodium), (Component.Chloride, chloride),
                (Component.Sulfate, sulfate), (Component.Carbonate, 1.1 * alkalinity), (Component.Hydrogen, 1.2 * alkalinity)).Scaled(1e-3),
        };
    }
}
