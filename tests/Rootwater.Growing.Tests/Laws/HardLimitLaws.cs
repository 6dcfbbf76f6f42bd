using System.Diagnostics;
using CsCheck;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Tests.Mixing;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>No plan breaks a hard limit, whatever stands in the cupboard and comes from the tap.</summary>
public sealed class HardLimitLaws
{
    private const int Cupboards = 2000;

    private static readonly SupplyItem[] s_products =
    [
        Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.AmmoniumNitrate,
        Kitchen.MonoammoniumPhosphate, Kitchen.PotassiumSulfate, Kitchen.MagnesiumNitrate, Kitchen.Urea, Kitchen.CalciumChloride, Kitchen.PhosphoricAcid,
        Kitchen.NitricAcid, Kitchen.CitricAcid, Kitchen.PotassiumHydroxide,
        Kitchen.Salt(40, "boric acid", "H3BO3", 5m), Kitchen.Salt(41, "zinc sulfate", "ZnSO4·7H2O", 4m), Kitchen.Salt(42, "copper sulfate", "CuSO4·5H2O", 6m),
        Kitchen.Salt(43, "manganese sulfate", "MnSO4·H2O", 4m), Kitchen.Salt(44, "table salt", "NaCl", 1m), Kitchen.IronChelate,
    ];

    private static readonly Gen<WaterSource> s_water =
        from calcium in Gen.Double[0, 3]
        from magnesium in Gen.Double[0, 1]
        from sodium in Gen.Double[0, 4]
        from chlorideShare in Gen.Double[0, 1]
        from sulfate in Gen.Double[0, 0.5]
        from carbonDioxide in Gen.Double[0.01, 0.4]
        from uncertainty in Gen.Double[0.01, 0.1]
        select new WaterSource
        {
            Id = Guid.CreateVersion7(),
            Name = "some water",
            MolPerKgWater = Kitchen.Water(calcium, magnesium, sodium, chloride: sodium * chlorideShare, sulfate: Math.Min(sulfate, calcium), carbonDioxide: carbonDioxide),
            RelativeUncertainty = uncertainty,
        };

    private static readonly Gen<PlanRequest> s_request =
        from waters in s_water.Array[1, 2]
        from picks in Gen.Int[0, s_products.Length - 1].HashSet[1, 8]
        from nitrogen in Gen.Double[10, 150]
        from ec in Gen.Double[150, 1400]
        from limits in (from na in Gen.Double[10, 80]
                        from cl in Gen.Double[10, 120]
                        from b in Gen.Double[0.05, 1]
                        from share in Gen.Double[0, 0.4]
                        from most in Gen.Double[300, 1500]
                        select new HardLimits { SodiumMgPerLitre = na, ChlorideMgPerLitre = cl, BoronMgPerLitre = b, ZincMgPerLitre = b, CopperMgPerLitre = b / 3, ManganeseMgPerLitre = 2 * b, AmmoniumShareOfNitrogen = share, UreaShareOfNitrogen = share, EcMicrosiemensPerCm = most })
        from micro in Gen.Bool
        from step in Gen.Bool.Select(fine => fine ? 0.01 : 0.1)
        from plants in Gen.Int[2, 12]
        select Kitchen.Request([Kitchen.Group("all", Wants(nitrogen, ec, limits, micro), plants)], waters, [.. picks.Select(i => s_products[i])]) with
        {
            Tools = new Tools { ScaleStepGrams = step, ScaleErrorGrams = step / 2 },
            TimeLimit = TimeSpan.FromMilliseconds(25),
        };

    private static Want Wants(double nitrogen, double ec, HardLimits limits, bool micro)
    {
        var want = Kitchen.Want(nitrogen, ec, limits: limits);
        return !micro ? want : want with
        {
            // Bands that pull against the limits: boron, zinc and sodium wanted far above what is allowed.
            FeedMgPerLitre = new Dictionary<Nutrient, Band>(want.FeedMgPerLitre)
            {
                [Nutrient.Boron] = new(0.5, 2, 4),
                [Nutrient.Zinc] = new(0.5, 2, 4),
                [Nutrient.Sodium] = new(50, 100, 200),
                [Nutrient.AmmoniumNitrogen] = new(0.5 * nitrogen, 0.8 * nitrogen, nitrogen),
            },
        };
    }

    [Fact]
    public void No_plan_breaks_a_hard_limit_at_its_upper_error_edge()
    {
        var (planned, none, closest) = (0, 0, 0.0);
        var clock = Stopwatch.StartNew();
        s_request.Sample(request =>
        {
            var outcome = Kitchen.Plan(request);
            if (outcome.Plan is not { } plan)
            {
                Interlocked.Increment(ref none);
                outcome.Unmet.ShouldNotBeEmpty();
                outcome.Unmet.ShouldAllBe(unmet => unmet.WayOut.Length > 10);
                return;
            }

            Interlocked.Increment(ref planned);
            foreach (var can in plan.Cans)
            {
                var used = Judge(request, can);
                lock (s_request)
                {
                    closest = Math.Max(closest, used);
                }

                used.ShouldBeLessThanOrEqualTo(1 + 1e-6, CanPlannerTests.Card(outcome));
            }
        }, iter: Cupboards);
        TestContext.Current.TestOutputHelper!.WriteLine($"{planned} plans, {none} requests that the hard limits leave no can for; nearest to a limit {closest:0.0000} of it; {clock.Elapsed.TotalSeconds:0} s");
        planned.ShouldBeGreaterThan(Cupboards / 3);
    }

