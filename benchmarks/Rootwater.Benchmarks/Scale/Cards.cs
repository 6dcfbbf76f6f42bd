using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Benchmarks.Scale;

/// <summary>Cards as large as those that the planner writes; their figures are made up.</summary>
internal static class Cards
{
    public static CanPlan Of(Guid id, string letter, IEnumerable<(Guid Id, int Number)> plants) => new()
    {
        Id = id,
        Letter = letter,
        Vessel = "20 L can",
        Litres = 20,
        Steps = [.. Enumerable.Range(1, 7).Select(Step)],
        MolPerKgWater = ComponentAmounts.From((Component.Potassium, 6.9e-3), (Component.Nitrate, 6.9e-3), (Component.Calcium, 1e-3), (Component.Phosphate, 5e-4)),
        MgPerLitre = NutrientAmounts.From([.. Enum.GetValues<Nutrient>().Select(nutrient => (nutrient, 1.5 + (int)nutrient))]),
        EcMicrosiemensPerCm = new Expected(580, 620, 660),
        EcOnPenMicrosiemensPerCm = 615,
        PH = new Expected(5.6, 5.8, 6.0),
        PHAfterADay = 6.1,
        PHInBalanceWithAir = 6.9,
        AlkalinityMilliequivalentsPerLitre = 0.2,
        ClosestMineral = "brushite",
        WorstSaturationIndex = -1.2,
        Serves =
        [
            new ServedGroup(
                "all alike · expanded clay, wicking",
                [.. plants.Select(plant => new Portion { PlantId = plant.Id, Number = plant.Number, PlantName = $"Inventia exemplaris no. {plant.Number}", Place = "shelf 1", Millilitres = 250, WalkOrder = plant.Number })],
                [new BandResult("nitrogen", "mg/L", new Band(40, 60, 90), 80, 76, 84), new BandResult("calcium", "mg/L", new Band(20, 40, 60), 40, 38, 42)]),
        ],
        Cost = 0.13m,
    };

    private static MixStep Step(int number) => new()
    {
        Number = number,
        Kind = MixStepKind.Product,
        What = $"product {number}",
        Amount = 1.5 * number,
        Unit = "g",
        Reason = "calcium before phosphate, while the can is dilute",
        EcMicrosiemensPerCm = new Expected(500, 600, 700),
        PH = new Expected(5.6, 5.8, 6.0),
        ClosestMineral = null,
        WorstSaturationIndex = null,
    };
}
