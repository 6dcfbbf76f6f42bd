using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Tests.Demo;

namespace Rootwater.Ledger.Tests.Desks;

public sealed class PlanRequestsTests(LeanToBench bench) : IClassFixture<LeanToBench>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Nothing_chosen_means_all_there_is_but_leftovers()
    {
        var today = await TodayAsync();

        var request = PlanRequests.From(today, new PlanChoices());

        request.Groups.Count.ShouldBe(today.Due.Count);
        request.Waters.Count.ShouldBe(2);
        request.Cupboard.Count.ShouldBe(12);
        request.Leftovers.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_plant_left_out_gets_nothing_and_a_group_left_empty_is_gone()
    {
        var today = await TodayAsync();
        var smallest = today.Due.MinBy(group => group.Plants.Count)!;

        var request = PlanRequests.From(today, new PlanChoices { LeaveOutPlants = [.. smallest.Plants.Select(plant => plant.PlantId)] });

        request.Groups.Select(group => group.Name).ShouldNotContain(smallest.Group.Name);
    }

    [Fact]
    public async Task An_unknown_vessel_is_refused_with_those_there_are()
    {
        var today = await TodayAsync();

        var refused = Should.Throw<EntryException>(() => PlanRequests.From(today, new PlanChoices { Vessels = ["bathtub"] }));

        refused.Problems.Single().Value.ShouldBe("bathtub");
        refused.Problems.Single().Accepted.ShouldContain("5 L can");
    }

    [Theory]
    [InlineData(0)]
    [InlineData(7)]
    public async Task Cans_nobody_would_mix_are_refused(int cans)
    {
        var today = await TodayAsync();

        Should.Throw<EntryException>(() => PlanRequests.From(today, new PlanChoices { MostCans = cans })).Problems.Single().Field.ShouldBe("cans");
    }

    [Fact]
    public async Task Nobody_due_is_said()
    {
        var today = await TodayAsync();
        var everybody = today.Due.SelectMany(group => group.Plants).Select(plant => plant.PlantId).ToList();

        Should.Throw<EntryException>(() => PlanRequests.From(today, new PlanChoices { LeaveOutPlants = everybody })).Problems.Single().Field.ShouldBe("groups");
    }

    [Fact]
    public async Task What_is_due_on_the_demo_bench_can_be_planned_kept_and_forecast()
    {
        var today = await TodayAsync();
        var group = today.Due.MaxBy(due => due.Plants.Count)!;

        var outcome = await bench.Desks.Mixing.PlanAsync(new PlanChoices { Groups = [group.Group.Name], MostCans = 1 }, cancel: Cancel);

        var can = outcome.Plan.ShouldNotBeNull().Cans.Single();
        can.Steps.Count.ShouldBeGreaterThan(2);
        // A preview of the root: kept apart from what is saved.
        var forecast = await bench.Desks.Pots.ForecastGroupAsync(group, can, cancel: Cancel);
        forecast.Moments[^1].Hours.ShouldBe(7 * 24, 0.01);
        forecast.ShareInWindow.Value.ShouldBeInRange(0, 1);
        forecast.Moments.ShouldAllBe(moment => moment.RootPH.Low <= moment.RootPH.Value && moment.RootPH.Value <= moment.RootPH.High);
    }

    private Task<BenchToday> TodayAsync() => bench.Desks.Mixing.GetBenchTodayAsync(cancel: Cancel);
}
