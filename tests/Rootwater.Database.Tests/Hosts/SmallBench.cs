using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Hosts;

/// <summary>The smallest bench with everything on it: two plants, one water, two products, one vessel. Its figures are made up and nothing is computed from them.</summary>
public sealed class SmallBench
{
    public Guid WantId { get; } = Guid.CreateVersion7();
    public Guid PlaceId { get; } = Guid.CreateVersion7();
    public Guid FirstPlant { get; } = Guid.CreateVersion7();
    public Guid SecondPlant { get; } = Guid.CreateVersion7();
    public Guid WaterId { get; } = Guid.CreateVersion7();
    public Guid SaltId { get; } = Guid.CreateVersion7();
    public Guid SaltLot { get; } = Guid.CreateVersion7();
    public Guid AcidId { get; } = Guid.CreateVersion7();
    public Guid AcidLot { get; } = Guid.CreateVersion7();

    public static Want Want { get; } = new()
    {
        Name = "moderate feeders",
        FeedMgPerLitre = new Dictionary<Nutrient, Band> { [Nutrient.Calcium] = new(20, 40, 60) },
        TotalNitrogenMgPerLitre = new Band(40, 60, 90),
        EcMicrosiemensPerCm = new Band(400, 600, 800),
        RootPH = new Band(5.8, 6.2, 6.6),
        Source = "made up for a test",
    };

    public IEnumerable<NewFact> Facts()
    {
        yield return Fact(Guid.Empty, new BenchOpened("small bench", "UTC"));
        yield return Fact(Guid.Empty, new ToolsSet(new Tools { ScaleStepGrams = 0.01 }));
        yield return Fact(Guid.Empty, new VesselSet(Guid.CreateVersion7(), new Vessel("5 L can", 5)));
        yield return Fact(PlaceId, new PlaceSet(new Place(PlaceId, "shelf 1", 1, "bright", "warm")));
        yield return Fact(WantId, new WantSet(WantId, Want));
        foreach (var (plant, number) in new[] { (FirstPlant, 1), (SecondPlant, 2) })
        {
            yield return Fact(plant, new PlantArrived(plant, number, $"Plant no. {number}", "strap-leaved", Habit.Monopodial), FactWhen.InMonth(2024, 5, "UTC"));
            yield return Fact(plant, new PlantStatesSeen(plant, [PlantState.LeafGrowth, PlantState.NewRoots]));
            yield return Fact(plant, new PlantMoved(plant, PlaceId));
            yield return Fact(plant, new PlantWantChosen(plant, WantId));
            yield return Fact(plant, new PlantPotted(plant, new Pot
            {
                Id = Guid.CreateVersion7(),
                Culture = Culture.Wicking,
                Medium = "expanded clay",
                MediumLitres = 1,
                ReservoirLitres = 0.3,
                FeedMillilitres = 250,
                FeedEveryDays = 7,
                LastFed = null,
            }));
        }

        yield return Fact(WaterId, new WaterSet(WaterId, "rain barrel", 100, 0));
        yield return Fact(WaterId, new WaterReported(
            Guid.CreateVersion7(), WaterId, [new("EC", 20, "µS/cm")], WaterOrigin.Rain, 25, "pen",
            new WaterSource { Id = WaterId, Name = "rain barrel", MolPerKgWater = ComponentAmounts.From((Component.Calcium, 1e-4), (Component.Chloride, 2e-4)) },
            6.1, 20, 0.05, null), FactWhen.OnDay(new DateOnly(2026, 2, 1), "UTC"));
        yield return Fact(SaltId, new ProductSet(
            new Product { Id = SaltId, Name = "potassium nitrate", Kind = ProductKind.Salt, MolPerKg = ComponentAmounts.From((Component.Potassium, 9.89), (Component.Nitrate, 9.89)), PricePerKg = 4.20m },
            "KNO3", []));
        yield return Fact(SaltLot, new LotBought(SaltLot, SaltId, 500, new DateOnly(2026, 1, 5), null, null, null));
        yield return Fact(AcidId, new ProductSet(
            new Product
            {
                Id = AcidId,
                Name = "pH-down",
                Kind = ProductKind.Acid,
                MolPerKg = ComponentAmounts.From((Component.Phosphate, 2.45), (Component.Hydrogen, 7.35)),
                DensityKgPerLitre = 1.25,
                Hazards = Hazards.CorrosiveAcid,
            }, "H3PO4", []));
        yield return Fact(AcidLot, new LotBought(AcidLot, AcidId, 1250, new DateOnly(2026, 1, 5), new DateOnly(2026, 1, 6), null, null));
    }

    /// <summary>A card of four steps: water, acid 2 mL, salt 3.5 g, acid 0.4 mL.</summary>
    public CanPlan Card(Guid? id = null) => new()
    {
        Id = id ?? Guid.CreateVersion7(),
        Letter = "A",
        Vessel = "5 L can",
        Litres = 5,
        Steps =
        [
            Step(1, MixStepKind.Water, "rain barrel", 5, "L") with { WaterId = WaterId },
            Step(2, MixStepKind.EarlyAcid, "pH-down", 2, "mL") with { ProductId = AcidId, LotId = AcidLot, Cautions = ["Acid into water."] },
            Step(3, MixStepKind.Product, "potassium nitrate", 3.5, "g") with { ProductId = SaltId },
            Step(4, MixStepKind.Trim, "pH-down", 0.4, "mL") with { ProductId = AcidId, LotId = AcidLot },
        ],
        MolPerKgWater = ComponentAmounts.From((Component.Potassium, 6.9e-3), (Component.Nitrate, 6.9e-3)),
        MgPerLitre = NutrientAmounts.From((Nutrient.Potassium, 270), (Nutrient.NitrateNitrogen, 97)),
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
                "moderate feeders · expanded clay, wicking",
                [Portion(FirstPlant, 1), Portion(SecondPlant, 2)],
                [new BandResult("nitrogen", "mg/L", new Band(40, 60, double.PositiveInfinity), 97, 92, 102)]),
        ],
        Cost = 0.13m,
    };

    public static NewFact Fact(Guid subject, FactPayload payload, FactWhen? when = null) =>
        new() { Id = Guid.CreateVersion7(), SubjectId = subject, Payload = payload, When = when };

    private static Portion Portion(Guid plant, int number) => new()
    {
        PlantId = plant,
        Number = number,
        PlantName = $"Plant no. {number}",
        Place = "shelf 1",
        Millilitres = 250,
        WalkOrder = number,
    };

    private static MixStep Step(int number, MixStepKind kind, string what, double amount, string unit) => new()
    {
        Number = number,
        Kind = kind,
        What = what,
        Amount = amount,
        Unit = unit,
        Reason = "made up for a test",
        EcMicrosiemensPerCm = new Expected(500, 600, 700),
        PH = new Expected(5.6, 5.8, 6.0),
        ClosestMineral = null,
        WorstSaturationIndex = null,
    };
}
