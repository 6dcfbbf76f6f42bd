using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Saturation;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo;

/// <summary>A can of the past: its card, what it drew, and what was truly in it.</summary>
internal sealed record DemoCan(CanPlan Card, IReadOnlyList<StepUse> Uses, ComponentAmounts TrulyMolPerKgWater, double LitresLeft)
{
    /// <summary>What two pens with errors read of it: EC µS/cm at 25 °C to the pen's digit, pH to its digit.</summary>
    /// <param name="dice">For the noise.</param>
    /// <param name="pens">What particular pens make of it; null for pens that are off by noise alone.</param>
    public (double EcMicrosiemensPerCm, double PH) Readings(Dice dice, Func<double, double, (double Ec, double PH)>? pens = null)
    {
        var solution = DemoCans.Solve(TrulyMolPerKgWater);
        var ec = solution.ConductivityAt25MicrosiemensPerCm() * (1 + 0.01 * dice.Normal());
        var ph = solution.PH + 0.04 * dice.Normal();
        (ec, ph) = pens?.Invoke(ec, ph) ?? (ec, ph);
        return (Math.Round(ec / 10) * 10, Math.Round(ph, 1));
    }
}

/// <summary>Writes cards for the house recipes, every figure on them from the chemistry.</summary>
internal sealed class DemoCans(DemoCupboard cupboard, DemoWaters waters, DemoBand bands, Dice dice)
{
    private const double KgWaterPerLitre = 0.998;
    private const double LiquidStep = 0.1;
    private const double SolidStep = 0.05;
    private static readonly SolveConditions s_conditions = new() { Temperature = Temperature.FromCelsius(20) };
    private static readonly Mineral[] s_minerals = [Mineral.Gypsum, Mineral.Brushite, Mineral.Calcite, Mineral.Struvite];

    // The same recipe into the same volume is the same card: solved once.
    private readonly Dictionary<(DemoRecipe Recipe, double Litres), CanPlan> _cards = [];

    public static Solution Solve(ComponentAmounts molPerKgWater) => EquilibriumSolver.Solve(molPerKgWater, s_conditions).Required();

    public DemoCan Write(DemoRecipe recipe, Guid canId, string letter, IReadOnlyList<DemoPlant> served)
    {
        var need = served.Sum(plant => plant.PotNow.FeedMillilitres) / 1000;
        // Below two litres the scale's step is too coarse for these doses.
        var litres = Math.Min(recipe.Vessel.Litres, Math.Max(2, Math.Ceiling(need * 2) / 2));
        if (!_cards.TryGetValue((recipe, litres), out var blank))
        {
            _cards[(recipe, litres)] = blank = Blank(recipe, litres);
        }

        var card = blank with { Id = canId, Letter = letter, Serves = Serves(served, blank) };
        var products = cupboard.Products.Values.ToDictionary(item => item.Product.Id);
        // A kept card names the lot it was first written for.
        card = card with { Steps = [.. card.Steps.Select(step => step.ProductId is { } id ? step with { LotId = products[id].LotId } : step)] };
        var uses = new List<StepUse>();
        // What really goes in: the scale, the syringe and the filling mark each err a little, and the lot is not quite its label.
        var truth = WaterOf(card.Steps, relative => 1 + 0.005 * relative * dice.Normal());
        foreach (var step in card.Steps)
        {
            if (step.ProductId is { } productId && products[productId] is var item)
            {
                var gramsPerUnit = item.Product.DensityKgPerLitre ?? 1;
                uses.Add(new StepUse(step.Number, item.LotId, step.Amount * gramsPerUnit));
                truth = truth.PlusScaled(item.TrulyMolPerKg, Math.Max(0, step.Amount + 0.02 * dice.Normal()) * gramsPerUnit / 1000 / (litres * KgWaterPerLitre));
            }
        }

        return new DemoCan(card, uses, truth, Math.Round(litres - need, 3));
    }

