using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater label</c> and <c>rootwater water</c> as processes: what comes out, and with which exit status.</summary>
public sealed class LabelAndWaterCommandTests
{
    [Fact]
    public void A_label_becomes_salts_EC_and_pH()
    {
        var (status, output, error) = Terminal.Rootwater("bloom salt\nN total 14 % of which nitric 6 %, ammoniacal 6 %, ureic 2 %; P2O5 27 %; K2O 18 %", "label", "--json");
        status.ShouldBe(0, error);
        var json = JsonDocument.Parse(output).RootElement;
        json.GetProperty("declared").GetArrayLength().ShouldBe(6);
        json.GetProperty("mixes")[0].GetProperty("salts").GetArrayLength().ShouldBeGreaterThan(2);
        json.GetProperty("ecAt1GramPerLitreMicrosiemensPerCm").GetProperty("value").GetDouble().ShouldBeInRange(900, 1000);
        json.GetProperty("pHAt1GramPerLitre").GetProperty("low").GetDouble().ShouldBeLessThan(json.GetProperty("pHAt1GramPerLitre").GetProperty("high").GetDouble());
        json.GetProperty("cautions").GetArrayLength().ShouldBeGreaterThan(1);
    }

    [Fact]
    public void A_German_label_is_read_though_the_terminal_runs_without_cultures()
    {
        var (status, output, error) = Terminal.Rootwater("15 % N Gesamtstickstoff\n10 % P2O5 wasserlösliches Phosphat\n15 % K2O\n0,002 % Mo Molybdän", "label", "--json");
        status.ShouldBe(0, error);
        JsonDocument.Parse(output).RootElement.GetProperty("declared").EnumerateArray().Select(line => line.GetProperty("symbol").GetString()).ShouldBe(["N", "P2O5", "K2O", "Mo"]);
    }

    [Theory]
    [InlineData("SiO2 196 g/L", "density")]
    [InlineData("N 60 %, P2O5 60 %", "analysis")]
    [InlineData("nothing here", "text")]
    public void A_label_that_cannot_be_used_names_the_field_and_fails(string text, string field)
    {
        var (status, output, error) = Terminal.Rootwater(text, "label");
        status.ShouldBe(1);
        error.ShouldContain($"error: {field}");
        (output + error).ShouldNotContain("   at ");
        var json = JsonDocument.Parse(Terminal.Rootwater(text, "label", "--json").Out).RootElement;
        json.GetProperty("problems").EnumerateArray().ShouldContain(problem => problem.GetProperty("severity").GetString() == "error" && problem.GetProperty("field").GetString() == field);
    }

    [Fact]
    public void A_density_may_be_given_where_the_label_is_silent() => Terminal.Rootwater("SiO2 196 g/L\nK2O 98 g/L", "label", "--density", "1.26").Status.ShouldBe(0);

    [Fact]
    public void A_file_that_is_not_there_is_said()
    {
        var (status, _, error) = Terminal.Rootwater("", "label", "no-such-file.txt");
        status.ShouldBe(2);
        error.ShouldContain("no-such-file.txt");
    }

    [Fact]
    public void A_pen_and_drops_become_a_whole_water()
    {
        var (status, output, error) = Terminal.Rootwater("", "water", "--text", "EC 412 µS/cm, GH 9, KH 6, pH 7.6", "--json");
        status.ShouldBe(0, error);
        var json = JsonDocument.Parse(output).RootElement;
        json.GetProperty("pH").GetDouble().ShouldBe(7.6, 0.001);
        json.GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(412, 5);
        json.GetProperty("values").EnumerateArray().Single(value => value.GetProperty("quantity").GetString() == "chloride").GetProperty("origin").GetString().ShouldBe("estimated");
    }

    [Fact]
    public void A_table_for_people_names_every_meter_scale()
    {
        var (status, output, _) = Terminal.Rootwater("", "water", "--text", "EC 412 µS/cm, GH 9, KH 6");
        status.ShouldBe(0);
        output.ShouldContain("on 0.5");
        output.ShouldContain("on 0.64");
        output.ShouldContain("on 0.7");
    }

    [Theory]
    [InlineData("EC 260 ppm", "EC unit")]
    [InlineData("pH 15", "pH")]
    [InlineData("GH 9 °dH, Ca 300 mg/L", "hardness")]
    [InlineData("Ca 10 mg/L, Mg 1 mg/L, Na 1 mg/L, K 1 mg/L, Cl 5 mg/L, SO4 400 mg/L, NO3 1 mg/L, alkalinity 0.3 meq/L", "charges")]
    public void A_water_that_cannot_be_is_an_error_that_names_the_field(string text, string field)
    {
        var (status, _, error) = Terminal.Rootwater("", "water", "--text", text);
        status.ShouldBe(1);
        error.ShouldContain($"error: {field}");
    }

    [Fact]
    public void Rain_off_zinc_needs_no_report() => Terminal.Rootwater("", "water", "--roof", "zinc").Error.ShouldContain("zinc");
}
