using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater cupboard enter</c>: a new product, step by step; without a step, what comes next.</summary>
internal static class EntryCommand
{
    public static Command Create()
    {
        var name = new Argument<string?>("NAME") { Description = "What the product is called, or the id of its entry; left out: all that were begun.", DefaultValueFactory = _ => null };
        var label = new Option<string?>("--label") { Description = "Begin: a file with the label's text; - for standard input." };
        var density = new Option<double?>("--density") { Description = "Begin: kilograms per litre of a liquid." };
        var price = new Option<decimal?>("--price") { Description = "Begin: per kilogram." };
        var water = new Option<string?>("--test-in") { Description = "Plan a test can in this water." };
        var strength = new Option<double>("--grams-per-litre") { Description = "Of the test can.", DefaultValueFactory = _ => 1 };
        var litres = new Option<double>("--litres") { Description = "Of the test can.", DefaultValueFactory = _ => 2 };
        var ec = new Option<double?>("--ec") { Description = "What your EC pen shows in the test can, mS/cm." };
        var ph = new Option<double?>("--ph") { Description = "What your pH pen shows in it." };
        var clear = new Option<bool>("--clear") { Description = "After a day it was clear against the light." };
        var hazy = new Option<bool>("--hazy") { Description = "It was not." };
        var pairs = new Option<string[]>("--pair") { Description = "NEW:OLD, numbers of two matched plants; several times." };
        var outcome = new Option<string?>("--outcome") { Description = "What will be compared, fixed before the trial." };
        var judged = new Option<string?>("--judged") { Description = "WORSE:BETTER, in how many pairs it did worse and better." };
        var accept = new Option<string?>("--accept") { Description = "Accept it; why." };
        var reject = new Option<string?>("--reject") { Description = "Reject it; why." };
        var note = new Option<string?>("--note") { Description = "What was seen." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("enter", "Enter a new product: label, test can, a day's look, a few plants of little value, decision. Each step is kept; without one, what comes next is shown.")
        { name, label, density, price, water, strength, litres, ec, ph, clear, hazy, pairs, outcome, judged, accept, reject, note, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("cupboard enter", result.GetValue(bench), async desks =>
            {
                if (result.GetValue(name) is not { } called)
                {
                    return await ListAsync(desks, result.GetValue(json), cancel);
                }

                var entry = await FindAsync(desks, called, cancel);
                if (entry is null && result.GetValue(label) is { } file)
                {
                    var text = TextInput.Read("cupboard enter", file) ?? throw new EntryException("--label", file, "a file that can be read");
                    entry = await desks.Entries.BeginAsync(new NewProduct { Name = called, LabelText = text, DensityKgPerLitre = result.GetValue(density), PricePerKg = result.GetValue(price) }, cancel);
                }

                if (entry is null)
                {
                    throw new EntryException("NAME", called, "a product that was begun, or --label with its label to begin");
                }

                var id = entry.Id;
                if (result.GetValue(water) is { } wet)
                {
                    var source = (await desks.Water.ListAsync(cancel)).FirstOrDefault(each => each.Name.Contains(wet, StringComparison.OrdinalIgnoreCase)) ?? throw new EntryException("--test-in", wet, "a water of this bench");
                    entry = await desks.Entries.PlanTestAsync(id, new TestCanChoice(source.Id, result.GetValue(strength), result.GetValue(litres)), cancel: cancel);
                }

                if (result.GetValue(ec) is not null || result.GetValue(ph) is not null)
                {
                    entry = await desks.Entries.ReadTestAsync(id, result.GetValue(ec) * 1000, result.GetValue(ph), cancel: cancel);
                }

                if (result.GetValue(clear) || result.GetValue(hazy))
                {
                    entry = await desks.Entries.LookAsync(id, !result.GetValue(hazy), result.GetValue(note), cancel: cancel);
                }

                if (result.GetValue(pairs) is { Length: > 0 } numbers)
                {
                    entry = await desks.Entries.BeginTrialAsync(id, await PairsAsync(desks, numbers, cancel), result.GetValue(outcome) ?? "", cancel: cancel);
                }

                if (result.GetValue(judged) is { } how)
                {
                    var (worse, better) = Two("--judged", how);
                    entry = await desks.Entries.JudgeTrialAsync(id, worse, better, result.GetValue(note), cancel: cancel);
                }

                if ((result.GetValue(accept) ?? result.GetValue(reject)) is { } why)
                {
                    entry = await desks.Entries.DecideAsync(id, result.GetValue(accept) is not null, why, cancel: cancel);
                }

                if (result.GetValue(json))
                {
                    return Words.WriteJson(entry);
                }

                Show(entry);
                return 0;
            }, cancel));
    }

    private static async Task<int> ListAsync(BenchDesks desks, bool json, CancellationToken cancel)
    {
        var all = await desks.Entries.ListAsync(cancel);
        if (json)
        {
            return Words.WriteJson(all);
        }

        Words.WriteTable(["product", "stands at", "next"], all.Select(entry => (IReadOnlyList<string?>)[entry.Product.Name, Stage(entry.Stage), entry.Next]));
        return 0;
    }

    private static async Task<ProductEntrySheet?> FindAsync(BenchDesks desks, string called, CancellationToken cancel) =>
        (await desks.Entries.ListAsync(cancel)).FirstOrDefault(entry => entry.Id.ToString() == called || entry.Product.Name.Equals(called, StringComparison.OrdinalIgnoreCase));

    private static async Task<List<TrialPair>> PairsAsync(BenchDesks desks, string[] pairs, CancellationToken cancel)
    {
        var cards = (await desks.Plants.ListAsync(cancel: cancel)).ToDictionary(card => card.Number, card => card.Id);
        Guid Plant(int number) => cards.TryGetValue(number, out var id) ? id : throw new EntryException("--pair", number.ToString(CultureInfo.InvariantCulture), "the number of a plant on this bench");
        return [.. pairs.Select(pair => Two("--pair", pair)).Select(two => new TrialPair(Plant(two.One), Plant(two.Other)))];
    }

    private static (int One, int Other) Two(string option, string text)
    {
        var parts = text.Split(':');
        return parts.Length == 2 && int.TryParse(parts[0], CultureInfo.InvariantCulture, out var one) && int.TryParse(parts[1], CultureInfo.InvariantCulture, out var other)
            ? (one, other)
            : throw new EntryException(option, text, "two whole numbers with a colon between, such as 12:15");
    }

    private static void Show(ProductEntrySheet entry)
    {
        AnsiConsole.MarkupLineInterpolated($"[bold]{entry.Product.Name}[/]: {Stage(entry.Stage)}{(entry.IsProvisional ? ", provisional" : "")}");
        if (entry.MadeOf.Count > 0)
        {
            AnsiConsole.MarkupLineInterpolated($"It must be made of: {string.Join(", ", entry.MadeOf)}.");
        }

        if (entry.LabelChange is { } change)
        {
            AnsiConsole.WriteLine(change);
        }

        if (entry.Test is { } test)
        {
            AnsiConsole.MarkupLineInterpolated($"Test can: {CanCommand.Number(test.Grams, "0.##")} g in {CanCommand.Number(test.Litres, "0.##")} L of {test.Water}. EC {Band(test.Ec, 0.001, "0.00")} mS/cm{Read(test.MeasuredEc / 1000, "0.00", test.EcAgrees)}, pH {Band(test.PH, 1, "0.0")}{Read(test.MeasuredPH, "0.0#", test.PHAgrees)}.");
        }

        foreach (var words in entry.Corrections.Concat(entry.Unseen))
        {
            AnsiConsole.WriteLine(words);
        }

        foreach (var step in entry.Steps)
        {
            AnsiConsole.MarkupLineInterpolated($"  {step.At:yyyy-MM-dd HH:mm}  {step.Words}{(step.Counts ? "" : " (does not follow the others: take it again)")}");
        }

        foreach (var pair in entry.Stage == EntryStage.Clear ? entry.Offered : entry.Pairs)
        {
            AnsiConsole.MarkupLineInterpolated($"  {(entry.Stage == EntryStage.Clear ? "offered" : "pair")}: {pair.NewName} on it beside {pair.OldName}");
        }

        if (entry.Next is { } next)
        {
            AnsiConsole.MarkupLineInterpolated($"Next: {next}{(entry.NotBefore is { } when ? $" Not before {when:yyyy-MM-dd HH:mm}." : "")}");
        }
    }

    private static string Stage(EntryStage stage) => stage switch
    {
        EntryStage.LabelRead => "label read",
        EntryStage.TestPlanned => "test can planned",
        EntryStage.TestRead => "test can read",
        EntryStage.Clear => "clear after a day",
        EntryStage.OnTrial => "on trial",
        EntryStage.Judged => "trial judged",
        EntryStage.Accepted => "accepted",
        _ => "rejected",
    };

    private static string Read(double? value, string format, bool agrees) => value is { } read ? $", read {CanCommand.Number(read, format)}{(agrees ? "" : " (outside)")}" : "";

    private static string Band(Growing.Expected expected, double scale, string format) => $"{CanCommand.Number(expected.Low * scale, format)} to {CanCommand.Number(expected.High * scale, format)}";
}
