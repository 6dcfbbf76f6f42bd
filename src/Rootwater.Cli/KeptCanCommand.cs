using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater can show</c> and <c>rootwater can repair</c>: cans kept in the bench, read with the pens and put right.</summary>
internal static class KeptCanCommand
{
    public static Command Show()
    {
        var (can, bench, json) = (new Argument<string?>("CAN") { Description = "Its id, or its letter for the newest of that letter; left out: a list of cans.", DefaultValueFactory = _ => null }, BenchOption.Create(), Json());
        var command = new Command("show", "Show the kept cans, or the card of one as it is now.") { can, bench, json };
        command.SetAction((result, cancel) => BenchOption.RunAsync("can show", async () =>
        {
            await using var desks = await OpenAsync(result.GetValue(bench), cancel);
            if (result.GetValue(can) is { } name)
            {
                Write(await FindAsync(desks, name, cancel), result.GetValue(json));
                return 0;
            }

            var cans = await desks.Mixing.ListCansAsync(cancel: cancel);
            if (result.GetValue(json))
            {
                Console.Out.WriteLine(FactJson.Write(cans));
                return 0;
            }

            foreach (var each in cans)
            {
                Console.Out.WriteLine($"{each.MixedOn:yyyy-MM-dd}  {each.Letter}  {Number(each.Litres)} L in {each.Vessel}, {each.Plants} plants, {each.State.ToString().ToLowerInvariant()}, {Number(each.LitresLeft)} L left  {each.Id}");
            }

            return 0;
        }));
        return command;
    }

    public static Command Repair()
    {
        var can = new Argument<string>("CAN") { Description = "Its id, or its letter for the newest of that letter." };
        var ec = new Option<double?>("--ec") { Description = "What your EC pen shows now, in mS/cm; kept as a reading." };
        var ph = new Option<double?>("--ph") { Description = "What your pH pen shows now; kept as a reading." };
        var done = new Option<bool>("--done") { Description = "What is offered was added, in these amounts." };
        var added = new Option<string[]>("--added") { Description = "What was really added, such as \"potassium nitrate=0.3\" (g, mL or L, as it is measured). May be given several times." };
        var undo = new Option<bool>("--undo") { Description = "The latest repair was not done after all." };
        var (bench, json) = (BenchOption.Create(), Json());
        var command = new Command("repair", "What would put a kept can right, and what was really added: from then on its card is that of the repaired can.") { can, ec, ph, done, added, undo, bench, json };
        command.SetAction((result, cancel) => BenchOption.RunAsync("can repair", async () =>
        {
            await using var desks = await OpenAsync(result.GetValue(bench), cancel);
            var kept = await FindAsync(desks, result.GetValue(can)!, cancel);
            if (result.GetValue(undo))
            {
                var last = kept.Card.Repairs.Count > 0 ? kept.Card.Repairs[^1].Id : throw new EntryException("repair", null, "a can that was put right");
                Write(await desks.Mixing.UndoRepairAsync(kept.Id, last, cancel: cancel), result.GetValue(json));
                return 0;
            }

            if (result.GetValue(ec) is not null || result.GetValue(ph) is not null)
            {
                kept = await desks.Mixing.SaveReadingAsync(new NewCanReading { CanId = kept.Id, EcMicrosiemensPerCm = result.GetValue(ec) * 1000, PH = result.GetValue(ph) }, cancel);
            }

            IReadOnlyList<Added> went = [.. await AddedAsync(desks, result.GetValue(added) ?? [], cancel)];
            if (went.Count == 0)
            {
                var offer = await desks.Mixing.RepairAsync(kept.Id, cancel);
                if (!result.GetValue(done) || offer.Additions.Count == 0)
                {
                    Offer(offer, result.GetValue(json));
                    return offer.Additions.Count > 0 ? 1 : 0;
                }

                went = [.. offer.Additions.Select(each => new Added((each.ProductId ?? each.WaterId)!.Value, each.Amount))];
            }

            Write(await desks.Mixing.SaveRepairAsync(new NewCanRepair { CanId = kept.Id, Added = went }, cancel), result.GetValue(json));
            return 0;
        }));
        return command;
    }

