using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Mixing;

public sealed class SeveralCansTests
{
    private static readonly Tools s_fine = new() { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.002 };

    private static WantGroup Group(string name, double nitrogen, int plants, int first, Band? pourPH = null) =>
        Kitchen.Group(name, Kitchen.Want(nitrogen, 60 + 8 * nitrogen), plants, firstNumber: first, pourPH: pourPH ?? new Band(5.2, 6, 7.2));

    [Fact]
    public void One_can_is_planned_where_one_serves_everybody()
    {
        var plan = Kitchen.Plan(Kitchen.Request([Group("a", 60, 4, 1), Group("b", 65, 4, 10)]) with { MostCans = 3, Tools = s_fine }).Plan.ShouldNotBeNull();

        plan.Cans.ShouldHaveSingleItem().Serves.Count.ShouldBe(2);
    }

    [Fact]
    public void A_second_can_is_planned_where_strong_and_weak_cannot_share_and_the_like_ones_share()
    {
        var outcome = Kitchen.Plan(Kitchen.Request([Group("strong", 100, 4, 1), Group("weak", 20, 4, 10), Group("strong too", 95, 4, 20), Group("weak too", 22, 4, 30)]) with { MostCans = 4, Tools = s_fine });

        outcome.Unmet.ShouldBeEmpty(CanPlannerTests.Card(outcome));
        outcome.Plan!.Cans.Select(can => string.Join("+", can.Serves.Select(served => served.Group).Order())).Order().ShouldBe(["strong+strong too", "weak+weak too"]);
    }

    [Fact]
    public void Every_plant_is_served_once_and_each_walk_is_in_order()
    {
        var request = Kitchen.Request([Group("strong", 100, 9, 1), Group("weak", 20, 7, 20), Group("middle", 55, 5, 40)]) with { MostCans = 3, Tools = s_fine };

        var plan = Kitchen.Plan(request).Plan.ShouldNotBeNull();

        plan.Cans.SelectMany(can => can.Serves).SelectMany(served => served.Portions).Select(portion => portion.Number).Order()
            .ShouldBe(request.Groups.SelectMany(group => group.Portions).Select(portion => portion.Number).Order());
        plan.Cans.SelectMany(can => can.Serves).ShouldAllBe(served => served.Portions.Select(portion => portion.WalkOrder).SequenceEqual(served.Portions.Select(portion => portion.WalkOrder).Order()));
        plan.Cans.ShouldAllBe(can => can.Litres >= can.Serves.SelectMany(served => served.Portions).Sum(portion => portion.Millilitres) / 1000 - 1e-9);
    }

    [Fact]
    public void Nothing_is_used_that_the_cupboard_does_not_hold()
    {
        var scarce = Kitchen.Salt(50, "the last of the calcium nitrate", "Ca(NO3)2·4H2O", 1m, grams: 1.0);
        var request = Kitchen.Request([Group("strong", 100, 8, 1), Group("weak", 30, 8, 20)], cupboard: [scarce, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.PhosphoricAcid]) with { MostCans = 2, Tools = s_fine };

        var outcome = Kitchen.Plan(request);

        outcome.Plan.ShouldNotBeNull().GramsLeftAfter.Values.ShouldAllBe(grams => grams >= -1e-9);
    }

    [Fact]
    public void A_weak_can_is_topped_from_a_strong_one_where_that_saves_weighing()
    {
        var request = Kitchen.Request([Group("strong", 80, 8, 1), Group("weak", 16, 4, 20)], [Kitchen.Rain], vessels: [new Vessel("5 L can", 5), new Vessel("2 L can", 2)]) with { MostCans = 2, Tools = new Tools { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.01 } };

        var outcome = Kitchen.Plan(request);

        TestContext.Current.TestOutputHelper!.WriteLine(CanPlannerTests.Card(outcome));
        var cans = outcome.Plan.ShouldNotBeNull().Cans;
        var topped = cans.Single(can => can.Steps.Any(step => step.Kind == MixStepKind.Leftover));
        var source = cans.Single(can => can != topped);
        var taken = topped.Steps.Single(step => step.Kind == MixStepKind.Leftover).Amount;
        source.Litres.ShouldBeGreaterThanOrEqualTo(taken + source.Serves.SelectMany(served => served.Portions).Sum(portion => portion.Millilitres) / 1000 - 1e-9);
        topped.Serves.SelectMany(served => served.Bands).ShouldAllBe(band => band.Met);
    }

    [Fact]
    public void What_is_left_of_an_older_can_is_used_up_where_it_fits()
    {
        var first = Kitchen.Plan(Kitchen.Request() with { Tools = s_fine }).Plan!.Cans[0];
        var request = Kitchen.Request() with { Tools = s_fine, Leftovers = [new Leftover(first.Id, "can A of Saturday", 0.5, first.MolPerKgWater, 1)] };

        var can = Kitchen.Plan(request).Plan.ShouldNotBeNull().Cans[0];

        can.Steps.ShouldContain(step => step.Kind == MixStepKind.Leftover && step.Amount > 0.25);
    }

    [Fact]
    public void The_gap_of_a_plan_for_a_few_groups_is_stated_between_nothing_and_all()
    {
        var plan = Kitchen.Plan(Kitchen.Request([Group("strong", 100, 4, 1), Group("weak", 20, 4, 10)]) with { MostCans = 2, Tools = s_fine }).Plan.ShouldNotBeNull();

        plan.RelativeGap.ShouldBeInRange(0, 0.9);
    }

    [Fact]
    public void Planning_that_is_cancelled_ends_by_exception()
    {
        using var cancel = new CancellationTokenSource();
        cancel.Cancel();

        Should.Throw<OperationCanceledException>(() => CanPlanner.Plan(Kitchen.Request(), cancel: cancel.Token));
    }

    [Fact]
    public void Progress_is_told_while_planning()
    {
        var told = new List<PlanProgress>();

        CanPlanner.Plan(Kitchen.Request(), new Listener(told), TestContext.Current.CancellationToken);

        told.Count.ShouldBeGreaterThan(2);
        told.ShouldAllBe(progress => progress.Doing.Length > 0 && progress.Share >= 0 && progress.Share <= 1);
    }

    private sealed class Listener(List<PlanProgress> told) : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value) => told.Add(value);
    }
}
