using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>How well each ion of a water, and what each label declares, is known: and that hard limits are judged by it.</summary>
public sealed class DoubtTests
{
    // Pen and drops only: what stands beside calcium and alkalinity is supposed.
    private static readonly WaterReport s_softened = new WaterReport { Name = "tap", Readings = [] }
        .With(WaterQuantity.Conductivity, 700, WaterUnit.MicrosiemensPerCm).With(WaterQuantity.Hardness, 3, WaterUnit.GermanDegrees).With(WaterQuantity.Alkalinity, 12, WaterUnit.GermanDegrees);

    [Fact]
    public void Each_ions_spread_is_that_of_its_band_and_every_doubt_is_neutral()
    {
        var water = WaterCompleter.Complete(s_softened);
        var source = water.Source.ShouldNotBeNull();

        source.Doubts.Count.ShouldBeInRange(2, 9);
        foreach (var doubt in source.Doubts)
        {
            doubt.NetCharge().ShouldBe(0, 1e-9);
        }

        foreach (var value in water.Values.Where(value => value.MmolPerLitre > 0.05 && WaterIon.Find(value.Quantity) is not null))
        {
            var component = WaterIon.Find(value.Quantity)!.Component;
            var sd = 1000 * Math.Sqrt(source.Doubts.Sum(doubt => doubt[component] * doubt[component]));
            // A band from the 5th to the 95th of 60 draws, which need not be normal.
            (3.29 * sd).ShouldBeInRange(0.6 * (value.High - value.Low), 1.8 * (value.High - value.Low), value.Quantity.ToString());
        }
    }

    [Fact]
    public void A_limit_is_judged_by_how_well_that_ion_is_known_not_the_water_as_a_whole()
    {
        var source = WaterCompleter.Complete(s_softened).Source.ShouldNotBeNull();
        var chloride = source.MolPerKgWater[Component.Chloride];
        var own = Math.Sqrt(source.Doubts.Sum(doubt => doubt[Component.Chloride] * doubt[Component.Chloride])) / chloride;
        own.ShouldBeGreaterThan(1.3 * source.RelativeUncertainty, "supposed chloride is known worse than the water as a whole");

        // The limit stands between the edge by the one figure and the edge by chloride's own.
        var mg = Nutrients.MilligramsIn(source.MolPerKgWater)[Nutrient.Chloride];
        var limit = mg * (1 + 1.96 * (own + source.RelativeUncertainty) / 2);
        var request = Kitchen.Request([Kitchen.Group("all", Kitchen.Want(60, 550, limits: new HardLimits { ChlorideMgPerLitre = limit, SodiumMgPerLitre = 1000 }))], [source]);

        var known = Kitchen.Plan(request);
        var oneFigure = Kitchen.Plan(request with { Waters = [source with { Doubts = [] }] });

        oneFigure.Plan.ShouldNotBeNull();
        known.Plan.ShouldBeNull("the upper edge of the chloride in that water is over the limit");
        known.Unmet[0].WayOut.ShouldContain("chloride");
    }

    [Fact]
    public void What_a_trace_label_leaves_open_of_its_salts_widens_its_EC_and_not_its_contents()
    {
        var product = ProductFactory.FromLabel(LabelText.Parse("Trace mix\nIron (Fe) 7 % EDTA\nManganese (Mn) 3 % EDTA\nZinc (Zn) 0.5 %\nBoron (B) 0.7 %").Label!).Product.ShouldNotBeNull();

        product.RelativeUncertainty.ShouldBe(0.03);
        product.EcUncertaintyMicrosiemensPerCm.ShouldBeGreaterThan(0);
    }

    [Fact]
    public void Declared_biuret_keeps_below_its_limit_at_its_upper_edge()
    {
        var (item, limits) = (Kitchen.Urea, new HardLimits { UreaShareOfNitrogen = 1, BiuretMgPerLitre = 0.8 });
        var dirty = item with { Product = item.Product with { BiuretPercent = 1.2, RelativeUncertainty = 0.03 } };
        var request = Kitchen.Request([Kitchen.Group("all", Kitchen.Want(60, 550, limits: limits), plants: 8)], cupboard: [dirty, Kitchen.PotassiumSulfate, Kitchen.MonopotassiumPhosphate]) with { Tools = new Tools { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.002 } };

        var can = Kitchen.Plan(request).Plan.ShouldNotBeNull().Cans[0];
        var grams = can.Steps.Where(step => step.ProductId == dirty.Product.Id).Sum(step => step.Amount);

        grams.ShouldBeGreaterThan(0);
        ((grams + 1.96 * 0.002) * 12 * (1 + 1.96 * 0.03) / can.Litres).ShouldBeLessThanOrEqualTo(0.8 + 1e-9);
        Kitchen.Plan(request with { Cupboard = [item, .. request.Cupboard.Skip(1)] }).Plan!.Cans[0].Steps.Where(step => step.ProductId == item.Product.Id).Sum(step => step.Amount).ShouldBeGreaterThan(1.3 * grams);
    }

