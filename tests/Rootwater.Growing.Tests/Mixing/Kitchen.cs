using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>Invented waters, products and wants that several tests mix with.</summary>
internal static class Kitchen
{
    public static readonly WaterSource PureWater = new() { Id = Id(1), Name = "pure water", MolPerKgWater = ComponentAmounts.Zero, RelativeUncertainty = 0 };

    /// <summary>Rain with a little of everything, in balance with the air.</summary>
    public static readonly WaterSource Rain = new()
    {
        Id = Id(2),
        Name = "rain water",
        MolPerKgWater = Water(calcium: 0.05, magnesium: 0.02, sodium: 0.08, potassium: 0.01, chloride: 0.08, sulfate: 0.04, nitrate: 0.02, carbonDioxide: 0.015),
    };

    /// <summary>Hard tap water, alkalinity near 4 meq/L.</summary>
    public static readonly WaterSource HardTap = new()
    {
        Id = Id(3),
        Name = "tap water",
        MolPerKgWater = Water(calcium: 2.0, magnesium: 0.5, sodium: 0.8, potassium: 0.05, chloride: 1.0, sulfate: 0.4, nitrate: 0.2, carbonDioxide: 0.3),
        PricePerLitre = 0.002m,
    };

    public static readonly SupplyItem CalciumNitrate = Salt(10, "calcium nitrate, tetrahydrate", "Ca(NO3)2·4H2O", 1.2m);
    public static readonly SupplyItem PotassiumNitrate = Salt(11, "potassium nitrate", "KNO3", 2.5m);
    public static readonly SupplyItem MonopotassiumPhosphate = Salt(12, "monopotassium phosphate", "KH2PO4", 3.5m);
    public static readonly SupplyItem MagnesiumSulfate = Salt(13, "magnesium sulfate heptahydrate", "MgSO4·7H2O", 0.9m);
    public static readonly SupplyItem AmmoniumNitrate = Salt(14, "ammonium nitrate", "NH4NO3", 1.8m);
    public static readonly SupplyItem MonoammoniumPhosphate = Salt(15, "monoammonium phosphate", "NH4H2PO4", 2.8m);
    public static readonly SupplyItem PotassiumSulfate = Salt(16, "potassium sulfate", "K2SO4", 2.2m);
    public static readonly SupplyItem MagnesiumNitrate = Salt(17, "magnesium nitrate", "Mg(NO3)2·6H2O", 2.1m);
    public static readonly SupplyItem Urea = Salt(18, "urea", "CO(NH2)2", 1.1m);
    public static readonly SupplyItem PotassiumSilicate = Salt(19, "potassium silicate", "K2SiO3", 6m);
    public static readonly SupplyItem CalciumChloride = Salt(20, "calcium chloride", "CaCl2·2H2O", 1.5m);
    public static readonly SupplyItem IronChelate = Salt(21, "iron EDTA", "NaFeEDTA", 30m);
    public static readonly SupplyItem PhosphoricAcid = Liquid(30, "pH-down, phosphoric acid 24 %", ProductKind.Acid, "H3PO4", 24, 1.15, Hazards.CorrosiveAcid);
    public static readonly SupplyItem NitricAcid = Liquid(31, "nitric acid 10 %", ProductKind.Acid, "HNO3", 10, 1.055, Hazards.CorrosiveAcid);
    public static readonly SupplyItem CitricAcid = Liquid(32, "citric acid 20 %", ProductKind.Acid, "C6H8O7", 20, 1.08, Hazards.Irritant);
    public static readonly SupplyItem PotassiumHydroxide = Liquid(33, "pH-up, potassium hydroxide 10 %", ProductKind.Base, "KOH", 10, 1.09, Hazards.CorrosiveBase);

    public static PlanOutcome Plan(PlanRequest request) => CanPlanner.Plan(request, cancel: TestContext.Current.CancellationToken);

    public static Guid Id(int number) => new(number, 0, 0, [0, 0, 0, 0, 0, 0, 0, 0]);

    /// <summary>From mmol/kg; bicarbonate closes the charge, carbon dioxide is on top of it.</summary>
    public static ComponentAmounts Water(double calcium = 0, double magnesium = 0, double sodium = 0, double potassium = 0, double chloride = 0, double sulfate = 0, double nitrate = 0, double carbonDioxide = 0)
    {
        var alkalinity = 2 * calcium + 2 * magnesium + sodium + potassium - chloride - 2 * sulfate - nitrate;
        alkalinity.ShouldBeGreaterThan(-1e-9);
        alkalinity = Math.Max(0, alkalinity);
        return ComponentAmounts.From(
            (Component.Calcium, calcium), (Component.Magnesium, magnesium), (Component.Sodium, sodium), (Component.Potassium, potassium), (Component.Chloride, chloride),
            (Component.Sulfate, sulfate), (Component.Nitrate, nitrate), (Component.Carbonate, alkalinity + carbonDioxide),
            (Component.Hydrogen, alkalinity + 2 * carbonDioxide)).Scaled(1e-3);
    }

