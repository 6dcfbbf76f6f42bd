using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater label [FILE]</c>: a label's text in; what it declares, which salts explain it, and its EC and pH at 1 g/L out.</summary>
internal static class LabelCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "A text file with the label; - or nothing for standard input.", DefaultValueFactory = _ => "-" };
        var density = new Option<double?>("--density") { Description = "Density of a liquid in kg/L, where the label does not say." };
        var asJson = new Option<bool>("--json") { Description = "Write JSON in place of tables." };
        var command = new Command("label", "Read a fertilizer label: what it declares, what it is made of, its EC and pH at 1 g/L.") { file, density, asJson };
        command.SetAction(result => Run(result.GetValue(file)!, result.GetValue(density), result.GetValue(asJson)));
        return command;
    }

    private static int Run(string file, double? densityKgPerLitre, bool asJson)
    {
        if (TextInput.Read("label", file) is not { } text)
        {
            return 2;
        }

        var reading = LabelText.Parse(text, densityKgPerLitre);
        var outcome = reading.IsUsable ? ProductFactory.FromLabel(reading.Label!) : null;
        var problems = reading.Problems.Concat(outcome?.Problems ?? []).Distinct().ToList();
        if (asJson)
        {
            Console.Out.WriteLine(ToJson(reading.Label, outcome, problems).ToJsonString(TextInput.JsonOptions));
        }
        else
        {
            Show(reading.Label, outcome, problems);
        }

        return problems.Any(problem => problem.Severity == Severity.Error) ? 1 : 0;
    }

    private static void Show(Label? label, ProductOutcome? outcome, List<InputProblem> problems)
    {
        if (label is not null)
        {
            var table = new Table().Title(Markup.Escape(label.Name)).AddColumn("declared").AddColumn(label.Basis == LabelBasis.ByVolume ? "g per 100 mL" : "%", Right).AddColumn("as element %", Right).AddColumn("read from");
            foreach (var line in label.Declarations)
            {
                table.AddRow(
                    Markup.Escape(line.Form.Symbol() + (line.Chelator == Chelator.None ? "" : $" ({line.Chelator.ToString().ToUpperInvariant()})") + (line.WaterSoluble ? " water-soluble" : "")),
                    Number(line.Percent), Number(line.Percent * line.Form.ElementFraction()),
                    Markup.Escape(line.ReadFrom is { } span && label.Text is { } text ? string.Join(' ', span.In(text).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)) : ""));
            }

            AnsiConsole.Write(table);
        }

        if (outcome?.Inversion is { } inversion)
        {
            var table = new Table().Title("Explained by").AddColumn("salt").AddColumn("formula").AddColumn("% of product", Right);
            foreach (var share in inversion.Best.Salts)
            {
                table.AddRow(Markup.Escape(share.Salt.Name), Markup.Escape(share.Salt.Formula), Number(share.KgPerKg * 100));
            }

            table.AddRow(label!.IsLiquid ? "water and the rest" : "filler and the rest", "", Number(inversion.Best.FillerKgPerKg * 100));
            AnsiConsole.Write(table);
            var (pH, ec) = (inversion.PHAt1GramPerLitre, inversion.EcAt1GramPerLitreMicrosiemensPerCm);
            AnsiConsole.MarkupLineInterpolated(CultureInfo.InvariantCulture, $"1 g/L in pure water, 25 °C: EC [bold]{ec.Value / 1000:0.00}[/] mS/cm ({ec.Low / 1000:0.00} to {ec.High / 1000:0.00}), pH [bold]{pH.Value:0.0}[/] ({pH.Low:0.0} to {pH.High:0.0})");
            AnsiConsole.MarkupLineInterpolated(CultureInfo.InvariantCulture, $"{inversion.Mixes.Count} mixes of salts explain it nearly equally well; largest difference from the label {inversion.LargestRelativeResidual * 100:0.0} %. EC does not see urea or traces.");
        }

        TextInput.Show(problems);
        if (outcome?.Product is { } product)
        {
            foreach (var text in SafetyTexts.For(product))
            {
                AnsiConsole.MarkupLineInterpolated($"[dim]{text.Short}[/]");
            }
        }
    }

    private static void Right(TableColumn column) => column.RightAligned();

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static JsonObject ToJson(Label? label, ProductOutcome? outcome, List<InputProblem> problems)
    {
        var json = new JsonObject { ["problems"] = TextInput.ToJson(problems) };
        if (label is not null)
        {
            json["name"] = label.Name;
            json["basis"] = label.Basis == LabelBasis.ByVolume ? "gramsPer100Millilitres" : "percentByWeight";
            json["densityKgPerLitre"] = label.DensityKgPerLitre;
            json["directions"] = label.Directions;
            json["declared"] = new JsonArray([.. label.Declarations.Select(line => (JsonNode)new JsonObject
            {
                ["symbol"] = line.Form.Symbol(),
                ["percent"] = line.Percent,
                ["elementPercent"] = Math.Round(line.Percent * line.Form.ElementFraction(), 6),
                ["chelator"] = line.Chelator == Chelator.None ? null : line.Chelator.ToString(),
                ["waterSoluble"] = line.WaterSoluble,
                ["readFrom"] = line.ReadFrom is { } span ? new JsonObject { ["start"] = span.Start, ["length"] = span.Length } : null,
            })]);
        }

        if (outcome?.Inversion is { } inversion)
        {
            json["pHAt1GramPerLitre"] = ToJson(inversion.PHAt1GramPerLitre, 3);
            json["ecAt1GramPerLitreMicrosiemensPerCm"] = ToJson(inversion.EcAt1GramPerLitreMicrosiemensPerCm, 1);
            json["largestRelativeResidual"] = Math.Round(inversion.LargestRelativeResidual, 5);
            json["mixes"] = new JsonArray([.. inversion.Mixes.Select(mix => (JsonNode)new JsonObject
            {
                ["weight"] = Math.Round(mix.Weight, 5),
                ["fillerKgPerKg"] = Math.Round(mix.FillerKgPerKg, 5),
                ["salts"] = new JsonArray([.. mix.Salts.Select(share => (JsonNode)new JsonObject { ["formula"] = share.Salt.Formula, ["name"] = share.Salt.Name, ["kgPerKg"] = Math.Round(share.KgPerKg, 6) })]),
            })]);
        }

        if (outcome?.Product is { } product)
        {
            json["mgPerKg"] = new JsonObject([.. Enum.GetValues<Nutrient>().Where(nutrient => product.MgPerKg[nutrient] > 0)
                .Select(nutrient => KeyValuePair.Create<string, JsonNode?>(char.ToLowerInvariant(nutrient.ToString()[0]) + nutrient.ToString()[1..], Math.Round(product.MgPerKg[nutrient], 2)))]);
            json["cautions"] = new JsonArray([.. SafetyTexts.For(product).Select(text => (JsonNode)text.Full)]);
        }

        return json;
    }

    private static JsonObject ToJson(Spread spread, int digits) => new()
    {
        ["low"] = Math.Round(spread.Low, digits),
        ["value"] = Math.Round(spread.Value, digits),
        ["high"] = Math.Round(spread.High, digits),
        ["standardDeviation"] = Math.Round(spread.StandardDeviation, digits),
    };
}
