using System.CommandLine;
using System.Globalization;
using Rootwater.Ledger;
using Rootwater.Ledger.Exchange;
using Rootwater.Ledger.Exchange.Csv;
using Rootwater.Ledger.Exchange.Story;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater exchange</c>: tables, archive, Darwin Core, calendar, printed sheets, a plant's story.</summary>
internal static class ExchangeCommand
{
    public static Command Create() => new("exchange", "What leaves the bench and what comes in.")
    {
        Tables(), Out("csv-set", "All tables as a ZIP of CSV files.", (desks, to, cancel) => desks.Exchange.WriteCsvSetAsync(to, cancel)), Csv(), ImportCsv(), ImportSet(),
        Out("archive", "The whole bench with its photos as one file.", (desks, to, cancel) => desks.Exchange.WriteArchiveAsync(to, cancel: cancel)), ImportArchive(),
        Out("darwin-core", "Plants and blooms as a Darwin Core archive.", (desks, to, cancel) => desks.Exchange.WriteDarwinCoreAsync(to, cancel)),
        Out("calendar", "What is due and which blooms are expected, as iCalendar.", async (desks, to, cancel) => await to.WriteAsync(System.Text.Encoding.UTF8.GetBytes(await desks.Exchange.CalendarAsync(cancel: cancel)), cancel)),
        Tags(), Card(), Story(),
    };

