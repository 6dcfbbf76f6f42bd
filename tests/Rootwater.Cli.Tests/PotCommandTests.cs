using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater pot forecast</c> as a process.</summary>
public sealed class PotCommandTests
{
    private static string ExampleFile => Path.Combine(AppContext.BaseDirectory, "pot-forecast.json");

    [Fact]
    public void The_example_in_the_documents_is_forecast_as_JSON()
    {
        var (status, output, error) = Terminal.Rootwater("", "pot", "forecast", ExampleFile, "--json");
        status.ShouldBe(0, error);
        var json = JsonDocument.Parse(output).RootElement;
        var points = json.GetProperty("points").EnumerateArray().ToList();
        points[^1].GetProperty("hours").GetDouble().ShouldBe(168);
        points.ShouldContain(point => point.GetProperty("afterEvent").GetBoolean());
        var last = points[^1].GetProperty("medium").GetProperty("pH");
        last.GetProperty("low").GetDouble().ShouldBeLessThan(last.GetProperty("value").GetDouble());
        last.GetProperty("high").GetDouble().ShouldBeGreaterThan(last.GetProperty("value").GetDouble());
        json.GetProperty("shareInWindow").GetProperty("value").GetDouble().ShouldBeInRange(0.01, 1);
        json.GetProperty("bestPour").ValueKind.ShouldBe(JsonValueKind.Null);
    }

    [Fact]
    public void Standard_input_does_as_well_and_the_best_pour_is_searched_when_asked_for()
    {
        var (status, output, error) = Terminal.Rootwater(File.ReadAllText(ExampleFile), "pot", "forecast", "--json", "--best-pour");
        status.ShouldBe(0, error);
        var pour = JsonDocument.Parse(output).RootElement.GetProperty("bestPour");
        pour.GetProperty("pH").GetProperty("ideal").GetDouble().ShouldBeInRange(5, 7);
    }

    [Fact]
    public void People_get_a_table_and_what_was_assumed()
    {
        var (status, output, error) = Terminal.Rootwater("", "pot", "forecast", ExampleFile);
        status.ShouldBe(0, error);
        output.ShouldContain("root pH");
        output.ShouldContain("In the window 6.0 to 6.6");
        output.ShouldContain("fitted to no reading");
    }

    [Fact]
    public void A_request_that_cannot_be_used_names_the_field_and_fails()
    {
        var bad = File.ReadAllText(ExampleFile).Replace("\"wicking\"", "\"hanging\"", StringComparison.Ordinal);
        var (status, output, error) = Terminal.Rootwater(bad, "pot", "forecast");
        status.ShouldBe(1);
        error.ShouldContain("pot.culture");
        error.ShouldContain("hanging");
        (output + error).ShouldNotContain("   at ");

        var json = JsonDocument.Parse(Terminal.Rootwater(bad, "pot", "forecast", "--json").Out).RootElement;
        json.GetProperty("error").GetProperty("field").GetString().ShouldBe("pot.culture");
    }

    [Fact]
    public void A_file_that_is_not_there_is_said_so()
    {
        var (status, _, error) = Terminal.Rootwater("", "pot", "forecast", "no-such-file.json");
        status.ShouldBe(2);
        error.ShouldContain("no-such-file.json");
    }
}
