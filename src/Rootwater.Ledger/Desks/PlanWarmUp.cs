using Rootwater.Chemistry.Formulas;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Solvers;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Loads the solver library and compiles what a plan runs through, on a can for nobody, while the bench is still being opened.</summary>
/// <remarks>For programs that plan once and end: half of their time is starting, and the database starts on one core only.</remarks>
public static class PlanWarmUp
{
    // What the bench keeps as JSON and a plan reads.
    private static readonly Type[] s_read = [typeof(Tools), typeof(Want), typeof(WaterSource), typeof(IReadOnlyList<ReportedValue>), typeof(Product), typeof(CanPlan), typeof(IReadOnlyList<PlantState>)];

    /// <summary>Returns at once; what goes wrong in it goes wrong again, and is said, in the plan itself.</summary>
    public static Task Start() => Task.Run(() =>
    {
        try
        {
            foreach (var type in s_read)
            {
                FactJson.Options.GetTypeInfo(type);
            }

            var request = Request();
            var want = request.Groups[0].Want;
            var pot = new PotSetup { Id = Guid.Empty, Medium = Media.Default, MediumLitres = 1, ReservoirLitres = 0.3, Culture = Culture.Wicking, LeafAreaSquareMetres = 0.04 };
            CanPlanner.Plan(request);
            PotInverse.BestPour(new PourRequest { Setup = pot, Climate = new PotClimate(), FeedMolPerKgWater = PotModels.NominalFeed(want), Days = 2, RootPH = want.RootPH, Strengths = [1] });
        }
        catch (Exception later) when (later is SolverUnavailableException or PlanRequestException or PotInputException)
        {
        }
    });

    private static PlanRequest Request() => new()
    {
        Groups =
        [
            new WantGroup
            {
                Name = "nobody",
                Want = DefaultWants.All[0].Want,
                PourPH = new(5.6, 5.8, 6.0),
                Portions = [new Portion { PlantId = Guid.Empty, Number = 1, PlantName = "nobody", Place = "nowhere", Millilitres = 2000, WalkOrder = 1 }],
            },
        ],
        Waters = [new WaterSource { Id = Guid.Empty, Name = "water", MolPerKgWater = Formula.Parse("NaHCO3").ComponentsPerMole.Scaled(1e-3) }],
        Cupboard = [Item(1, "Ca(NO3)2·4H2O", 100, null), Item(2, "KH2PO4", 100, null), Item(3, "MgSO4·7H2O", 100, null), Item(4, "HNO3", 10, 1.05)],
        Vessels = [new Vessel("can", 5)],
        MostCans = 1,
        TimeLimit = TimeSpan.FromSeconds(0.2),
    };

    private static SupplyItem Item(int number, string formula, double percent, double? density)
    {
        var parsed = Formula.Parse(formula);
        var product = new Product
        {
            Id = new Guid(number, 0, 0, new byte[8]),
            Name = formula,
            Kind = density is null ? ProductKind.Salt : ProductKind.Acid,
            MolPerKg = parsed.ComponentsPerMole.Scaled(10 * percent / parsed.GramsPerMole),
            DensityKgPerLitre = density,
        };
        return new SupplyItem(product, [new Lot { Id = product.Id, ProductId = product.Id, GramsLeft = 100 }]);
    }
}
