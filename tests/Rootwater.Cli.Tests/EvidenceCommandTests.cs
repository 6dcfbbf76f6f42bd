using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater evidence</c> as a process.</summary>
public sealed class EvidenceCommandTests
{
    private const string Leaves = "days,lost,feed\n100,1,old\n150,1,old\n180,0,old\n160,1,new\n300,0,new\n320,0,new\n";

    [Fact]
    public void A_method_runs_on_a_table_from_standard_input()
    {
        var (status, output, error) = Terminal.Rootwater(Leaves, "evidence", "run", "km", "--csv", "-", "--time", "days", "--event", "lost", "--group", "feed", "--at", "200", "--json");
        status.ShouldBe(0, error);
        var json = JsonDocument.Parse(output).RootElement;
        json.GetProperty("n").GetInt32().ShouldBe(6);
        // Old feed: (1 - 1/3)(1 - 1/2) = 1/3. New: 2/3.
        Value(json, "KM", "old", "S[t=200]").GetDouble().ShouldBe(1 / 3.0, 1e-12);
        Value(json, "KM", "new", "S[t=200]").GetDouble().ShouldBe(2 / 3.0, 1e-12);
        Value(json, "KM quantile", "new", "median").ValueKind.ShouldBe(JsonValueKind.Null);
    }

    [Fact]
    public void An_infinite_bound_is_written_as_text_because_JSON_has_none()
    {
        var (status, output, _) = Terminal.Rootwater("x1,T1,x2,T2\n3,10,0,10\n", "evidence", "run", "rates", "--json");
        status.ShouldBe(0);
        Value(JsonDocument.Parse(output).RootElement, "rate ratio", "row 1", "ratio").GetString().ShouldBe("Inf");
    }

    [Fact]
    public void The_methods_are_listed_with_their_options()
    {
        var (status, output, _) = Terminal.Rootwater("", "evidence", "methods", "--json");
        status.ShouldBe(0);
        var methods = JsonDocument.Parse(output).RootElement.EnumerateArray().ToList();
        methods.Count.ShouldBe(20);
        methods.Single(method => method.GetProperty("name").GetString() == "cox").GetProperty("options").EnumerateArray().Select(option => option.GetProperty("name").GetString()).ShouldContain("--cluster");
    }

    [Fact]
    public void What_cannot_be_used_is_named_and_fails()
    {
        var (status, output, error) = Terminal.Rootwater(Leaves, "evidence", "run", "km", "--time", "weeks", "--event", "lost");
        status.ShouldBe(1);
        error.ShouldContain("--time: weeks cannot be used; expected a column of the table: days, lost, feed.");
        (output + error).ShouldNotContain("   at ");
        var json = JsonDocument.Parse(Terminal.Rootwater(Leaves, "evidence", "run", "km", "--time", "weeks", "--event", "lost", "--json").Out).RootElement;
        json.GetProperty("error").GetProperty("field").GetString().ShouldBe("--time");
    }

    [Fact]
    public void People_get_sentences_a_table_and_the_assumptions()
    {
        var (status, output, error) = Terminal.Rootwater(Leaves, "evidence", "run", "log-rank", "--time", "days", "--event", "lost", "--group", "feed");
        status.ShouldBe(0, error);
        output.ShouldContain("lost where");
        output.ShouldContain("Assumed: ");
    }

    private static JsonElement Value(JsonElement json, string method, string group, string quantity) =>
        json.GetProperty("quantities").EnumerateArray().Single(q => q.GetProperty("method").GetString() == method && q.GetProperty("group").GetString() == group && q.GetProperty("quantity").GetString() == quantity).GetProperty("value");
}
