using Rootwater.Growing.Bench;
using Rootwater.Growing.Rounds;

namespace Rootwater.Growing.Tests.Rounds;

public sealed class RoundRulesTests
{
    private static Duty Judge(PlantOnRound plant, int daysLater = 0) => RoundRules.Judge(plant, Shelf.Today.AddDays(daysLater));

    [Theory]
    [InlineData(6, false)]
    [InlineData(7, true)]
    [InlineData(10, true)]
    public void A_plant_is_due_when_the_days_of_its_plan_have_passed(int daysAgo, bool due)
    {
        var duty = Judge(Shelf.Plant(daysAgo));
        duty.IsDue.ShouldBe(due);
        if (due)
        {
            duty.Act.ShouldBe(RoundAct.Feed);
            duty.Millilitres.ShouldBe(200);
            duty.DueSince.ShouldBe(Shelf.Today.AddDays(7 - daysAgo));
            duty.Why.ShouldStartWith($"{daysAgo} days since its feed, every 7 days planned.");
        }
        else
        {
            duty.Why.ShouldContain("due on 15 March");
        }
    }

    [Fact]
    public void A_pot_that_was_never_fed_is_due_at_once() => Judge(Shelf.Plant(null)).Act.ShouldBe(RoundAct.Feed);

    [Fact]
    public void Watered_but_never_fed_it_is_fed_a_third_of_its_days_later()
    {
        var watered = Shelf.Plant(null).With(new PouredIn(Shelf.Today, RoundAct.Leach, 0.6, 20));
        Judge(watered, 1).Why.ShouldStartWith("Watered, due on 16 March.");
        Judge(watered, 2).Act.ShouldBe(RoundAct.Feed);
    }

    [Fact]
    public void Without_a_want_nobody_knows_the_feed_and_it_gets_water() => Judge(Shelf.Plant() with { FeedEcMicrosiemensPerCm = null }).Act.ShouldBe(RoundAct.PlainWater);

    [Fact]
    public void A_reservoir_reckoned_nearly_full_is_looked_at_first() =>
        Judge(Shelf.Plant() with { Climate = new() { AirTemperatureCelsius = 14, RelativeHumidityPercent = 80 } }).Sign.ShouldBe("look first");

    [Fact]
    public void Still_full_puts_it_off_for_half_the_days_of_its_plan()
    {
        var passed = Shelf.Plant() with { PassedBy = new PassedBy(Shelf.Today, PassedByFor.StillFull) };
        Judge(passed).IsDue.ShouldBeFalse();
        Judge(passed, 3).Why.ShouldBe("Still full on 14 March: look again on 18 March.");
        Judge(passed, 4).Act.ShouldBe(RoundAct.Feed);
    }

    [Fact]
    public void Not_reached_stays_due_and_an_older_skip_is_forgotten_at_the_next_feed()
    {
        Judge(Shelf.Plant() with { PassedBy = new PassedBy(Shelf.Today.AddDays(-1), PassedByFor.NotReached) }).IsDue.ShouldBeTrue();
        Judge(Shelf.Plant() with { PassedBy = new PassedBy(Shelf.Today.AddDays(-8), PassedByFor.StillFull) }).IsDue.ShouldBeTrue();
    }

    [Fact]
    public void A_missed_week_is_one_feed_of_the_usual_strength()
    {
        var duty = Judge(Shelf.Plant(21));
        duty.Act.ShouldBe(RoundAct.Feed);
        duty.Missed.ShouldBe(2);
        duty.Millilitres.ShouldBe(200);
        duty.Why.ShouldContain("2 feeds were missed: it gets one of the usual strength, nothing is made up for.");
    }

    [Fact]
    public void Dry_for_days_it_is_watered_through_and_fed_later()
    {
        var dry = Shelf.Plant(21).InHeat();
        var duty = Judge(dry);
        duty.Act.ShouldBe(RoundAct.PlainWater);
        duty.Sign.ShouldBe("dry");
        duty.Now!.DryDays.ShouldBeGreaterThan(3);
        duty.Millilitres.ShouldBeInRange(250, 400, "the reservoir and what the medium has lost");

        var watered = dry.With(new PouredIn(Shelf.Today, RoundAct.PlainWater, 0.4, 100));
        Judge(watered, 1).IsDue.ShouldBeFalse();
        Judge(watered, 2).Act.ShouldBe(RoundAct.Feed);
    }

    [Fact]
    public void Dry_long_before_its_feed_it_gets_plain_water()
    {
        var hot = Shelf.Plant(4).InHeat();
        hot = hot with { Pot = hot.Pot with { FeedEveryDays = 21 } };
        var day = Enumerable.Range(0, 14).First(later => Judge(hot, later).IsDue);
        Judge(hot, day).Act.ShouldBe(RoundAct.PlainWater);
        Judge(hot, day).Why.ShouldContain("before its feed: plain water, for the salts are still in the pot");
    }

