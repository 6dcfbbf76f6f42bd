using CsCheck;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Rounds;

namespace Rootwater.Growing.Tests.Rounds;

public sealed class AbsencePlannerTests
{
    private static readonly DateOnly s_from = new(2026, 7, 1);

    private static PlantOnRound Basket(int number)
    {
        var plant = Shelf.Plant(number: number);
        return plant with
        {
            Pot = plant.Pot with { Culture = Culture.Basket, Medium = "bark mix", MediumLitres = 0.4, ReservoirLitres = 0, FeedMillilitres = 120 },
            Setup = new PotSetup { Id = plant.PlantId, Medium = Media.ById("bark-mix"), MediumLitres = 0.4, Culture = Culture.Basket, LeafAreaSquareMetres = 0.016 },
        };
    }

    [Fact]
    public void A_full_reservoir_outlasts_a_long_weekend()
    {
        var plan = AbsencePlanner.Plan([Shelf.Plant()], s_from, s_from.AddDays(3));
        plan.Visits.ShouldBeEmpty();
        var pot = plan.Pots.ShouldHaveSingleItem();
        pot.LastsDays!.Value.Low.ShouldBeGreaterThan(4);
        pot.DryOn.ShouldBeNull();
        pot.Todo.ShouldBe("Fill to the mark before leaving; nothing meanwhile.");
    }

    [Fact]
    public void Somebody_comes_before_the_first_pot_is_dry_and_only_for_those_that_need_it()
    {
        var plan = AbsencePlanner.Plan([Shelf.Plant(number: 1), Basket(2).InHeat(), Shelf.Plant(60, 3, "deciduous Dendrobium", PlantState.DryRest)], s_from, s_from.AddDays(9));
        plan.Visits.ShouldNotBeEmpty();
        plan.Pots[1].WaterOn.ShouldBe(plan.Visits);
        plan.Pots[0].WaterOn.ShouldBeEmpty();
        plan.Pots[2].Todo.ShouldBe("At dry rest: no water.");
        plan.Pots[2].LastsDays.ShouldBeNull();
        plan.Pots[1].Todo.ShouldBe("Plain water, 120 mL, poured over slowly.");
    }

    [Fact]
    public void A_pot_the_model_does_not_know_is_felt_on_every_visit() =>
        AbsencePlanner.Plan([Shelf.Plant() with { Setup = null }], s_from, s_from.AddDays(9)).Pots[0].Todo.ShouldStartWith("Not reckoned: feel the medium");

    [Fact]
    public void An_absence_that_ends_before_it_begins_is_refused() =>
        Should.Throw<ArgumentException>(() => AbsencePlanner.Plan([], s_from, s_from.AddDays(-1)));

    // The law of the sheet: at the near edge of its band no pot is ever longer without water than it lasts, wherever daily visits can help at all.
    [Fact]
    public void No_pot_runs_dry_between_two_waterings() => Gen.Select(Gen.Int[1, 6], Gen.Int[0, 20], Gen.Double[15, 35], Gen.Double[25, 90]).Sample((count, days, celsius, humidity) =>
    {
        var climate = new PotClimate { AirTemperatureCelsius = celsius, RelativeHumidityPercent = humidity };
        var plants = Enumerable.Range(1, count).Select(number => (number % 2 == 0 ? Basket(number) : Shelf.Plant(number: number)) with { Climate = climate }).ToList();
        var plan = AbsencePlanner.Plan(plants, s_from, s_from.AddDays(days));
        plan.Visits.ShouldBe(plan.Visits.Order());
        foreach (var pot in plan.Pots)
        {
            var lasts = Math.Max(1, Math.Floor(AbsencePlanner.Needs(pot.Plant, pot.LastsDays!.Value)));
            var moments = pot.WaterOn.Prepend(s_from).Append(s_from.AddDays(days + 1)).ToList();
            moments.Zip(moments.Skip(1)).ShouldAllBe(pair => pair.Second.DayNumber - pair.First.DayNumber <= lasts);
            pot.WaterOn.ShouldBeSubsetOf(plan.Visits);
        }
    }, iter: 200);
}
