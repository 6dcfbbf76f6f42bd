using System.Text;
using System.Text.Json;
using Rootwater.Cli.Solving;

namespace Rootwater.Cli.Tests.Solving;

/// <summary>The contract of docs/solve.md, line by line.</summary>
public sealed class SolveStreamTests
{
    [Fact]
    public void A_line_in_is_a_line_out_in_the_same_order()
    {
        var lines = Enumerable.Range(0, 500).Select(i => FormattableString.Invariant($$"""{"id":"{{i}}","reagents":{"KNO3":{{i * 0.01}} } }""")).ToArray();
        var answers = Solve(out var good, lines);
        good.ShouldBeTrue();
        answers.Select(answer => answer.GetProperty("id").GetString()).ShouldBe(Enumerable.Range(0, 500).Select(i => i.ToString(System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void Every_field_of_the_answer_is_there_and_a_missing_ingredient_is_null()
    {
        var answer = Solve(out _, """{"id":"x","reagents":{"CaSO4.2H2O":2,"KH2PO4":1}}""").Single();
        answer.EnumerateObject().Select(field => field.Name).ShouldBe(
            ["id", "converged", "pH", "ionicStrength", "ec", "ec25", "alkalinity", "dic", "si", "massBalanceError", "chargeBalanceError", "iterations"]);
        var si = answer.GetProperty("si");
        si.EnumerateObject().Select(field => field.Name).ShouldBe(["gypsum", "anhydrite", "calcite", "brushite", "hydroxyapatite", "struvite"]);
        si.GetProperty("gypsum").ValueKind.ShouldBe(JsonValueKind.Number);
        si.GetProperty("brushite").ValueKind.ShouldBe(JsonValueKind.Number);
        si.GetProperty("calcite").ValueKind.ShouldBe(JsonValueKind.Null);
        si.GetProperty("struvite").ValueKind.ShouldBe(JsonValueKind.Null);
    }

    // NIST 0.01 mol/kg KCl: 1408.23 µS/cm at 25 °C, 1013.95 at 10 °C (Pratt et al. 2001); 1 %.
    [Fact]
    public void Temperature_moves_ec_and_leaves_ec25()
    {
        var answer = Solve(out _, """{"id":"x","temperatureC":10,"reagents":{"KCl":10}}""").Single();
        (answer.GetProperty("ec").GetDouble() / 1013.95).ShouldBe(1, 0.01);
        (answer.GetProperty("ec25").GetDouble() / 1408.23).ShouldBe(1, 0.01);
    }

    [Fact]
    public void Crystal_water_adds_mass_and_not_solvent()
    {
        // Magnesium sulfate: 246.47 g/mol with seven waters, 120.36 without (handbook molar masses).
        var answers = Solve(out _,
            """{"id":"a","unit":"mg","reagents":{"MgSO4.7H2O":246.474}}""",
            """{"id":"b","unit":"mg","reagents":{"MgSO4":120.367}}""",
            """{"id":"c","reagents":{"MgSO4":1}}""");
        var strengths = answers.Select(answer => answer.GetProperty("ionicStrength").GetDouble()).ToArray();
        strengths[0].ShouldBe(strengths[2], 1e-4 * strengths[2]);
        strengths[1].ShouldBe(strengths[2], 1e-4 * strengths[2]);
    }

    [Fact]
    public void Per_litre_is_a_little_stronger_than_per_kilogram_of_water()
    {
        var answers = Solve(out _, """{"id":"a","reagents":{"KCl":10}}""", """{"id":"b","per":"litre","reagents":{"KCl":10}}""");
        // 1413 against 1408 µS/cm: the two commercial standards, 0.3 % apart.
        (answers[1].GetProperty("ec").GetDouble() / answers[0].GetProperty("ec").GetDouble()).ShouldBe(1413.0 / 1408.2, 0.001);
    }

    [Fact]
    public void In_open_air_carbonate_brings_only_its_base()
    {
        var answers = Solve(out _,
            """{"id":"a","air":{"log10pCO2":-3.4},"reagents":{"KHCO3":2}}""",
            """{"id":"b","air":{"log10pCO2":-3.4},"reagents":{"K2CO3":1}}""",
            """{"id":"c","air":{"log10pCO2":-3.4},"reagents":{"KOH":2}}""");
        answers[1].GetProperty("pH").GetDouble().ShouldBe(answers[0].GetProperty("pH").GetDouble(), 1e-9);
        answers[2].GetProperty("pH").GetDouble().ShouldBe(answers[0].GetProperty("pH").GetDouble(), 1e-9);
    }

    [Theory]
    [InlineData("""{"id":"x","colour":1,"reagents":{}}""", "colour")]
    [InlineData("""{"id":"x","colour":{"a":[1,2]},"reagents":{}}""", "colour")]
    [InlineData("""{"id":"x","reagents":{"Foo":1}}""", "reagents.Foo")]
    [InlineData("""{"id":"x","reagents":{"KCl":-1}}""", "reagents.KCl")]
    [InlineData("""{"id":"x","reagents":{"KCl":"1"}}""", "reagents.KCl")]
    [InlineData("""{"id":"x","reagents":{"KCl":1e9}}""", "reagents.KCl")]
    [InlineData("""{"id":"x","reagents":[]}""", "reagents")]
    [InlineData("""{"id":"x"}""", "reagents")]
    [InlineData("""{"id":"x","temperatureC":80,"reagents":{}}""", "temperatureC")]
    [InlineData("""{"id":"x","temperatureC":"20","reagents":{}}""", "temperatureC")]
    [InlineData("""{"id":"x","unit":"g","reagents":{}}""", "unit")]
    [InlineData("""{"id":"x","per":"gallon","reagents":{}}""", "per")]
    [InlineData("""{"id":"x","air":{"closed":false},"reagents":{}}""", "air.closed")]
    [InlineData("""{"id":"x","air":{"log10pCO2":3},"reagents":{}}""", "air.log10pCO2")]
    [InlineData("""{"id":"x","air":{},"reagents":{}}""", "air")]
    [InlineData("""{"colour":1,"reagents":{},"id":"x"}""", "colour")]
    public void A_bad_field_is_named_beside_the_id_with_no_numbers(string line, string field)
    {
        var answer = Solve(out var good, line).Single();
        good.ShouldBeFalse();
        answer.EnumerateObject().Select(property => property.Name).ShouldBe(["id", "error"]);
        answer.GetProperty("id").GetString().ShouldBe("x");
        answer.GetProperty("error").GetProperty("field").GetString().ShouldBe(field);
        answer.GetProperty("error").GetProperty("message").GetString()!.Length.ShouldBeGreaterThan(10);
    }

    [Theory]
    [InlineData("nonsense")]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("""{"id":"x","reagents":{}""")]
    [InlineData("""{"id":"x","reagents":{}} {}""")]
    [InlineData("""{"id":"x","colour":1,"reagents":{}""")]
    public void What_is_no_JSON_object_has_a_null_id_and_the_field_line(string line)
    {
        var answers = Solve(out var good, line, """{"id":"next","reagents":{}}""");
        good.ShouldBeFalse();
        answers[0].GetProperty("id").ValueKind.ShouldBe(JsonValueKind.Null);
        answers[0].GetProperty("error").GetProperty("field").GetString().ShouldBe("line");
        answers[1].GetProperty("converged").GetBoolean().ShouldBeTrue("the next line goes on");
    }

    [Fact]
    public void Lines_cut_anywhere_by_the_stream_are_the_same_lines()
    {
        var text = string.Join("\r\n", Enumerable.Range(0, 50).Select(i => $$"""{"id":"{{i}}","reagents":{"Ca(NO3)2·4H2O":1} }"""));
        using var output = new MemoryStream();
        SolveStream.Run(new Trickle(Encoding.UTF8.GetBytes(text)), output).ShouldBeTrue();
        Encoding.UTF8.GetString(output.ToArray()).Split('\n', StringSplitOptions.RemoveEmptyEntries).Length.ShouldBe(50);
    }

    private static List<JsonElement> Solve(out bool good, params string[] lines)
    {
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n"));
        using var output = new MemoryStream();
        good = SolveStream.Run(input, output);
        return [.. Encoding.UTF8.GetString(output.ToArray()).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)];
    }

    /// <summary>A stream that gives seven bytes at a time, so that characters and lines are cut.</summary>
    private sealed class Trickle(byte[] bytes) : MemoryStream(bytes)
    {
        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, 7));
    }
}