    private CanPlan Blank(DemoRecipe recipe, double litres)
    {
        var phDown = cupboard.Products["phdown"];
        var tap = Math.Round(litres * recipe.TapShare, 1);
        var steps = new List<MixStep>
        {
            Step(1, MixStepKind.Water, waters.Rain.Name, Math.Round(litres - tap, 1), "L", "soft water first") with { WaterId = waters.Rain.Id },
            Step(2, MixStepKind.Water, waters.Tap.Name, tap, "L", "brings calcium and alkalinity") with { WaterId = waters.Tap.Id },
        };
        var doses = recipe.GramsPerLitre.Select(dose => (cupboard.Products[dose.Key], Grams: Math.Round(Math.Max(1, Math.Round(dose.GramsPerLitre * litres / SolidStep)) * SolidStep, 2))).ToList();
        var perMillilitre = phDown.Product.MolPerKg.Scaled(phDown.Product.DensityKgPerLitre!.Value / 1000 / (litres * KgWaterPerLitre));
        var fed = doses.Aggregate(WaterOf(steps, _ => 1), (sum, dose) => sum.PlusScaled(dose.Item1.Product.MolPerKg, dose.Grams / 1000 / (litres * KgWaterPerLitre)));
        var acid = DoseForPH.Find(fed, perMillilitre, DemoRecipes.PourPH, 10 * litres, s_conditions).Amount ?? 0;
        var early = Math.Floor(0.8 * acid / LiquidStep) * LiquidStep;
        var trim = Math.Round((acid - early) / LiquidStep) * LiquidStep;
        if (early > 0)
        {
            steps.Add(Pour(MixStepKind.EarlyAcid, early, "most of the acid now, so that calcium never meets phosphate at high pH"));
        }

        foreach (var (item, grams) in doses)
        {
            steps.Add(Step(steps.Count + 1, MixStepKind.Product, item.Product.Name, grams, "g", "stirred clear before the next") with { ProductId = item.Product.Id, LotId = item.LotId });
        }

        if (trim > 0)
        {
            steps.Add(Pour(MixStepKind.Trim, trim, "in sips, after five minutes"));
        }

        var sofar = WaterOf(steps, _ => 1);
        for (var i = 0; i < steps.Count; i++)
        {
            if (steps[i].ProductId is { } productId)
            {
                var product = cupboard.Products.Values.First(item => item.Product.Id == productId).Product;
                sofar = sofar.PlusScaled(product.MolPerKg, steps[i].Amount * (product.DensityKgPerLitre ?? 1) / 1000 / (litres * KgWaterPerLitre));
            }

            var now = Solve(sofar);
            var (mineral, index) = Closest(now);
            steps[i] = steps[i] with
            {
                EcMicrosiemensPerCm = Band(now.ConductivityAt25MicrosiemensPerCm(), 0.06, 0, 1),
                PH = Band(now.PH, 0, 0.2, 3),
                ClosestMineral = mineral,
                WorstSaturationIndex = index is { } si ? Math.Round(si, 3) : null,
            };
        }

        var done = Solve(sofar);
        var worst = steps.Where(step => step.WorstSaturationIndex is not null).MaxBy(step => step.WorstSaturationIndex);
        return new CanPlan
        {
            Id = default,
            Letter = "",
            Vessel = recipe.Vessel.Name,
            Litres = litres,
            Steps = steps,
            MolPerKgWater = sofar,
            MgPerLitre = Nutrients.MilligramsIn(sofar.Scaled(KgWaterPerLitre)),
            EcMicrosiemensPerCm = steps[^1].EcMicrosiemensPerCm,
            EcOnPenMicrosiemensPerCm = Math.Round(done.ConductivityMicrosiemensPerCm / (1 + DemoRecipes.Tools.EcPenCompensationPerCelsius * (20 - 25)), 1),
            PH = steps[^1].PH,
            PHAfterADay = Math.Round(CarbonDioxideExchange.After(sofar, 0.05, 24, -3.4, s_conditions).Required().PH, 3),
            PHInBalanceWithAir = Math.Round(EquilibriumSolver.Solve(sofar, s_conditions with { Air = Air.Ambient }).Required().PH, 3),
            AlkalinityMilliequivalentsPerLitre = Math.Round(done.AlkalinityMeqPerKgWater * KgWaterPerLitre, 4),
            ClosestMineral = worst?.ClosestMineral,
            WorstSaturationIndex = worst?.WorstSaturationIndex,
            Serves = [],
            Cost = Math.Round(
                doses.Sum(dose => (decimal)dose.Grams / 1000 * dose.Item1.Product.PricePerKg ?? 0)
                + (decimal)((early + trim) * phDown.Product.DensityKgPerLitre.Value / 1000) * (phDown.Product.PricePerKg ?? 0)
                + (decimal)tap * waters.Tap.PricePerLitre, 4),
        };

        MixStep Pour(MixStepKind kind, double millilitres, string reason) =>
            Step(steps.Count + 1, kind, phDown.Product.Name, Math.Round(millilitres, 1), "mL", reason) with
            {
                ProductId = phDown.Product.Id,
                LotId = phDown.LotId,
                Cautions = ["Acid into water, never the reverse. Gloves and goggles. The label prevails."],
            };
    }

