using Rootwater.Chemistry.Quantities;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Mixing;

public sealed class ConcentrateTests
{
    private static readonly Tools s_tools = new() { ScaleStepGrams = 0.1, ScaleErrorGrams = 0.05 };

    private static IReadOnlyList<Bottle> Design(params (SupplyItem Item, double Grams)[] wanted) =>
        new ConcentrateDesigner(new CanChemistry(Temperature.FromCelsius(20)), s_tools).Design([.. wanted.Select(each => (Columns.OfProduct(each.Item, s_tools), each.Grams))], 'A');

    [Fact]
    public void Calcium_stands_apart_from_sulfate_and_phosphate_because_of_what_would_fall_out()
    {
        var bottles = Design((Kitchen.CalciumNitrate, 0.6), (Kitchen.MagnesiumSulfate, 0.5), (Kitchen.MonopotassiumPhosphate, 0.2), (Kitchen.PotassiumNitrate, 0.3));

        bottles.Count.ShouldBe(2);
        var withCalcium = bottles.Single(bottle => bottle.Recipe.Weigh.Any(each => each.ProductName == Kitchen.CalciumNitrate.Product.Name));
        withCalcium.Recipe.Weigh.ShouldNotContain(each => each.ProductName == Kitchen.MagnesiumSulfate.Product.Name || each.ProductName == Kitchen.MonopotassiumPhosphate.Product.Name);
        withCalcium.Recipe.Cautions.ShouldContain(caution => caution.Contains("never in one concentrate with sulfates or phosphates", StringComparison.Ordinal));
        bottles.ShouldAllBe(bottle => bottle.Recipe.WorstSaturationIndex == null || bottle.Recipe.WorstSaturationIndex < 0);
    }

    [Fact]
    public void Salts_that_do_not_clash_share_a_bottle() =>
        Design((Kitchen.MagnesiumSulfate, 0.5), (Kitchen.MonopotassiumPhosphate, 0.2), (Kitchen.PotassiumNitrate, 0.3)).ShouldHaveSingleItem().Recipe.Weigh.Count.ShouldBe(3);

    [Fact]
    public void Every_weighing_into_a_bottle_is_good_to_two_per_cent()
    {
        var bottles = Design((Kitchen.CalciumNitrate, 0.3), (Kitchen.MonopotassiumPhosphate, 0.05));

        bottles.SelectMany(bottle => bottle.Recipe.Weigh).ShouldAllBe(each => s_tools.ScaleErrorGrams / each.Grams <= 0.02);
    }

    [Fact]
    public void A_small_can_and_a_coarse_scale_lead_to_concentrates_and_every_dose_on_the_card_is_measured_within_five_per_cent()
    {
        var outcome = Kitchen.Plan(Kitchen.Request([Kitchen.Group("two seedlings", Kitchen.Want(30, 320), plants: 2, millilitres: 240)], waters: [Kitchen.Rain]));
        var plan = outcome.Plan.ShouldNotBeNull();
        TestContext.Current.TestOutputHelper!.WriteLine(CanPlannerTests.Card(outcome));

        plan.Concentrates.ShouldNotBeEmpty();
        foreach (var dose in plan.Cans.SelectMany(can => can.Steps).Where(step => step.Kind is MixStepKind.Product or MixStepKind.EarlyAcid or MixStepKind.Trim).GroupBy(step => step.What))
        {
            var error = dose.First().Unit == "mL" ? s_tools.SyringeErrorMillilitres : s_tools.ScaleErrorGrams;
            (error / dose.Sum(step => step.Amount)).ShouldBeLessThanOrEqualTo(Columns.MostMeasuringError + 1e-9, dose.Key);
        }
    }
}
