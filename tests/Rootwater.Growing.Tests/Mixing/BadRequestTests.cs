using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Files;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>What cannot be planned is refused with the field, the value and what would be accepted.</summary>
public sealed class BadRequestTests
{
    private const string Good = """
        {
          "groups": [ { "name": "all", "want": { "kind": "Cattleya", "state": "leafGrowth" }, "plants": 2, "millilitresEach": 200 } ],
          "waters": [ { "name": "rain", "mgPerLitre": { "calcium": 2 } } ],
          "cupboard": [ { "formula": "KNO3", "grams": 100 } ],
          "vessels": [ { "name": "can", "litres": 2 } ]
        }
        """;

    [Fact]
    public void The_file_they_are_made_from_is_good() => PlanRequestFile.Read(Good).Groups.ShouldHaveSingleItem().Portions.Count.ShouldBe(2);

    [Theory]
    [InlineData("\"formula\": \"KNO3\", \"grams\": 100", "\"formula\": \"KNO3\", \"grams\": -1", "cupboard[0].lots[0].gramsLeft", "-1")]
    [InlineData("\"formula\": \"KNO3\", \"grams\": 100", "\"formula\": \"XyZ3\", \"grams\": 100", "cupboard[0].formula", "XyZ3")]
    [InlineData("\"formula\": \"KNO3\", \"grams\": 100", "\"formula\": \"H3PO4\", \"percentByWeight\": 24, \"millilitres\": 100", "cupboard[0].densityKgPerLitre", null)]
    [InlineData("\"formula\": \"KNO3\", \"grams\": 100", "\"formula\": \"KNO3\", \"grams\": 1e12", "cupboard[0].lots[0].gramsLeft", "1000000000000")]
    [InlineData("{ \"formula\": \"KNO3\", \"grams\": 100 }", "", "cupboard", null)]
    [InlineData("{ \"name\": \"rain\", \"mgPerLitre\": { \"calcium\": 2 } }", "", "waters", null)]
    [InlineData("\"calcium\": 2", "\"calcium\": 2, \"chloride\": 300", "waters[0].mgPerLitre", null)]
    [InlineData("\"calcium\": 2", "\"calcium\": -2", "waters[0].mgPerLitre.calcium", "-2")]
    [InlineData("\"calcium\": 2", "\"unobtainium\": 2", "waters[0].mgPerLitre.unobtainium", null)]
    [InlineData("\"litres\": 2", "\"litres\": -2", "vessels[0].litres", "-2")]
    [InlineData("\"plants\": 2", "\"plants\": 0", "groups[0].plants", "0")]
    [InlineData("\"millilitresEach\": 200", "\"millilitresEach\": 1e9", "groups[0].portions[0].millilitres", "1000000000")]
    [InlineData("\"state\": \"leafGrowth\"", "\"state\": \"dancing\"", "groups[0].want.state", "dancing")]
    [InlineData("\"plants\": 2", "\"plantz\": 2", "groups[0].plantz", null)]
    [InlineData("\"litres\": 2", "\"litres\": \"two\"", "vessels[0].litres", null)]
    [InlineData("\"name\": \"all\",", "\"name\": \"all\", \"pourPH\": { \"low\": 6, \"ideal\": 5, \"high\": 7 },", "groups[0].pourPH", "6 / 5 / 7")]
    public void The_field_is_named(string good, string bad, string field, string? value)
    {
        var problem = Should.Throw<PlanRequestException>(() => PlanRequestFile.Read(Good.Replace(good, bad, StringComparison.Ordinal)));

        problem.Problems.ShouldContain(each => each.Field == field && each.Value == value && each.Accepted.Length > 3, problem.Message);
    }

    [Fact]
    public void What_is_not_JSON_says_on_which_line() =>
        Should.Throw<PlanRequestException>(() => PlanRequestFile.Read("{\n  \"groups\": [ }")).Problems.ShouldHaveSingleItem().Accepted.ShouldContain("JSON");

    [Fact]
    public void More_drink_than_the_cans_hold_is_said_with_the_number_of_cans()
    {
        var outcome = Kitchen.Plan(Kitchen.Request([Kitchen.Group("thirsty", Kitchen.Want(), plants: 50)]));

        outcome.Plan.ShouldBeNull();
        outcome.Unmet.ShouldHaveSingleItem().WayOut.ShouldContain("3 cans");
    }

    [Fact]
    public void A_salty_tap_alone_is_no_water_and_the_share_of_rain_that_would_do_is_said()
    {
        var salty = Kitchen.HardTap with { MolPerKgWater = Kitchen.Water(calcium: 1, sodium: 9, chloride: 5, carbonDioxide: 0.2) };

        var outcome = Kitchen.Plan(Kitchen.Request(waters: [salty]));

        outcome.Plan.ShouldBeNull();
        var wayOut = outcome.Unmet.ShouldHaveSingleItem().WayOut;
        wayOut.ShouldContain("sodium");
        wayOut.ShouldContain("chloride");
        wayOut.ShouldContain("rain or reverse osmosis water for at least");
    }

    [Fact]
    public void An_old_can_with_citric_acid_in_it_is_not_topped()
    {
        var totals = Kitchen.Water(calcium: 1, carbonDioxide: 0.1).With(Rootwater.Chemistry.Species.Component.Citrate, 1e-4);
        var request = Kitchen.Request() with { Leftovers = [new Leftover(Kitchen.Id(1), "can A of last week", 1, totals, AgeDays: 6)] };

        Should.Throw<PlanRequestException>(() => Kitchen.Plan(request)).Problems.ShouldContain(problem => problem.Field == "leftovers[0].ageDays" && problem.Value == "6");
    }

    [Fact]
    public void An_empty_cupboard_and_no_water_are_both_named_at_once() =>
        PlanRequestCheck.Problems(Kitchen.Request(waters: [], cupboard: [])).Select(problem => problem.Field).ShouldBe(["waters", "cupboard"]);
}
