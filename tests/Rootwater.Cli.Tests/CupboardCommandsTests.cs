using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater cupboard</c>, <c>pen</c>, <c>can</c> looking back, and <c>water</c> through the year as processes, on the demo bench.</summary>
public sealed class CupboardCommandsTests : IClassFixture<BenchCommandsTests.DemoFile>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-cli-").FullName;

    private string Bench => Path.Combine(_folder, "bench.db");

    public CupboardCommandsTests(BenchCommandsTests.DemoFile demo) => demo.CopyTo(_folder);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_cupboard_says_until_when_it_lasts_and_by_when_to_order()
    {
        // So little is left that it runs out within weeks.
        Ok("cupboard", "spill", "potassium nitrate", "480", "--why", "tipped over");
        var salt = Json("cupboard", "supply").GetProperty("products").EnumerateArray().First(product => product.GetProperty("name").GetString() == "potassium nitrate");
        salt.GetProperty("gramsSpilt").GetDouble().ShouldBe(480);
        DateOnly Day(string name) => DateOnly.Parse(salt.GetProperty(name).GetString()!, System.Globalization.CultureInfo.InvariantCulture);
        Day("outFrom").ShouldBeLessThanOrEqualTo(Day("outBy"));
        Day("orderBy").ShouldBe(Day("outFrom").AddDays(-salt.GetProperty("leadDays").GetInt32()));

        Ok("cupboard", "lead", "potassium nitrate", "21");
        Json("cupboard", "shop").GetProperty("shopping").EnumerateArray().First(line => line.GetProperty("name").GetString() == "potassium nitrate")
            .GetProperty("orderBy").GetString().ShouldBe(Day("outFrom").AddDays(-21).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        Ok("cupboard", "supply").ShouldContain("potassium nitrate");
        Refused("PRODUCT", "cupboard", "spill", "unobtainium", "1");
    }

    [Fact]
    public void Without_a_product_the_plan_is_compared_and_what_to_buy_is_named()
    {
        var sheet = Json("cupboard", "without", "calcium nitrate", "--seconds", "0.3");
        sheet.GetProperty("isUsed").GetBoolean().ShouldBeTrue();
        var group = sheet.GetProperty("groups")[0];
        group.GetProperty("elements").EnumerateArray().ShouldContain(each => each.GetProperty("moves").GetBoolean());
        group.GetProperty("plants").GetArrayLength().ShouldBeGreaterThan(0);
        Json("cupboard", "buy", "--without", "calcium nitrate", "--seconds", "0.2").GetProperty("offers").GetInt32().ShouldBeGreaterThan(3);
    }

    [Fact]
    public void Two_products_are_compared_at_an_equal_element_or_EC_and_at_nothing_else()
    {
        var at = Json("cupboard", "compare", "potassium nitrate", "calcium nitrate 15.5-0-0 + 26.5 CaO", "--nutrient", "NitrateNitrogen", "--mg", "80");
        at.GetProperty("nutrients").EnumerateArray().First(each => each.GetProperty("name").GetString()!.StartsWith("nitrate", StringComparison.Ordinal)).GetProperty("one").GetDouble().ShouldBe(80, 0.5);
        var same = Json("cupboard", "compare", "potassium nitrate", "calcium nitrate 15.5-0-0 + 26.5 CaO", "--ec", "0.8");
        same.GetProperty("one").GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(800, 2);
        Refused("nutrient", "cupboard", "compare", "potassium nitrate", "calcium nitrate 15.5-0-0 + 26.5 CaO");
    }

    [Fact]
    public void A_new_brand_is_let_in_step_by_step_and_taken_up_where_it_was_left()
    {
        var label = Path.Combine(_folder, "label.txt");
        File.WriteAllText(label, "N 15 %\nnitrate nitrogen 14 %\nammoniacal nitrogen 1 %\nP2O5 5 %\nK2O 15 %");
        Ok("cupboard", "enter", "new brand", "--label", label).ShouldContain("It must be made of");
        Ok("cupboard", "enter", "new brand", "--test-in", "rain").ShouldContain("test can planned");
        Refused("was probably meant", "cupboard", "enter", "new brand", "--ph", "65");
        Refused("was probably meant", "cupboard", "enter", "new brand", "--ec", "0.0009");
        Ok("cupboard", "enter", "new brand", "--ec", "0.9", "--ph", "5.9").ShouldContain("test can read");
        Refused("look again after", "cupboard", "enter", "new brand", "--clear");
        Refused("trial is judged", "cupboard", "enter", "new brand", "--accept", "looks fine");
        Json("cupboard", "enter", "new brand").GetProperty("steps").GetArrayLength().ShouldBe(3);
        Ok("cupboard", "enter", "new brand", "--reject", "EC far from the label").ShouldContain("rejected");
        Json("cupboard", "enter").EnumerateArray().ShouldHaveSingleItem();
    }

    [Fact]
    public void A_pen_is_added_held_into_its_standards_and_a_slip_is_offered_back()
    {
        Ok("pen", "add", "blue pen", "--kind", "Ec");
        Refused("was probably meant", "pen", "calibrate", "blue pen", "--standard", "1413=1.38");
        Ok("pen", "calibrate", "blue pen", "--standard", "1413=1380", "--celsius", "25", "--adjusted").ShouldContain("−2.3 %");
        Json("pen", "list").EnumerateArray().ShouldHaveSingleItem().GetProperty("log").GetArrayLength().ShouldBe(1);
        Refused("pen", "pen", "calibrate", "no such pen", "--standard", "7.00=7.05");
    }

    [Fact]
    public void Cans_are_listed_with_expected_and_read_explained_and_weighed_against_the_wants_they_leave()
    {
        var lines = Json("can", "history", "--most", "5").GetProperty("lines");
        lines.GetArrayLength().ShouldBe(5);
        var explained = Terminal.Rootwater("", "can", "explain", lines[0].GetProperty("canId").GetString()!, "--bench", Bench);
        explained.Out.ShouldContain("by what earlier cans taught");
        explained.Status.ShouldBe(lines[0].GetProperty("mark").GetString() is "warns" or "out" ? 1 : 0);
        Refused("can", "can", "explain", "Q");
        var points = Json("can", "tradeoff", "--cans", "2");
        points[0].GetProperty("mostCans").GetInt32().ShouldBe(1);
    }

    [Fact]
    public void The_waters_year_is_told_and_the_rain_budget_says_what_is_missing_until_it_is_there()
    {
        var year = Json("water", "year");
        year.GetProperty("months").GetArrayLength().ShouldBeInRange(3, 5);
        year.GetProperty("waters").EnumerateArray().ShouldContain(water => water.GetProperty("acidMeqPerLitre").GetDouble() > 1, "the tap water is hard");
        Json("water", "rain").GetProperty("missing").GetArrayLength().ShouldBeGreaterThan(1);

        var record = Path.Combine(_folder, "rain.csv");
        File.WriteAllLines(record, Enumerable.Range(0, 800).Select(i => FormattableString.Invariant($"{DateOnly.FromDateTime(DateTime.UtcNow).AddDays(i - 800):yyyy-MM-dd},{(i % 3 == 0 ? 5.5 : 0)}")));
        Ok("water", "rain", "--record", record).ShouldContain("nothing was kept");
        Ok("water", "rain", "--record", record, "--write");
        Ok("water", "rain", "--roof", "6", "--barrel", "200", "--level", "120");
        var rain = Json("water", "rain", "--days", "30");
        rain.GetProperty("missing").GetArrayLength().ShouldBe(0);
        rain.GetProperty("levels").GetArrayLength().ShouldBe(30);
        // Two days in three dry, 5.5 mm on the third: 12.8 mm a week on 6 m² at 0.8.
        rain.GetProperty("givenLitresPerWeek").GetDouble().ShouldBe(5.5 * 7 / 3 * 6 * 0.8, 0.2);
        Refused("days", "water", "rain", "--days", "4");
    }

    private JsonElement Json(params string[] arguments) => JsonDocument.Parse(Ok([.. arguments, "--json"])).RootElement;

    private string Ok(params string[] arguments)
    {
        var (status, output, error) = Terminal.Rootwater("", [.. arguments, "--bench", Bench]);
        status.ShouldBe(0, error + output);
        return output;
    }

    private void Refused(string says, params string[] arguments)
    {
        var (status, output, error) = Terminal.Rootwater("", [.. arguments, "--bench", Bench]);
        status.ShouldBe(1, error + output);
        error.ShouldContain(says);
        error.ShouldNotContain("   at ");
    }
}
