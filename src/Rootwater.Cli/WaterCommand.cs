using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Rootwater.Chemistry.Quantities;
using Rootwater.Growing;
using Rootwater.Growing.Waters;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater water [FILE]</c>: a water report's text in, the whole water with its bands out.</summary>
internal static class WaterCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "A text file with the report; - or nothing for standard input.", DefaultValueFactory = _ => "-" };
        var text = new Option<string?>("--text") { Description = "The report itself: \"EC 412 µS/cm, GH 9, KH 6, pH 7.6\"." };
        var roof = new Option<string?>("--roof") { Description = "No report: typical rain off this roof." };
        roof.AcceptOnlyFromAmong("inert", "zinc", "copper");
        var name = new Option<string>("--name") { Description = "What the water is called.", DefaultValueFactory = _ => "water" };
        var origin = new Option<string>("--origin") { Description = "ground (tap, well), rain, or purified: what to suppose where the report is silent.", DefaultValueFactory = _ => "ground" };
        origin.AcceptOnlyFromAmong("ground", "rain", "purified");
        var asJson = new Option<bool>("--json") { Description = "Write JSON in place of tables." };
        var command = new Command("water", "Read a water report, whole or partial: every ion with its band, pH, EC, what was estimated, what the water tells of itself.") { file, text, roof, name, origin, asJson };
        command.Add(WaterYearCommands.Year());
        command.Add(WaterYearCommands.Rain());
        command.SetAction(result => Run(result.GetValue(file)!, result.GetValue(text), RoofOf(result.GetValue(roof)), result.GetValue(name)!, Enum.Parse<WaterOrigin>(result.GetValue(origin)!, ignoreCase: true), result.GetValue(asJson)));
        return command;
    }

    private static Roof? RoofOf(string? word) => word is null ? null : Enum.Parse<Roof>(word, ignoreCase: true);

    private static int Run(string file, string? given, Roof? roof, string name, WaterOrigin origin, bool asJson)
    {
        var (water, problems) = (default(CompletedWater), new List<InputProblem>());
        if (roof is { } kind)
        {
            water = RainWater.From(name, kind);
        }
        else
        {
            if ((given ?? TextInput.Read("water", file)) is not { } text)
            {
                return 2;
            }

            var reading = WaterReportText.Parse(text, name, origin);
            problems.AddRange(reading.Problems);
            water = reading.IsUsable ? WaterCompleter.Complete(reading.Report!) : null;
        }

        problems.AddRange(water?.Problems ?? []);
        var whole = water?.Source is null ? null : water;
        if (asJson)
        {
            Console.Out.WriteLine(ToJson(whole, name, problems).ToJsonString(TextInput.JsonOptions));
        }
        else
        {
            if (whole is not null)
            {
                Show(whole, name);
            }

            TextInput.Show(problems);
        }

        return problems.Any(problem => problem.Severity == Severity.Error) ? 1 : 0;
    }

    private static void Show(CompletedWater water, string name)
    {
        var table = new Table().Title(Markup.Escape(name)).AddColumn("what");
        foreach (var column in (string[])["mg/L", "mmol/L", "from", "to"])
        {
            table.AddColumn(column, column => column.RightAligned());
        }

        table.AddColumn("");
        foreach (var value in water.Values)
        {
            table.AddRow(
                value.Quantity == WaterQuantity.Alkalinity ? "alkalinity (meq/L)" : value.Quantity.ToString().ToLowerInvariant(), value.MgPerLitre is { } mg ? Number(mg) : "",
                Number(value.MmolPerLitre), Number(value.Low), Number(value.High), value.Origin.ToString().ToLowerInvariant());
        }

        AnsiConsole.Write(table);
        var hardness = Hardness.FromMmolPerLitre(water.HardnessMmolPerLitre);
        var alkalinity = Alkalinity.From(water.AlkalinityMeqPerLitre, CarbonateScale.MeqPerLitre);
        var ec = ElectricalConductivity.From(water.EcMicrosiemensPerCm, ConductivityScale.MicrosiemensPerCm);
        AnsiConsole.MarkupLineInterpolated(CultureInfo.InvariantCulture, $"pH [bold]{water.PH:0.0}[/], EC [bold]{ec.MillisiemensPerCm:0.00}[/] mS/cm at 25 °C (meter ppm: {ec.In(ConductivityScale.Ppm500):0} on 0.5, {ec.In(ConductivityScale.Ppm640):0} on 0.64, {ec.In(ConductivityScale.Ppm700):0} on 0.7)");
        AnsiConsole.MarkupLineInterpolated(CultureInfo.InvariantCulture, $"hardness {hardness.In(CarbonateScale.GermanDegrees):0.0} °dH = {hardness.In(CarbonateScale.MgPerLitreAsCaCO3):0} mg/L CaCO3; alkalinity {alkalinity.In(CarbonateScale.GermanDegrees):0.0} dKH = {alkalinity.In(CarbonateScale.MgPerLitreAsCaCO3):0} mg/L CaCO3 = {alkalinity.MeqPerLitre:0.00} meq/L");
        if (water.ChargeImbalancePercent is { } percent)
        {
            AnsiConsole.MarkupLineInterpolated(CultureInfo.InvariantCulture, $"charges as reported: cations {percent:+0.0;-0.0} % against anions");
        }
    }

    private static string Number(double value) => value.ToString(Math.Abs(value) < 0.1 ? "0.####" : "0.##", CultureInfo.InvariantCulture);

    private static JsonObject ToJson(CompletedWater? water, string name, List<InputProblem> problems)
    {
        var json = new JsonObject { ["name"] = name, ["problems"] = TextInput.ToJson(problems) };
        if (water is not null)
        {
            json["pH"] = Math.Round(water.PH, 3);
            json["ecMicrosiemensPerCm"] = Math.Round(water.EcMicrosiemensPerCm, 1);
            json["alkalinityMeqPerLitre"] = Math.Round(water.AlkalinityMeqPerLitre, 5);
            json["hardnessMmolPerLitre"] = Math.Round(water.HardnessMmolPerLitre, 5);
            json["chargeImbalancePercent"] = water.ChargeImbalancePercent is { } percent ? Math.Round(percent, 2) : null;
            json["relativeUncertainty"] = Math.Round(water.Source!.RelativeUncertainty, 4);
            json["values"] = new JsonArray([.. water.Values.Select(value => (JsonNode)new JsonObject
            {
                ["quantity"] = char.ToLowerInvariant(value.Quantity.ToString()[0]) + value.Quantity.ToString()[1..],
                [value.Quantity == WaterQuantity.Alkalinity ? "meqPerLitre" : "mmolPerLitre"] = Math.Round(value.MmolPerLitre, 6),
                ["mgPerLitre"] = value.MgPerLitre is { } mg ? Math.Round(mg, 4) : null,
                ["low"] = Math.Round(value.Low, 6),
                ["high"] = Math.Round(value.High, 6),
                ["origin"] = value.Origin.ToString().ToLowerInvariant(),
            })]);
        }

        return json;
    }
}
