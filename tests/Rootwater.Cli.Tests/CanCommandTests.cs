using System.Text.Json.Nodes;

namespace Rootwater.Cli.Tests;

public sealed class CanCommandTests
{
    private static readonly string s_example = Path.Combine(Root(), "docs", "examples", "can-plan.json");

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Rootwater.slnx")))
        {
            folder = folder.Parent;
        }

        return folder.ShouldNotBeNull().FullName;
    }

    [Fact]
    public void The_example_request_gives_cards_with_what_the_pens_should_read()
    {
        var (status, text, error) = Terminal.Rootwater("", "can", "plan", s_example);

        error.ShouldBeEmpty();
        status.ShouldBe(0);
        text.ShouldContain("Can A");
        text.ShouldContain("Pens: EC");
        text.ShouldContain("once in balance with");
    }

    [Fact]
    public void A_plan_written_as_JSON_is_what_the_check_reads()
    {
        var (status, json, _) = Terminal.Rootwater("", "can", "plan", s_example, "--json");
        status.ShouldBe(0);
        var can = JsonNode.Parse(json)!["plan"]!["cans"]![0]!;
        var file = Path.GetTempFileName();
        try
        {
            File.WriteAllText(file, json);
            var ec = (can["ecOnPenMicrosiemensPerCm"]!.GetValue<double>() / 1000).ToString(System.Globalization.CultureInfo.InvariantCulture);
            var ph = can["pH"]!["value"]!.ToString();

            var agrees = Terminal.Rootwater("", "can", "check", file, "--can", "A", "--ec", ec, "--ph", ph);
            var weak = Terminal.Rootwater("", "can", "check", file, "--can", "A", "--ec", "0.2", "--request", s_example);

            agrees.Status.ShouldBe(0, agrees.Out + agrees.Error);
            weak.Status.ShouldBe(1);
            weak.Out.ShouldContain("low");
            weak.Out.ShouldContain("rinse");
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Theory]
    [InlineData("{ \"groups\": [] }", "waters: at least one water to mix with")]
    [InlineData("{ \"cupboard\": [ { \"formula\": \"Qq\", \"grams\": 1 } ] }", "cupboard[0].formula is Qq")]
    [InlineData("not JSON", "JSON")]
    [InlineData("{ \"colour\": 1 }", "colour: no such field")]
    public void What_cannot_be_planned_is_refused_by_field_without_a_stack_trace(string request, string says)
    {
        var (status, text, error) = Terminal.Rootwater(request, "can", "plan", "-");

        status.ShouldBe(1);
        text.ShouldBeEmpty();
        error.ShouldContain(says);
        error.ShouldNotContain("   at ");
    }

    [Fact]
    public void A_file_that_is_not_there_is_named() => Terminal.Rootwater("", "can", "plan", "nowhere.json").ShouldSatisfyAllConditions(
        run => run.Status.ShouldBe(2),
        run => run.Error.ShouldContain("'nowhere.json' cannot be read"));

    [Fact]
    public void Without_a_file_the_due_plants_of_the_demo_bench_are_planned()
    {
        var folder = Directory.CreateTempSubdirectory("rootwater-can-");
        try
        {
            var (status, json, error) = Terminal.Rootwater("", "can", "plan", "--json", "--bench", Path.Combine(folder.FullName, "bench.db"));

            status.ShouldBe(0, error);
            JsonNode.Parse(json)!["plan"]!["cans"]!.AsArray().Count.ShouldBeGreaterThan(0);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
