using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Methods;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater evidence methods</c> and <c>rootwater evidence run METHOD --csv FILE</c>: statistical methods on a table. Written up in docs/evidence-methods.md.</summary>
internal static class EvidenceCommand
{
    public static Command Create() => new("evidence", "What the records can tell, and what they cannot.") { EvidenceOfCommand.Plant(), EvidenceOfCommand.Group(), SeasonCommands.Year(), SeasonCommands.Tried(), Methods(), Run() };

    private static Command Methods()
    {
        var json = new Option<bool>("--json") { Description = "Write JSON in place of a list." };
        var command = new Command("methods", "The methods there are, with their options.") { json };
        command.SetAction(result =>
        {
            if (result.GetValue(json))
            {
                Console.WriteLine(new JsonArray([.. EvidenceMethods.All.Select(method => (JsonNode)new JsonObject
                {
                    ["name"] = method.Name,
                    ["summary"] = method.Summary,
                    ["options"] = new JsonArray([.. method.Options.Concat(EvidenceMethods.Common).Select(option => (JsonNode)new JsonObject { ["name"] = "--" + option.Name, ["meaning"] = option.Meaning, ["default"] = option.Default })]),
                })]).ToJsonString(TextInput.JsonOptions));
                return 0;
            }

            foreach (var method in EvidenceMethods.All)
            {
                Console.WriteLine($"{method.Name}: {method.Summary}");
                foreach (var option in method.Options)
                {
                    Console.WriteLine($"    --{option.Name,-14} {option.Meaning} [{(option.Default is null ? "needed" : "default: " + option.Default)}]");
                }
            }

            Console.WriteLine("All: " + string.Join("; ", EvidenceMethods.Common.Select(option => $"--{option.Name} {option.Meaning} [default: {option.Default}]")));
            return 0;
        });
        return command;
    }

    private static Command Run()
    {
        var name = new Argument<string>("METHOD") { Description = "One of: " + string.Join(", ", EvidenceMethods.All.Select(method => method.Name)) + "." };
        var csv = new Option<string>("--csv") { Description = "The table, comma-separated with a header line; - for standard input.", DefaultValueFactory = _ => "-" };
        var json = new Option<bool>("--json") { Description = "Write JSON in place of a table." };
        var command = new Command("run", "Run a method on a table. Its options: rootwater evidence methods.") { name, csv, json };
        var options = new Dictionary<string, Option<string?>>();
        foreach (var group in EvidenceMethods.All.SelectMany(method => method.Options.Select(option => (method, option))).Concat(EvidenceMethods.Common.Select(option => ((IEvidenceMethod)null!, option))).GroupBy(each => each.option.Name).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var users = group.Select(each => each.Item1?.Name ?? "all").ToList();
            options[group.Key] = new Option<string?>("--" + group.Key) { Description = $"{group.First().option.Meaning} ({string.Join(", ", users)})" };
            command.Options.Add(options[group.Key]);
        }

        command.SetAction(result =>
        {
            if (TextInput.Read("evidence run", result.GetValue(csv)!) is not { } text)
            {
                return 2;
            }

            try
            {
                var given = options.Select(option => (option.Key, Value: result.GetValue(option.Value))).Where(option => option.Value is not null).ToDictionary(option => option.Key, option => option.Value!);
                var answer = EvidenceMethods.Run(result.GetValue(name)!, EvidenceTable.Parse(text), given);
                Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
                if (result.GetValue(json))
                {
                    Console.WriteLine(ToJson(answer).ToJsonString(TextInput.JsonOptions));
                }
                else
                {
                    ForReading(answer);
                }

                return 0;
            }
            catch (EvidenceInputException problem)
            {
                if (result.GetValue(json))
                {
                    Console.WriteLine(new JsonObject { ["error"] = new JsonObject { ["field"] = problem.Field, ["value"] = problem.Value, ["accepted"] = problem.Accepted, ["message"] = problem.Message } }.ToJsonString(TextInput.JsonOptions));
                }
                else
                {
                    Console.Error.WriteLine("evidence run: " + problem.Message);
                }

                return 1;
            }
        });
        return command;
    }

    private static JsonObject ToJson(EvidenceAnswer answer) => new()
    {
        ["method"] = answer.Method,
        ["n"] = answer.N,
        ["says"] = new JsonArray([.. answer.Says.Select(sentence => (JsonNode)sentence)]),
        ["assumptions"] = new JsonArray([.. answer.Assumptions.Select(sentence => (JsonNode)sentence)]),
        ["quantities"] = new JsonArray([.. answer.Quantities.Select(quantity => (JsonNode)new JsonObject
        {
            ["method"] = quantity.Method,
            ["group"] = quantity.Group,
            ["quantity"] = quantity.Quantity,
            ["value"] = Number(quantity.Value),
            ["note"] = quantity.Note,
        })]),
    };

    // JSON has no infinity: it is written as R writes it.
    private static JsonNode? Number(double? value) => value switch
    {
        null => null,
        double.PositiveInfinity => "Inf",
        double.NegativeInfinity => "-Inf",
        { } number => number,
    };

    private static void ForReading(EvidenceAnswer answer)
    {
        foreach (var sentence in answer.Says)
        {
            Console.WriteLine(sentence);
        }

        var table = new Table().AddColumns("method", "group", "quantity", "value");
        foreach (var quantity in answer.Quantities)
        {
            table.AddRow(Markup.Escape(quantity.Method), Markup.Escape(quantity.Group), Markup.Escape(quantity.Quantity), quantity.Value is { } value ? value.ToString("G7", CultureInfo.InvariantCulture) : "–");
        }

        AnsiConsole.Write(table);
        foreach (var assumption in answer.Assumptions)
        {
            Console.WriteLine("Assumed: " + assumption);
        }
    }
}
