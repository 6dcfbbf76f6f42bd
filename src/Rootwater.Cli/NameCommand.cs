using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Growing;
using Rootwater.Growing.Bench.Names;

namespace Rootwater.Cli;

/// <summary><c>rootwater name TEXT</c>: a plant's name as typed in; how the codes write it, and what is wrong with it, out.</summary>
internal static class NameCommand
{
    private static readonly JsonSerializerOptions s_json = new()
    {
        WriteIndented = true,
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = TextInput.JsonOptions.Encoder,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public static Command Create()
    {
        var text = new Argument<string>("TEXT") { Description = "As on the tag: \"Phal. sumatrana x tetraspis 'Red' AM/AOS\"." };
        var asJson = new Option<bool>("--json") { Description = "Write JSON." };
        var command = new Command("name", "Read a plant's name and write it by the codes of nomenclature.") { text, asJson };
        command.SetAction(result => Run(result.GetValue(text)!, result.GetValue(asJson)));
        return command;
    }

    private static int Run(string text, bool asJson)
    {
        var reading = NameReader.Read(text);
        if (asJson)
        {
            Console.Out.WriteLine(JsonSerializer.Serialize(new
            {
                text = reading.Name?.ToText(),
                sort = reading.Name?.Sort,
                genus = reading.Name?.Genus,
                species = reading.Name?.Species,
                grex = reading.Name?.Grex,
                cultivar = reading.Name?.Cultivar,
                awards = reading.Name?.Awards,
                parents = reading.Name?.Parents.Select(parent => parent.ToText()),
                findings = reading.Findings,
            }, s_json));
        }
        else
        {
            if (reading.Name is { } name)
            {
                Console.Out.WriteLine(name.ToText());
            }

            foreach (var finding in reading.Findings)
            {
                Console.Error.WriteLine($"{(finding.Severity == Severity.Note ? "note" : finding.Severity == Severity.Warning ? "warning" : "error")}: {finding.Message}");
            }
        }

        return reading.Name is null ? 2 : 0;
    }
}