    /// <summary>The largest share of a hard limit that a can uses, worked out here again from the card alone: amounts, labels and errors, no code of the planner.</summary>
    private static double Judge(PlanRequest request, CanPlan can)
    {
        var limits = request.Groups[0].Want.Limits;
        const double interval = 1.96;
        var solution = EquilibriumSolver.Solve(can.MolPerKgWater, new SolveConditions { Temperature = request.CanTemperature }).Required();
        var litresPerKg = EquilibriumSolver.Solve(ComponentAmounts.Zero, new SolveConditions { Temperature = request.CanTemperature }).Required().LitresPerKgWater;
        var variances = new double[NutrientAmounts.Count];
        var doses = NutrientAmounts.Zero;
        foreach (var group in can.Steps.Where(step => step.ProductId is not null).GroupBy(step => step.ProductId))
        {
            var product = request.Cupboard.First(item => item.Product.Id == group.Key).Product;
            var amount = group.Sum(step => step.Amount);
            var error = product.IsLiquid ? request.Tools.SyringeErrorMillilitres : request.Tools.ScaleErrorGrams;
            var relative = Math.Sqrt(Math.Pow(error / amount, 2) + Math.Pow(product.RelativeUncertainty, 2));
            var brings = product.MgPerKg.Scaled(amount * (product.DensityKgPerLitre ?? 1) / 1000 / can.Litres);
            doses = doses.PlusScaled(brings, 1);
            for (var n = 0; n < variances.Length; n++)
            {
                variances[n] += Math.Pow(relative * brings.AsSpan()[n], 2);
            }
        }

        // Concentrates: what the bottle holds, by its recipe, in the millilitres dosed.
        foreach (var bottle in can.Steps.Where(step => step.ProductId is null && step.Kind is MixStepKind.Product or MixStepKind.EarlyAcid or MixStepKind.Trim && step.WaterId is null && step.What.StartsWith("concentrate", StringComparison.Ordinal)).GroupBy(step => step.What))
        {
            var recipe = can.Concentrates.Single(each => bottle.Key.EndsWith(" " + each.Name, StringComparison.Ordinal));
            var millilitres = bottle.Sum(step => step.Amount);
            foreach (var (id, _, grams) in recipe.Weigh)
            {
                var product = request.Cupboard.First(item => item.Product.Id == id).Product;
                var weighing = (product.IsLiquid ? request.Tools.SyringeErrorMillilitres * product.DensityKgPerLitre!.Value : request.Tools.ScaleErrorGrams) / grams;
                var relative = Math.Sqrt(Math.Pow(request.Tools.SyringeErrorMillilitres / millilitres, 2) + Math.Pow(product.RelativeUncertainty, 2) + weighing * weighing);
                var brings = product.MgPerKg.Scaled(grams / recipe.Litres / 1000 * millilitres / 1000 / can.Litres);
                doses = doses.PlusScaled(brings, 1);
                for (var n = 0; n < variances.Length; n++)
                {
                    variances[n] += Math.Pow(relative * brings.AsSpan()[n], 2);
                }
            }
        }

        foreach (var step in can.Steps.Where(step => step.Kind == MixStepKind.Water))
        {
            var water = request.Waters.First(each => each.Id == step.WaterId);
            var brings = Nutrients.MilligramsIn(water.MolPerKgWater.Scaled(step.Amount / can.Litres / litresPerKg));
            for (var n = 0; n < variances.Length; n++)
            {
                variances[n] += Math.Pow(water.RelativeUncertainty * brings.AsSpan()[n], 2);
            }
        }

        for (var n = 0; n < variances.Length; n++)
        {
            variances[n] += Math.Pow(0.01 * doses.AsSpan()[n], 2);
        }

        double Edge(Nutrient nutrient) => can.MgPerLitre[nutrient] + interval * Math.Sqrt(variances[(int)nutrient]);
        var used = new[]
        {
            Edge(Nutrient.Sodium) / limits.SodiumMgPerLitre, Edge(Nutrient.Chloride) / limits.ChlorideMgPerLitre, Edge(Nutrient.Boron) / limits.BoronMgPerLitre,
            Edge(Nutrient.Iron) / limits.IronMgPerLitre, Edge(Nutrient.Molybdenum) / limits.MolybdenumMgPerLitre,
            Edge(Nutrient.Zinc) / limits.ZincMgPerLitre, Edge(Nutrient.Copper) / limits.CopperMgPerLitre, Edge(Nutrient.Manganese) / limits.ManganeseMgPerLitre,
            solution.ConductivityAt25MicrosiemensPerCm() / limits.EcMicrosiemensPerCm,
            can.MgPerLitre[Nutrient.AmmoniumNitrogen] <= 1e-9 ? 0 : can.MgPerLitre[Nutrient.AmmoniumNitrogen] / can.MgPerLitre.TotalNitrogen / Math.Max(1e-12, limits.AmmoniumShareOfNitrogen),
            can.MgPerLitre[Nutrient.UreaNitrogen] <= 1e-9 ? 0 : can.MgPerLitre[Nutrient.UreaNitrogen] / can.MgPerLitre.TotalNitrogen / Math.Max(1e-12, limits.UreaShareOfNitrogen),
        };
        return used.Max();
    }
}
