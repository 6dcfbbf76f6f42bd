using System.Globalization;
using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater evidence plant|group|year|tried</c>, <c>trial</c> and <c>cause</c> as processes, on one demo bench. Each test leaves what the others ask as it is.</summary>
public sealed class EvidenceOfBenchTests(EvidenceOfBenchTests.DemoFile demo) : IClassFixture<EvidenceOfBenchTests.DemoFile>
{
    /// <summary>The demo of three months, made once.</summary>
    public sealed class DemoFile : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-cli-evidence-").FullName;

        public DemoFile() => Ok("ledger", "demo", "--three-months", "--bench", Bench, "--json");

        public string Bench => Path.Combine(_folder, "bench.db");

        public void Dispose() => Directory.Delete(_folder, recursive: true);
    }

    [Theory]
    [InlineData("lives")]
    [InlineData("drivers")]
    [InlineData("growth")]
    [InlineData("rates")]
    [InlineData("series")]
    public void Every_answer_about_a_group_names_its_method_its_assumptions_and_n(string ask)
    {
        var json = Json("evidence", "group", "--kind", "Cattleya", "--ask", ask, "--bench", demo.Bench, "--json");

        var basis = json.GetProperty("basis");
        basis.GetProperty("method").GetString()!.Length.ShouldBeGreaterThan(10);
        basis.GetProperty("assumptions").GetArrayLength().ShouldBeGreaterThan(0);
        basis.GetProperty("plants").GetInt32().ShouldBeGreaterThan(2);
        json.GetProperty("words").GetString().ShouldNotBeNullOrWhiteSpace();
        json.ToString().ShouldNotContain("NaN");
    }

    [Fact]
    public void People_are_told_of_a_plant_in_a_sentence_with_its_method()
    {
        var said = Ok("evidence", "plant", "1", "--bench", demo.Bench);
        said.ShouldContain("no. 1 ");
        said.ShouldContain("Method: ");
        Ok("evidence", "plant", "1", "--ask", "next", "--bench", demo.Bench).ShouldContain("Method: ");
        Ok("evidence", "group", "--ask", "changes", "--bench", demo.Bench).ShouldNotBeNullOrWhiteSpace();
        Json("evidence", "group", "--ask", "kinds", "--since", Day(-40), "--bench", demo.Bench, "--json").GetProperty("basis").GetProperty("method").GetString()!.ShouldContain("Benjamini");
    }

    [Fact]
    public void The_year_and_what_was_tried_say_what_they_stand_on()
    {
        Json("evidence", "year", "--bench", demo.Bench, "--json").GetProperty("method").GetArrayLength().ShouldBeGreaterThan(2);
        Ok("evidence", "year", "--bench", demo.Bench).ShouldContain("about");
        Json("evidence", "tried", "1", "--bench", demo.Bench, "--json").GetProperty("method").GetArrayLength().ShouldBeGreaterThan(2);
        Ok("evidence", "tried", "1", "--bench", demo.Bench).ShouldContain("calcium nitrate");
    }

    [Fact]
    public void A_trial_is_planned_registered_priced_noted_and_stopped_and_its_result_is_written()
    {
        string[] plan = ["--question", "Does it?", "--arm", "A=as before", "--arm", "B=the other can", "--plants", "1", "2", "3", "4", "5", "6", "7", "8", "--months", "12", "--runs", "100", "--bench", demo.Bench, "--json"];
        var forecast = Json(["trial", "plan", .. plan]);
        forecast.GetProperty("power").GetDouble().ShouldBeInRange(0, 1);
        forecast.GetProperty("rates").GetArrayLength().ShouldBeGreaterThan(0);

        var trial = Json(["trial", "register", .. plan]);
        var id = trial.GetProperty("id").GetString()!;
        trial.GetProperty("seats").GetArrayLength().ShouldBe(8);
        Terminal.Rootwater("", ["trial", "register", .. plan]).Status.ShouldBe(1, "its plants sit in the first");
        Json("trial", "list", "--bench", demo.Bench, "--json").GetProperty("trials")[0].GetProperty("id").GetString().ShouldBe(id);
        Ok("trial", "show", id, "--bench", demo.Bench).ShouldContain("Test: the draw made again");
        // Nothing is over on the day it begins.
        Terminal.Rootwater("", "trial", "look", id, "--bench", demo.Bench).Status.ShouldBe(1);
        Json("trial", "depart", id, "got the other can once", "--plant", "3", "--bench", demo.Bench, "--json").GetProperty("departures").GetArrayLength().ShouldBe(1);
        Terminal.Rootwater("", "trial", "end", id, "--bench", demo.Bench).Error.ShouldContain("only be stopped");
        var stopped = Json("trial", "stop", id, "--why", "the shelf is needed", "--bench", demo.Bench, "--json");
        stopped.GetProperty("stoppedWhy").GetString().ShouldBe("the shelf is needed");
        stopped.GetProperty("basis").GetProperty("method").GetString()!.ShouldContain("draw made again");
    }

    [Fact]
    public void A_cause_sheet_is_asked_kept_and_settled_and_says_that_it_does_not_diagnose()
    {
        Ok("cause", "2", "--leaf", "all", "--seen", "leaf-age=newest", "pattern=streaks", "--bench", demo.Bench).ShouldContain("does not diagnose");
        var sheet = Json("cause", "2", "--leaf", "all", "--seen", "leaf-age=oldest", "pattern=even-yellow", "--keep", "--bench", demo.Bench, "--json");
        sheet.GetProperty("result").GetProperty("causes")[0].GetProperty("id").GetString().ShouldBe("ageing");
        sheet.GetProperty("method").GetArrayLength().ShouldBe(3);
        var id = sheet.GetProperty("sheetId").GetString()!;
        Json("cause", "settle", id, "ageing", "--evidence", "the next leaf stayed green", "--bench", demo.Bench, "--json").GetProperty("rank").GetInt32().ShouldBe(1);
        Ok("cause", "list", "--bench", demo.Bench).ShouldContain("right in 1 of 1");
    }

    [Theory]
    [InlineData("--ask", "evidence", "group", "--ask", "everything")]
    [InlineData("number", "evidence", "plant", "99999")]
    [InlineData("kind", "evidence", "group", "--kind", "Vanda")]
    [InlineData("since", "evidence", "group", "--ask", "rates", "--since", "1999-01-01")]
    [InlineData("--since", "evidence", "group", "--ask", "kinds")]
    [InlineData("speed", "cause", "2", "--seen", "speed=slow")]
    [InlineData("--seen", "cause", "2", "--seen", "speed")]
    [InlineData("plants", "trial", "register", "--question", "?", "--arm", "A=x", "--arm", "B=y", "--plants", "1", "2")]
    public void What_cannot_be_asked_is_named_and_leaves_no_trace(string field, params string[] arguments)
    {
        var (status, output, error) = Terminal.Rootwater("", [.. arguments, "--bench", demo.Bench]);
        status.ShouldBe(1, output);
        error.ShouldContain(field);
        error.ShouldNotContain("   at ");
    }

    private static string Day(int ago) => DateTime.UtcNow.AddDays(ago).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static JsonElement Json(params string[] arguments) => JsonDocument.Parse(Ok(arguments)).RootElement;

    private static string Ok(params string[] arguments)
    {
        var (status, output, error) = Terminal.Rootwater("", arguments);
        status.ShouldBe(0, error + output);
        return output;
    }
}
