using System.CommandLine;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater water year</c> and <c>rootwater water rain</c>.</summary>
internal static class WaterYearCommands
{
    public static Command Year()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("year", "Reports over time, how the water was blended month by month, the acid it needs, and whether it has drifted.") { bench, json }
            .With((result, cancel) => Words.OnBenchAsync("water year", result.GetValue(bench), async desks =>
            {
                var sheet = await desks.WaterYear.GetAsync(cancel);
                if (result.GetValue(json))
                {
                    return Words.WriteJson(sheet);
                }

                Words.WriteTable(["month", "litres", "water", "alkalinity", "acid needed", "acid used"], sheet.Months.Select(month => (IReadOnlyList<string?>)
                [
                    $"{month.Month:yyyy-MM}", Number(month.Litres, "0"), string.Join(", ", month.Shares.Select(share => $"{share.Name} {Number(share.Share * 100, "0")} %")),
                    Number(month.AlkalinityMeqPerLitre, "0.00"), Number(month.AcidNeedMeqPerLitre, "0.00"), Number(month.AcidUsedMeqPerLitre, "0.00"),
                ]));
                AnsiConsole.WriteLine("meq/L; the acid used also meets what feeds and salts bring.");
                foreach (var words in sheet.Words.Concat(sheet.Waters.SelectMany(water => water.Drift.Select(drift => drift.Words))))
                {
                    AnsiConsole.WriteLine(words);
                }

                return 0;
            }, cancel));
    }

    public static Command Rain()
    {
        var days = new Option<int>("--days") { Description = "How far ahead, 7 to 365.", DefaultValueFactory = _ => 90 };
        var roof = new Option<double?>("--roof") { Description = "Set: m² of roof that drain into the barrel, seen from above." };
        var barrel = new Option<double?>("--barrel") { Description = "Set: litres that the barrels hold." };
        var level = new Option<double?>("--level") { Description = "Set: litres in them now." };
        var record = new Option<string?>("--record") { Description = "Read a rain record: a CSV of days and millimetres; - for standard input." };
        var write = new Option<bool>("--write") { Description = "Keep what --record read; without it the file is only looked through." };
        var from = new Option<string?>("--from") { Description = "Whose record it is." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("rain", "The rain budget: roof area times the rain record against the coming rounds.") { days, roof, barrel, level, record, write, from, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("water rain", result.GetValue(bench), async desks =>
            {
                if (result.GetValue(record) is { } file)
                {
                    var text = TextInput.Read("water rain", file) ?? throw new EntryException("--record", file, "a file that can be read");
                    var import = await desks.WaterYear.ImportRainAsync(text, result.GetValue(from), result.GetValue(write), cancel);
                    foreach (var problem in import.Problems)
                    {
                        await Console.Error.WriteLineAsync($"water rain: {problem}");
                    }

                    if (!import.Written)
                    {
                        AnsiConsole.MarkupLineInterpolated($"{import.Days} days from {import.From:yyyy-MM-dd} to {import.To:yyyy-MM-dd}, {Number(import.MillimetresPerYear, "0")} mm a year; nothing was kept (--write keeps it).");
                        return 0;
                    }
                }

                var sheet = await desks.WaterYear.RainAsync(result.GetValue(days), cancel);
                if (result.GetValue(roof) is not null || result.GetValue(barrel) is not null || result.GetValue(level) is not null)
                {
                    var water = sheet.WaterId ?? throw new EntryException("water", null, "a water with a report of rain: enter one first");
                    if (result.GetValue(roof) is not null || result.GetValue(barrel) is not null)
                    {
                        await desks.WaterYear.SetRoofAsync(new RoofEntry(
                            water, result.GetValue(roof) ?? sheet.Roof?.RoofSquareMetres ?? throw new EntryException("--roof", null, "m² of roof"),
                            result.GetValue(barrel) ?? sheet.Roof?.BarrelLitres ?? throw new EntryException("--barrel", null, "litres that the barrels hold"), sheet.Roof?.RunOffShare ?? 0.8), cancel: cancel);
                    }

                    if (result.GetValue(level) is { } litres)
                    {
                        await desks.WaterYear.SetLevelAsync(water, litres, cancel: cancel);
                    }

                    sheet = await desks.WaterYear.RainAsync(result.GetValue(days), cancel);
                }

                if (result.GetValue(json))
                {
                    return Words.WriteJson(sheet);
                }

                foreach (var missing in sheet.Missing)
                {
                    AnsiConsole.MarkupLineInterpolated($"Missing: {missing}");
                }

                Words.WriteTable(["day", "one year in ten", "middle", "nine in ten"], sheet.Levels.Where((_, i) => i % 7 == 0).Select(each => (IReadOnlyList<string?>)
                    [$"{each.Day:yyyy-MM-dd}", Number(each.Litres.Low, "0"), Number(each.Litres.Value, "0"), Number(each.Litres.High, "0")]));
                foreach (var words in sheet.Words)
                {
                    AnsiConsole.WriteLine(words);
                }

                return 0;
            }, cancel));
    }

    private static string Number(double value, string format) => CanCommand.Number(value, format);
}