    private ComponentAmounts WaterOf(IReadOnlyList<MixStep> steps, Func<double, double> error)
    {
        var litres = steps.Where(step => step.Kind == MixStepKind.Water).Sum(step => step.Amount);
        return steps.Where(step => step.Kind == MixStepKind.Water)
            .Aggregate(ComponentAmounts.Zero, (sum, step) => sum.PlusScaled(SourceOf(step).MolPerKgWater, step.Amount / litres * error(1)));
    }

    private WaterSource SourceOf(MixStep step) => step.WaterId == waters.Rain.Id ? waters.Rain : waters.Tap;

    private IReadOnlyList<ServedGroup> Serves(IReadOnlyList<DemoPlant> served, CanPlan card) =>
    [
        .. served.Select((plant, i) => (plant, Walk: i + 1)).GroupBy(pair => pair.plant.Want).Select(group =>
        {
            var want = bands.Wants[group.Key].Want;
            return new ServedGroup(
                want.Name,
                [
                    .. group.Select(pair => new Portion
                    {
                        PlantId = pair.plant.Id,
                        Number = pair.plant.Number,
                        PlantName = pair.plant.Name,
                        Place = pair.plant.Place,
                        Millilitres = pair.plant.PotNow.FeedMillilitres,
                        WalkOrder = pair.Walk,
                    }),
                ],
                [
                    Result("nitrogen", "mg/L", want.TotalNitrogenMgPerLitre, card.MgPerLitre.TotalNitrogen),
                    .. want.FeedMgPerLitre.Select(band => Result(band.Key.ToString().ToLowerInvariant(), "mg/L", band.Value, card.MgPerLitre[band.Key])),
                    Result("EC", "µS/cm", want.EcMicrosiemensPerCm, card.EcMicrosiemensPerCm.Value),
                ]);
        }),
    ];

    private static BandResult Result(string what, string unit, Band band, double value) => new(what, unit, band, value, 0.95 * value, 1.05 * value);

    // Rounded, so that the last bits of an iterative solve do not make one demo differ from the next.
    private static Expected Band(double value, double relative, double absolute, int digits) => new(
        Math.Round(value * (1 - relative) - absolute, digits), Math.Round(value, digits), Math.Round(value * (1 + relative) + absolute, digits));

    private static (string? Mineral, double? Index) Closest(Solution solution)
    {
        var found = s_minerals.Select(mineral => (mineral, Index: solution.SaturationIndex(mineral))).Where(pair => pair.Index is not null).ToList();
        return found.Count == 0 ? (null, null) : found.Select(pair => (pair.mineral.ToString(), pair.Index)).MaxBy(pair => pair.Index);
    }

    private static MixStep Step(int number, MixStepKind kind, string what, double amount, string unit, string reason) => new()
    {
        Number = number,
        Kind = kind,
        What = what,
        Amount = amount,
        Unit = unit,
        Reason = reason,
        EcMicrosiemensPerCm = default,
        PH = default,
        ClosestMineral = null,
        WorstSaturationIndex = null,
    };
}
