using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Evidence.Causes;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Cli;

/// <summary><c>rootwater cause NUMBER</c>: the cause sheet of a plant; <c>cause list</c>, <c>cause settle</c>.</summary>
internal static class CauseCommand
{
    public static Command Create()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        number.Arity = ArgumentArity.ZeroOrOne;
        var leaf = new Option<string?>("--leaf") { Description = "The leaf, as the sheet names it (\"leaf 1\", \"leaf 1 of bulb 4\"), its id, or \"all\" for the whole plant; the one that is marked when left out." };
        var seen = new Option<string[]>("--seen") { Description = "What was looked at, clue=value (pattern=even-yellow speed=weeks); clue= takes an answer off. Kept with --keep only.", AllowMultipleArgumentsPerToken = true };
        var keep = new Option<bool>("--keep") { Description = "Write down what was seen." };
        var apart = new Option<bool>("--apart") { Description = "Keep the plant apart for the sheet's reason." };
        var command = new Command("cause", "What may ail a plant, from what is seen and recorded, and what to look at next. It does not diagnose.") { number, leaf, seen, keep, apart, bench, json, List(), Settle() };
        command.SetAction((result, cancel) => Words.OnBenchAsync("cause", result.GetValue(bench), async desks =>
        {
            var life = await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel);
            var id = life.Card.Id;
            var which = await LeafAsync(desks, id, result.GetValue(leaf), cancel);
            var answers = Answers(result.GetValue(seen) ?? []);
            var sheet = result.GetValue(keep)
                ? await desks.Causes.SeeAsync(new CauseLook { PlantId = id, LeafId = which == Guid.Empty ? null : which, WholePlant = which == Guid.Empty, Answers = answers }, cancel)
                : await desks.Causes.SheetAsync(id, which, answers.Where(pair => pair.Value is not null).ToDictionary(pair => pair.Key, pair => pair.Value!), cancel);
            if (result.GetValue(apart))
            {
                await desks.Causes.QuarantineAsync(id, sheet.LeafId ?? Guid.Empty, cancel: cancel);
                sheet = await desks.Causes.SheetAsync(id, sheet.LeafId ?? Guid.Empty, cancel: cancel);
            }

            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            ForReading(sheet);
            return 0;
        }, cancel));
        return command;
    }

    private static Command List()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("list", "All cause sheets: open, settled, and how often the first guess was right.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("cause list", result.GetValue(bench), async desks =>
        {
            var book = await desks.Causes.BookAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(book);
            }

            Words.WriteTable(["sheet", "plant", "opened", "first guess", "settled", "it was"], book.Open.Concat(book.Settled).Select(line => (IReadOnlyList<string?>)
            [
                line.SheetId.ToString(), string.Create(CultureInfo.InvariantCulture, $"{line.Plant.Number} {line.Plant.Name}{(line.Leaf is null ? "" : ", " + line.Leaf)}"), $"{line.OpenedOn:yyyy-MM-dd}",
                line.Ranked.Count == 0 ? "" : $"{line.Ranked[0].Cause} ({CauseOddsOf.Words(line.Ranked[0].Share)})", line.SettledOn is { } day ? $"{day:yyyy-MM-dd}" : "", line.SettledOn is null ? "" : line.Cause ?? "never found out",
            ]));
            Console.WriteLine(book.Hits.Words);
            return 0;
        }, cancel));
    }

    private static Command Settle()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var sheet = new Argument<Guid>("SHEET") { Description = "Its id, from cause list." };
        var cause = new Argument<string>("CAUSE") { Description = "What it proved to be (ageing, potassium-short, …), or \"unknown\"." };
        var evidence = new Option<string>("--evidence") { Description = "How it was known: a test, a clinic, the next leaf.", Required = true };
        return new Command("settle", "Write down what a sheet proved to be.") { sheet, cause, evidence, bench, json }.With((result, cancel) => Words.OnBenchAsync("cause settle", result.GetValue(bench), async desks =>
        {
            var proved = result.GetValue(cause);
            var line = await desks.Causes.SettleAsync(new CauseSettling { SheetId = result.GetValue(sheet), Cause = proved == "unknown" ? null : proved, Evidence = result.GetValue(evidence)! }, cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(line);
            }

            Console.WriteLine(line.Rank is { } rank ? $"Settled: {line.Cause}, number {rank.ToString(CultureInfo.InvariantCulture)} of the ranking believed then." : $"Settled: {line.Cause ?? "never found out"}.");
            return 0;
        }, cancel));
    }

    private static async Task<Guid?> LeafAsync(BenchDesks desks, Guid plant, string? asked, CancellationToken cancel)
    {
        if (asked is null)
        {
            return null;
        }

        if (asked == "all")
        {
            return Guid.Empty;
        }

        if (Guid.TryParse(asked, out var id))
        {
            return id;
        }

        var leaves = (await desks.Causes.SheetAsync(plant, Guid.Empty, cancel: cancel)).Leaves;
        return leaves.FirstOrDefault(leaf => string.Equals(leaf.Name, asked, StringComparison.OrdinalIgnoreCase))?.Id
            ?? throw new EntryException("--leaf", asked, "one of " + string.Join(", ", leaves.Select(leaf => $"\"{leaf.Name}\"")));
    }

    private static Dictionary<string, string?> Answers(string[] seen)
    {
        var answers = new Dictionary<string, string?>();
        foreach (var each in seen)
        {
            var parts = each.Split('=', 2);
            answers[parts[0]] = parts.Length == 2 ? (parts[1].Length == 0 ? null : parts[1]) : throw new EntryException("--seen", each, "clue=value, such as pattern=even-yellow");
        }

        return answers;
    }

    private static void ForReading(CauseSheetView sheet)
    {
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"no. {sheet.Plant.Number} {sheet.Plant.Name}{(sheet.Leaf is null ? "" : ", " + sheet.Leaf)}"));
        Words.WriteTable(["cause", "how likely", "speaks for it", "speaks against it"], sheet.Result.Causes.Take(5).Select(cause => (IReadOnlyList<string?>)
            [cause.Name, CauseOddsOf.Words(cause.Share), string.Join("; ", cause.For.Take(3).Select(reason => reason.Words)), string.Join("; ", cause.Against.Take(3).Select(reason => reason.Words))]));
        foreach (var line in sheet.Result.Words.Where(line => !line.StartsWith("Likeliest", StringComparison.Ordinal) && !line.StartsWith("Then:", StringComparison.Ordinal)))
        {
            Console.WriteLine(line);
        }

        foreach (var line in sheet.Read)
        {
            Console.WriteLine("  " + line);
        }

        foreach (var line in new[] { sheet.KeptApart ? null : sheet.Result.Quarantine, sheet.Result.Clinic, sheet.Result.Caution }.OfType<string>())
        {
            Console.WriteLine(line);
        }

        foreach (var check in sheet.Result.NextChecks.Take(3))
        {
            Console.WriteLine($"  --seen {check.Clue.Id}={string.Join("|", check.Clue.Values.Select(value => value.Id))}   {check.Clue.Question}");
        }
    }
}
