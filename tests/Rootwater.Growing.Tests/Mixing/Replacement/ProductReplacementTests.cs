using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Replacement;

namespace Rootwater.Growing.Tests.Mixing.Replacement;

/// <summary>A product is out: what changes, and what to buy.</summary>
public sealed class ProductReplacementTests
{
    private static PlanRequest Request(params Growing.Cupboard.SupplyItem[] cupboard) => Kitchen.Request(cupboard: cupboard) with { TimeLimit = TimeSpan.FromSeconds(3) };

    [Fact]
    public void Without_its_only_phosphate_the_plan_breaks_phosphorus_and_says_for_whom()
    {
        var plan = ProductReplacement.Without(Request(Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate), Kitchen.MonopotassiumPhosphate.Product.Id, cancel: TestContext.Current.CancellationToken);
        plan.With.Unmet.ShouldNotContain(want => want.What == "phosphorus");
        plan.NotFor.ShouldNotBeEmpty();
        plan.Groups.SelectMany(group => group.Broken).ShouldContain(want => want.What == "phosphorus");
        plan.Groups.SelectMany(group => group.Changes).ShouldContain(change => change.Nutrient == Nutrient.Phosphorus && change.Without < 0.1 * change.With);
        plan.Words.ShouldContain(words => words.Contains("should not get the plan"));
    }

    [Fact]
    public void Without_a_product_that_the_plan_does_not_take_nothing_changes()
    {
        var plan = ProductReplacement.Without(Request(Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.CalciumChloride), Kitchen.CalciumChloride.Product.Id, cancel: TestContext.Current.CancellationToken);
        plan.With.Plan.ShouldNotBeNull();
        plan.IsUsed.ShouldBeFalse();
        plan.Groups.SelectMany(group => group.Changes).ShouldBeEmpty();
        plan.Groups.SelectMany(group => group.Broken).ShouldBeEmpty();
        plan.CostChange.ShouldBe(0);
    }

    [Fact]
    public void The_best_single_purchase_is_the_one_that_brings_what_is_missing()
    {
        var request = Request(Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MagnesiumSulfate);
        var options = ProductReplacement.BestPurchase(request, [Kitchen.CalciumChloride.Product, Kitchen.MonopotassiumPhosphate.Product], cancel: TestContext.Current.CancellationToken);
        options[0].Product.Id.ShouldBe(Kitchen.MonopotassiumPhosphate.Product.Id);
        options.ShouldNotContain(option => option.Product.Id == Kitchen.CalciumChloride.Product.Id && option.MissLeft < options[0].MissLeft);
    }

    [Fact]
    public void A_product_that_is_not_there_is_refused() =>
        Should.Throw<ArgumentException>(() => ProductReplacement.Without(Request(Kitchen.CalciumNitrate), Guid.CreateVersion7(), cancel: TestContext.Current.CancellationToken)).Message.ShouldContain("cupboard");
}