    [Fact]
    public void The_rest_of_an_older_can_brings_its_biuret_into_the_same_limit()
    {
        var (item, limits) = (Kitchen.Urea, new HardLimits { UreaShareOfNitrogen = 1, BiuretMgPerLitre = 0.8 });
        var dirty = item with { Product = item.Product with { BiuretPercent = 1.2, RelativeUncertainty = 0.03 } };
        var tools = new Tools { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.002 };
        var request = Kitchen.Request([Kitchen.Group("all", Kitchen.Want(60, 550, limits: limits), plants: 8)], cupboard: [dirty, Kitchen.PotassiumSulfate, Kitchen.MonopotassiumPhosphate]) with { Tools = tools };
        var first = Kitchen.Plan(request).Plan.ShouldNotBeNull().Cans[0];
        var weighed = first.Steps.Where(step => step.ProductId == dirty.Product.Id).Sum(step => step.Amount);
        first.BiuretMgPerLitre.ShouldBe(weighed * 12 / first.Litres, 1e-9, "12 mg a gram, over the can");

        // Said to be as dirty as its limit allows a new can to be, and again with three times that, as a can mixed for tougher plants may be.
        foreach (var declared in new[] { first.BiuretMgPerLitre, 3 * first.BiuretMgPerLitre })
        {
            var old = new Leftover(first.Id, "can A of Saturday", 2, first.MolPerKgWater, 1) { BiuretMgPerLitre = declared };
            var can = Kitchen.Plan(request with { Leftovers = [old] }).Plan.ShouldNotBeNull().Cans[0];
            var grams = can.Steps.Where(step => step.ProductId == dirty.Product.Id).Sum(step => step.Amount);
            var taken = can.Steps.Where(step => step.FromCanId == first.Id).Sum(step => step.Amount);

            // Both at the upper edge of label and tool: what is left of a can is known to 5 %.
            var atWorst = (grams > 0 ? (grams + 1.96 * 0.002) * 12 * (1 + 1.96 * 0.03) : 0) + (taken > 0 ? (taken + 1.96 * tools.WaterStepLitres / Math.Sqrt(12)) * declared * (1 + 1.96 * 0.05) : 0);
            (atWorst / can.Litres).ShouldBeLessThanOrEqualTo(0.8 + 1e-9);
            can.BiuretMgPerLitre.ShouldBe((grams * 12 + taken * declared) / can.Litres, 1e-9);
        }
    }

    [Fact]
    public void A_card_without_biuret_is_written_as_cards_were_before_it_was_counted()
    {
        var clean = Kitchen.Plan(Kitchen.Request()).Plan.ShouldNotBeNull().Cans[0];

        var json = System.Text.Json.JsonSerializer.SerializeToElement(clean);
        json.TryGetProperty("BiuretMgPerLitre", out _).ShouldBeFalse("a ledger checks its cards letter by letter against its facts");
        System.Text.Json.JsonSerializer.SerializeToElement(clean with { BiuretMgPerLitre = 0.5 }).GetProperty("BiuretMgPerLitre").GetDouble().ShouldBe(0.5);
    }

    [Fact]
    public void A_label_that_tells_its_tolerance_is_believed_as_far_as_that()
    {
        static double Of(string line) => ProductFactory.FromLabel(LabelText.Parse($"Trace mix\nIron (Fe) 7 % EDTA\nManganese (Mn) 3 % EDTA\nZinc (Zn) 0.5 %\nBoron (B) 0.7 %\n{line}").Label!).Product.ShouldNotBeNull().RelativeUncertainty;

        Of("Tolerance 10 %").ShouldBe(0.10 / 1.96, 1e-9);
        Of("± 2 %").ShouldBe(0.02 / 1.96, 1e-9);
        Of("").ShouldBe(0.03);
    }

    [Theory]
    [InlineData("Urea 46 % N. Biuret 0.9 %", 0.9)]
    [InlineData("max. 1,2 % biuret", 1.2)]
    [InlineData("Biuret (max.): 1 %", 1.0)]
    [InlineData("Urea 46 % N", null)]
    public void Biuret_is_read_from_the_label(string text, double? percent) => Biuret.DeclaredIn(text).ShouldBe(percent);
}