    private static Option<bool> Json() => new("--json") { Description = "Write JSON in place of text." };

    private static Task<BenchDesks> OpenAsync(string? location, CancellationToken cancel) =>
        BenchDesks.OpenAsync(new LedgerOptions { Location = location, CreateIfMissing = false }, device: "terminal", cancel: cancel);

    private static async Task<SavedCan> FindAsync(BenchDesks desks, string name, CancellationToken cancel)
    {
        var id = Guid.TryParse(name, CultureInfo.InvariantCulture, out var given) ? given : (await desks.Mixing.ListCansAsync(1000, cancel)).FirstOrDefault(can => can.Letter.Equals(name, StringComparison.OrdinalIgnoreCase))?.Id;
        return (id is { } known ? await desks.Mixing.GetCanAsync(known, cancel) : null) ?? throw new EntryException("can", name, "the id or the letter of a can that was kept; rootwater can show lists them");
    }

    private static async Task<List<Added>> AddedAsync(BenchDesks desks, string[] added, CancellationToken cancel)
    {
        var today = added.Length == 0 ? null : await desks.Mixing.GetBenchTodayAsync(null, cancel);
        var found = new List<Added>();
        foreach (var each in added)
        {
            var at = each.LastIndexOf('=');
            var name = at > 0 ? each[..at].Trim() : each;
            var known = today!.Cupboard.Select(item => (item.Product.Id, item.Product.Name)).Concat(today.Waters.Select(water => (water.Id, water.Name))).ToList();
            var matches = known.Where(pair => pair.Name.Equals(name, StringComparison.OrdinalIgnoreCase)).ToList();
            matches = matches.Count > 0 ? matches : [.. known.Where(pair => pair.Name.Contains(name, StringComparison.OrdinalIgnoreCase))];
            if (matches.Count != 1 || at <= 0 || !double.TryParse(each[(at + 1)..].Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var amount))
            {
                throw new EntryException("added", each, "NAME=AMOUNT with one of: " + string.Join(", ", (matches.Count > 1 ? matches : known).Select(pair => pair.Name)));
            }

            found.Add(new Added(matches[0].Id, amount));
        }

        return found;
    }

    private static void Offer(CanRepairResult offer, bool json)
    {
        if (json)
        {
            Console.Out.WriteLine(FactJson.Write(offer));
            return;
        }

        Console.Out.WriteLine(offer.Words);
        foreach (var caution in offer.Additions.SelectMany(addition => addition.Cautions).Distinct())
        {
            Console.Out.WriteLine($"  ! {caution}");
        }

        if (offer.Additions.Count > 0)
        {
            Console.Out.WriteLine("When it is in: rootwater can repair … --done, or --added NAME=AMOUNT with what really went in.");
        }
    }

    private static void Write(SavedCan can, bool json)
    {
        if (json)
        {
            Console.Out.WriteLine(FactJson.Write(can));
            return;
        }

        CanTables.Write(AnsiConsole.Console, can.Card);
        foreach (var repair in can.Card.Repairs)
        {
            Console.Out.WriteLine("Put right with " + string.Join(", ", repair.Additions.Select(each => $"{Number(each.Amount)} {each.Unit} {each.What}")) + "; the figures above are those of the can as it is now.");
            foreach (var warning in repair.Warnings)
            {
                Console.Out.WriteLine($"  ! {warning}");
            }
        }

        foreach (var reading in can.ReadingsOfNow)
        {
            Console.Out.WriteLine($"Read: {(reading.EcMicrosiemensPerCm is { } ec ? $"EC {CanCommand.Number(ec / 1000, "0.00")} mS/cm " : "")}{(reading.PH is { } ph ? $"pH {CanCommand.Number(ph, "0.0#")}" : "")}");
        }
    }

    private static string Number(double value) => CanCommand.Number(value, "0.###");
}