    private static Command Tables()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("tables", "The tables that go out and come in as CSV, with their fields.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange tables", result.GetValue(bench), desks =>
        {
            var tables = desks.Exchange.Tables.Select(table => new { name = table, fields = desks.Exchange.FieldsOf(table) }).ToList();
            if (!result.GetValue(json))
            {
                Words.WriteTable(["table", "fields"], tables.Select(table => (IReadOnlyList<string?>)[table.name, string.Join(", ", table.fields)]));
                return Task.FromResult(0);
            }

            return Task.FromResult(Words.WriteJson(tables));
        }, cancel));
    }

    private static Command Csv()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var table = new Argument<string>("TABLE") { Description = "\"plants\" (a plant a row), or a kind of fact as \"reading.taken\"." };
        var file = File("FILE");
        return new Command("csv", "One table as CSV.") { table, file, bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange csv", result.GetValue(bench), async desks =>
        {
            desks.Exchange.FieldsOf(result.GetValue(table)!);
            await Words.WriteFileAsync(result.GetValue(file)!, to => desks.Exchange.WriteCsvAsync(result.GetValue(table)!, to, cancel));
            return Written(result.GetValue(json), result.GetValue(file)!);
        }, cancel));
    }

    private static Command ImportCsv()
    {
        var (bench, json, write) = (BenchOption.Create(), Words.Json(), Write());
        var table = new Argument<string>("TABLE") { Description = "As \"exchange tables\" lists them." };
        var file = new Argument<string>("FILE") { Description = "A CSV file in UTF-8." };
        var map = new Option<string[]>("--map") { Description = "field=heading, for a heading that is not named like its field; may be repeated." };
        var set = new Option<string[]>("--set") { Description = "field=text, the same for every row; may be repeated." };
        var format = new Option<string?>("--date-format") { Description = "For dates that are not ISO 8601, as dd.MM.yyyy." };
        return new Command("import-csv", "Show what a CSV file would do to the bench; with --write, do it. Exit status 1 when something is in the way.") { table, file, map, set, format, write, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("exchange import-csv", result.GetValue(bench), async desks =>
            {
                await using var csv = Words.OpenFile(result.GetValue(file)!);
                var mapping = new CsvMapping { Table = result.GetValue(table)!, Columns = Pairs("--map", result.GetValue(map)), Fixed = Pairs("--set", result.GetValue(set)), DateFormat = result.GetValue(format) };
                var report = await desks.Exchange.ReadCsvAsync(csv, mapping, result.GetValue(write), cancel);
                if (result.GetValue(json))
                {
                    return Words.WriteJson(report, report.Problems.Count == 0 ? 0 : 1);
                }

                Show(report);
                return report.Problems.Count == 0 ? 0 : 1;
            }, cancel));
    }

    private static Command ImportSet()
    {
        var (bench, json, write) = (BenchOption.Create(), Words.Json(), Write());
        var file = new Argument<string>("FILE") { Description = "A ZIP as csv-set writes it." };
        return new Command("import-csv-set", "All tables into a new or empty bench; with --write, kept.") { file, write, bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange import-csv-set", result.GetValue(bench), async desks =>
        {
            await using var zip = Words.OpenFile(result.GetValue(file)!);
            return Counted(result, json, await desks.Exchange.ReadCsvSetAsync(zip, result.GetValue(write), cancel), result.GetValue(write));
        }, cancel, create: true));
    }

    private static Command ImportArchive()
    {
        var (bench, json, write) = (BenchOption.Create(), Words.Json(), Write());
        var file = new Argument<string>("FILE") { Description = "An archive as \"exchange archive\" writes it." };
        return new Command("import-archive", "Look through an archive; with --write, make a new or empty bench into it.") { file, write, bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange import-archive", result.GetValue(bench), async desks =>
        {
            await using var archive = Words.OpenFile(result.GetValue(file)!);
            var receipt = result.GetValue(json) || Console.IsOutputRedirected
                ? await desks.Exchange.ReadArchiveAsync(archive, result.GetValue(write), cancel: cancel)
                : await AnsiConsole.Progress().StartAsync(bar => desks.Exchange.ReadArchiveAsync(archive, result.GetValue(write), new Bar(bar.AddTask("facts")), cancel));
            return Counted(result, json, receipt.Facts, result.GetValue(write));
        }, cancel, create: true));
    }

    private static Command Tags()
    {
        var (bench, json, file) = (BenchOption.Create(), Words.Json(), File("FILE"));
        var numbers = new Option<int[]>("--numbers") { Description = "Only these plants; all when left out.", AllowMultipleArgumentsPerToken = true };
        return new Command("tags", "Plant tags with QR codes as PDF, 27 to a sheet of A4. The address in the codes is the one in the settings.") { file, numbers, bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange tags", result.GetValue(bench), async desks =>
        {
            await Words.WriteFileAsync(result.GetValue(file)!, to => desks.Exchange.WriteTagsAsync(to, result.GetValue(numbers) is { Length: > 0 } some ? some : null, null, cancel));
            return Written(result.GetValue(json), result.GetValue(file)!);
        }, cancel));
    }

    private static Command Card()
    {
        var (bench, json, file) = (BenchOption.Create(), Words.Json(), File("FILE"));
        var can = new Argument<Guid>("CAN") { Description = "Id of a kept can." };
        return new Command("card", "A can's mixing card as PDF.") { can, file, bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange card", result.GetValue(bench), async desks =>
        {
            var found = true;
            await Words.WriteFileAsync(result.GetValue(file)!, async to => found = await desks.Exchange.WriteMixingCardAsync(result.GetValue(can), to, null, cancel));
            return found ? Written(result.GetValue(json), result.GetValue(file)!) : throw new EntryException("CAN", result.GetValue(can).ToString(), "the id of a kept can");
        }, cancel));
    }

    private static Command Story()
    {
        var (number, bench, json, file) = (PlantCommand.Number(), BenchOption.Create(), Words.Json(), File("FILE"));
        var with = new Option<string[]>("--with") { Description = "What of its private side goes along: source, price, place, locality, notes, tried. Nothing when left out.", AllowMultipleArgumentsPerToken = true };
        with.AcceptOnlyFromAmong("source", "price", "place", "locality", "notes", "tried");
        return new Command("story", "A plant's story as one HTML file with its photos.") { number, file, with, bench, json }.With((result, cancel) => Words.OnBenchAsync("exchange story", result.GetValue(bench), async desks =>
        {
            var ticked = result.GetValue(with) ?? [];
            var options = new StoryOptions { Source = ticked.Contains("source"), Price = ticked.Contains("price"), Place = ticked.Contains("place"), WildLocality = ticked.Contains("locality"), Notes = ticked.Contains("notes"), Tried = ticked.Contains("tried") };
            var story = await desks.Exchange.StoryAsync((await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel)).Card.Id, options, cancel);
            await Words.WriteFileAsync(result.GetValue(file)!, to => to.WriteAsync(System.Text.Encoding.UTF8.GetBytes(story!), cancel).AsTask());
            return Written(result.GetValue(json), result.GetValue(file)!);
        }, cancel));
    }

    private static Command Out(string name, string description, Func<BenchDesks, Stream, CancellationToken, Task> write)
    {
        var (bench, json, file) = (BenchOption.Create(), Words.Json(), File("FILE"));
        return new Command(name, description) { file, bench, json }.With((result, cancel) => Words.OnBenchAsync($"exchange {name}", result.GetValue(bench), async desks =>
        {
            await Words.WriteFileAsync(result.GetValue(file)!, to => write(desks, to, cancel));
            return Written(result.GetValue(json), result.GetValue(file)!);
        }, cancel));
    }

    private static Argument<string> File(string name) => new(name) { Description = "Where it goes; - for standard output." };

    private static Option<bool> Write() => new("--write") { Description = "Do it; without this, only what would be done is shown." };

    private static int Written(bool json, string file)
    {
        if (file == "-")
        {
            return 0;
        }

        var bytes = new FileInfo(file).Length;
        if (json)
        {
            return Words.WriteJson(new { file = Path.GetFullPath(file), bytes });
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{file}: {bytes:N0} bytes."));
        return 0;
    }

    private static int Counted(ParseResult result, Option<bool> json, long facts, bool written)
    {
        if (result.GetValue(json))
        {
            return Words.WriteJson(new { facts, written });
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{facts:N0} facts; {(written ? "the bench is there." : "nothing is in the way. Add --write to do it.")}"));
        return 0;
    }

    private static Dictionary<string, string> Pairs(string option, string[]? given) => (given ?? []).ToDictionary(
        pair => pair.Split('=', 2)[0], pair => pair.Split('=', 2) is [_, var value] ? value : throw new EntryException(option, pair, "a field, = and a heading or text"));

    private static void Show(CsvReport report)
    {
        Words.WriteTable(["row", "adds", "when", "what"], report.Changes.Take(40).Select(change => (IReadOnlyList<string?>)[change.Row.ToString(CultureInfo.InvariantCulture), change.Kind, change.When, change.Words]));
        foreach (var problem in report.Problems)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"row {problem.Row}, {problem.Field}{(problem.Value is null ? "" : $" \"{problem.Value}\"")}: {problem.Accepted}"));
        }

        if (report.LeftOut.Count > 0)
        {
            Console.WriteLine($"Columns that no field takes: {string.Join(", ", report.LeftOut)}");
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{report.Rows} rows: {report.Facts} facts, {report.Unchanged} rows as they are, {report.Problems.Count} problems. {(report.Written ? "Written." : report.Problems.Count == 0 ? "Nothing was written yet: add --write." : "Nothing was written.")}"));
    }

    private sealed class Bar(ProgressTask task) : IProgress<ExchangeProgress>
    {
        public void Report(ExchangeProgress value) => (task.MaxValue, task.Value) = (Math.Max(1, value.Of), value.Done);
    }
}