    [Theory]
    [InlineData(7, RoundAct.Feed)]
    [InlineData(15, RoundAct.PlainWater)]
    public void A_basket_is_meant_to_dry_and_only_a_missed_feed_is_wetted_first(int daysAgo, RoundAct act)
    {
        var plant = Shelf.Plant(daysAgo);
        var basket = plant with
        {
            Pot = plant.Pot with { Culture = Culture.Basket, Medium = "bark mix", MediumLitres = 0.4, ReservoirLitres = 0 },
            Setup = new() { Id = plant.PlantId, Medium = Rootwater.Growing.Pots.Media.ById("bark-mix"), MediumLitres = 0.4, Culture = Culture.Basket, LeafAreaSquareMetres = 0.016 },
        };
        Judge(basket).Act.ShouldBe(act);
        Judge(basket).Now!.DryDays.ShouldBeGreaterThan(2);
    }

    [Theory]
    [InlineData(1600, RoundAct.Leach)]
    [InlineData(1300, RoundAct.PlainWater)]
    [InlineData(800, RoundAct.Feed)]
    public void What_was_read_in_the_reservoir_decides(double ec, RoundAct act)
    {
        var duty = Judge(Shelf.Plant().With(new EcSeen(Shelf.Today.AddDays(-1), ec, false)));
        duty.Act.ShouldBe(act);
        if (act == RoundAct.Leach)
        {
            duty.Sign.ShouldBe("EC creeping, read 1.6 mS/cm");
            duty.Why.ShouldContain("leached from 1.5 mS/cm");
            duty.Millilitres.ShouldBeInRange(400, 800);
        }
    }

    [Fact]
    public void A_gently_fed_plant_is_leached_earlier()
    {
        var light = Shelf.Plant().With(new EcSeen(Shelf.Today, 1100, false)) with { FeedEcMicrosiemensPerCm = new Band(170, 300, 480) };
        RoundRules.LeachAt(light, RoundOptions.Default).ShouldBe(960);
        Judge(light).Act.ShouldBe(RoundAct.Leach);
    }

    [Fact]
    public void A_reading_from_before_the_last_pouring_no_longer_decides()
    {
        var leached = Shelf.Plant().With(new EcSeen(Shelf.Today.AddDays(-9), 1600, false));
        Judge(leached).Act.ShouldNotBe(RoundAct.Leach);
    }

    [Fact]
    public void Nothing_is_leached_twice_in_a_fortnight()
    {
        var plant = Shelf.Plant().With(new PouredIn(Shelf.Today.AddDays(-5), RoundAct.Leach, 0.6, 100), new EcSeen(Shelf.Today, 1600, false));
        Judge(plant).Act.ShouldNotBe(RoundAct.Leach);
    }

    [Fact]
    public void A_dry_rest_of_a_deciduous_kind_gets_nothing()
    {
        var duty = Judge(Shelf.Plant(60, kind: "deciduous Dendrobium", states: PlantState.DryRest));
        duty.IsDue.ShouldBeFalse();
        duty.Why.ShouldStartWith("At dry rest: no water and no feed");
    }

    [Fact]
    public void A_sparing_cool_rest_gets_a_little_water_at_three_times_the_distance()
    {
        var resting = Shelf.Plant(20, kind: "soft-caned Dendrobium", states: PlantState.CoolRest);
        Judge(resting).IsDue.ShouldBeFalse();
        var duty = Judge(resting, 1);
        duty.Act.ShouldBe(RoundAct.PlainWater);
        duty.Millilitres.ShouldBe(100);
    }

    [Fact]
    public void A_rest_its_kind_does_not_know_is_taken_as_it_is_called()
    {
        Judge(Shelf.Plant(60, states: PlantState.DryRest)).IsDue.ShouldBeFalse();
        Judge(Shelf.Plant(13, states: PlantState.CoolRest)).IsDue.ShouldBeFalse();
        Judge(Shelf.Plant(14, states: PlantState.CoolRest)).Act.ShouldBe(RoundAct.Feed);
    }

    [Fact]
    public void A_pot_of_an_unknown_medium_goes_by_the_calendar_alone()
    {
        var duty = Judge(Shelf.Plant() with { Setup = null });
        duty.Act.ShouldBe(RoundAct.Feed);
        duty.Now.ShouldBeNull();
    }

    [Fact]
    public void The_walk_goes_by_its_order_with_quarantine_last_and_says_what_was_missed()
    {
        var plan = RoundPlanner.Plan(
        [
            Shelf.Plant(number: 2) with { Quarantine = new Quarantine(Shelf.Today.AddDays(-18), 42, "new", null) },
            Shelf.Plant(21, number: 9), Shelf.Plant(15, number: 4), Shelf.Plant(1, number: 1),
        ], Shelf.Today);
        plan.Stops.Select(stop => stop.Plant.Number).ShouldBe([1, 4, 9, 2]);
        plan.Notes.ShouldHaveSingleItem().ShouldStartWith("2 plants have missed feeds");
        RoundPlanner.QuarantineWords(plan.Stops[3].Plant.Quarantine!, Shelf.Today).ShouldStartWith("Quarantine, day 19 of 42: own syringe");
    }
}