    public static SupplyItem Salt(int id, string name, string formula, decimal pricePerKg, double grams = 1000)
    {
        var parsed = Formula.Parse(formula);
        var product = new Product
        {
            Id = Id(id),
            Name = name,
            Kind = formula.Contains("Si", StringComparison.Ordinal) ? ProductKind.Silicate : ProductKind.Salt,
            MolPerKg = parsed.ComponentsPerMole.Scaled(1000 / parsed.GramsPerMole),
            PricePerKg = pricePerKg,
            RelativeUncertainty = 0.01,
            PHUncertainty = 0.02,
        };
        return new SupplyItem(product, [new Lot { Id = Id(1000 + id), ProductId = product.Id, GramsLeft = grams }]);
    }

    public static SupplyItem Liquid(int id, string name, ProductKind kind, string formula, double percent, double density, Hazards hazards)
    {
        var parsed = Formula.Parse(formula);
        var product = new Product
        {
            Id = Id(id),
            Name = name,
            Kind = kind,
            MolPerKg = parsed.ComponentsPerMole.Scaled(10 * percent / parsed.GramsPerMole),
            DensityKgPerLitre = density,
            Hazards = hazards,
            PricePerKg = 4m,
            PHUncertainty = 0.02,
        };
        return new SupplyItem(product, [new Lot { Id = Id(1000 + id), ProductId = product.Id, GramsLeft = 500 }]);
    }

    public static Want Want(double nitrogen = 60, double ec = 550, IReadOnlyDictionary<Nutrient, Band>? feed = null, HardLimits? limits = null) => new()
    {
        Name = "leaf growth",
        FeedMgPerLitre = feed ?? new Dictionary<Nutrient, Band>
        {
            [Nutrient.Phosphorus] = new(0.1 * nitrogen, 0.2 * nitrogen, 0.5 * nitrogen),
            [Nutrient.Potassium] = new(0.6 * nitrogen, 0.9 * nitrogen, 1.4 * nitrogen),
            [Nutrient.Calcium] = new(0.4 * nitrogen, 0.7 * nitrogen, 1.1 * nitrogen),
            [Nutrient.Magnesium] = new(0.15 * nitrogen, 0.25 * nitrogen, 0.5 * nitrogen),
        },
        TotalNitrogenMgPerLitre = new(0.75 * nitrogen, nitrogen, 1.25 * nitrogen),
        EcMicrosiemensPerCm = new(0.6 * ec, ec, 1.4 * ec),
        RootPH = new(5.5, 6.0, 6.5),
        Limits = limits ?? new HardLimits(),
        Source = "invented for the tests",
    };

    public static WantGroup Group(string name, Want want, int plants = 4, double millilitres = 250, Band? pourPH = null, int firstNumber = 1) => new()
    {
        Name = name,
        Want = want,
        PourPH = pourPH ?? new Band(5.5, 5.8, 6.2),
        Portions = [.. Enumerable.Range(0, plants).Select(i => new Portion
        {
            PlantId = Id(100_000 + firstNumber + i),
            Number = firstNumber + i,
            PlantName = $"plant {firstNumber + i}",
            Place = "shelf 1",
            Millilitres = millilitres,
            WalkOrder = firstNumber + i,
        })],
    };

    public static PlanRequest Request(IReadOnlyList<WantGroup>? groups = null, IReadOnlyList<WaterSource>? waters = null, IReadOnlyList<SupplyItem>? cupboard = null, IReadOnlyList<Vessel>? vessels = null) => new()
    {
        Groups = groups ?? [Group("growing", Want())],
        Waters = waters ?? [Rain, HardTap],
        Cupboard = cupboard ?? [CalciumNitrate, PotassiumNitrate, MonopotassiumPhosphate, MagnesiumSulfate, PhosphoricAcid],
        Vessels = vessels ?? [new Vessel("2 L can", 2), new Vessel("5 L can", 5)],
        MostCans = 1,
        // Time enough that a busy machine does not decide what is found.
        TimeLimit = TimeSpan.FromSeconds(30),
    };
}
