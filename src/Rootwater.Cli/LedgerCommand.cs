using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Projections;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater ledger</c>: the demo bench, and whether every table still follows from the facts.</summary>
internal static class LedgerCommand
{
    private static readonly JsonSerializerOptions s_json = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase, Encoder = TextInput.JsonOptions.Encoder };

    public static Command Create() => new("ledger", "The ledger of a bench: every fact, dated; and the tables that follow from them.") { Demo(), Check(), Rebuild() };

    private static Command Demo()
    {
        var (database, json) = (BenchOption.Create(), Json());
        var quick = new Option<bool>("--three-months") { Description = "Only the last three months of cans, no growth and no pictures: quick." };
        var command = new Command("demo", "Fill an empty bench with the demo: the lean-to, 36 plants, six years. A bench that holds anything is left as it is.") { database, quick, json };
        command.SetAction((result, cancel) => BenchOption.RunAsync("ledger demo", async () =>
        {
            var clock = Stopwatch.StartNew();
            await using var bench = await BenchDatabase.OpenAsync(new LedgerOptions { Location = result.GetValue(database) }, cancel);
            var facts = await LeanTo.FillIfEmptyAsync(
                bench, TimeProvider.System, story: result.GetValue(quick) ? DemoStory.ThreeMonths : DemoStory.SixYears, cancel: cancel);
            if (result.GetValue(json))
            {
                Console.WriteLine(JsonSerializer.Serialize(new { bench = bench.Name, facts, seconds = Math.Round(clock.Elapsed.TotalSeconds, 3) }, s_json));
            }
            else
            {
                Console.WriteLine(facts > 0
                    ? string.Create(CultureInfo.InvariantCulture, $"{bench.Name}: {facts} facts written in {clock.Elapsed.TotalSeconds:0.0} s.")
                    : $"{bench.Name} holds facts already and was left as it is. Name another place with --bench for a fresh demo.");
            }

            return 0;
        }));
        return command;
    }

    private static Command Check()
    {
        var (database, json) = (BenchOption.Create(), Json());
        var command = new Command("check", "Make every table again from the facts, compare, and change nothing. Exit status 1 when something differs.") { database, json };
        command.SetAction((result, cancel) => RunAsync("ledger check", result.GetValue(database), result.GetValue(json), LedgerCheck.CheckAsync, cancel));
        return command;
    }

    private static Command Rebuild()
    {
        var (database, json) = (BenchOption.Create(), Json());
        var command = new Command("rebuild", "Make every table again from the facts and keep the result. Exit status 1 when something had differed.") { database, json };
        command.SetAction((result, cancel) => RunAsync("ledger rebuild", result.GetValue(database), result.GetValue(json), LedgerCheck.RebuildAsync, cancel));
        return command;
    }

    private static Task<int> RunAsync(
        string name, string? location, bool json, Func<BenchDatabase, CancellationToken, Task<LedgerCheckReport>> work, CancellationToken cancel) => BenchOption.RunAsync(name, async () =>
    {
        await using var bench = await BenchDatabase.OpenAsync(new LedgerOptions { Location = location, CreateIfMissing = false }, cancel);
        var report = await work(bench, cancel);
        if (json)
        {
            Console.WriteLine(JsonSerializer.Serialize(new { bench = bench.Name, report.Facts, report.Tables, report.Differences }, s_json));
        }
        else
        {
            Show(bench.Name, report);
        }

        return report.Differences.Count == 0 ? 0 : 1;
    });

    private static void Show(string bench, LedgerCheckReport report)
    {
        var table = new Table { Border = TableBorder.Simple }.AddColumn("table").AddColumn(new TableColumn("rows").RightAligned());
        foreach (var (name, rows) in report.Tables.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            table.AddRow(name, rows.ToString("N0", CultureInfo.InvariantCulture));
        }

        AnsiConsole.Write(table);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{bench}: {report.Facts:N0} facts."));
        Console.WriteLine(report.Differences.Count == 0 ? "Every table follows from them." : $"{report.Differences.Count} differences:");
        foreach (var difference in report.Differences)
        {
            Console.WriteLine("  " + (difference.Length > 300 ? difference[..300] + " …" : difference));
        }
    }

    private static Option<bool> Json() => new("--json") { Description = "Write JSON in place of text." };
}
