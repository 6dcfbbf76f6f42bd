using System.CommandLine;
using Rootwater.Growing.Cupboard;
using Rootwater.Ledger;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater cupboard</c>: how long it lasts, what to buy, what to do without.</summary>
internal static class CupboardCommand
{
    public static Command Create() => new("cupboard", "The cupboard: how long it lasts, what to buy by when, what to do without a product, new products on trial.")
    {
        Supply(),
        Shop(),
        Lead(),
        Spill(),
        SubstituteCommands.Without(),
        SubstituteCommands.Buy(),
        SubstituteCommands.Compare(),
        EntryCommand.Create(),
    };

    /// <summary>A product by its name, a part of it, or its id.</summary>
    /// <exception cref="EntryException">None or several are meant.</exception>
    internal static async Task<SupplyItem> FindAsync(BenchDesks desks, string name, CancellationToken cancel)
    {
        var all = await desks.Cupboard.ListAsync(cancel);
        var found = all.Where(item => item.Product.Id.ToString() == name || item.Product.Name.Equals(name, StringComparison.OrdinalIgnoreCase)).ToList();
        found = found.Count > 0 ? found : [.. all.Where(item => item.Product.Name.Contains(name, StringComparison.OrdinalIgnoreCase))];
        return found.Count == 1 ? found[0] : throw new EntryException("PRODUCT", name, "one of: " + string.Join("; ", (found.Count > 1 ? found : all).Select(item => item.Product.Name)));
    }

    private static Command Supply()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("supply", "How long each product lasts, with a band, and what feeding costs.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("cupboard supply", result.GetValue(bench), async desks =>
        {
            var sheet = await desks.Supply.AheadAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Words.WriteTable(["product", "left", "a month", "out from", "to", "order by"], sheet.Products.Select(product => (IReadOnlyList<string?>)
            [
                product.Name, Grams(product.GramsLeft), $"{Grams(product.GramsPerMonth.Value)} ({Grams(product.GramsPerMonth.Low)} to {Grams(product.GramsPerMonth.High)})",
                Day(product.OutFrom) ?? $"beyond {sheet.Until:yyyy-MM-dd}", Day(product.OutBy), Day(product.OrderBy),
            ]));
            foreach (var product in sheet.Products)
            {
                AnsiConsole.WriteLine(product.Words);
            }

            AnsiConsole.MarkupLineInterpolated($"A can costs {sheet.Cost.PerCan:0.00}, a litre {sheet.Cost.PerLitre:0.000}, one feed of one plant {sheet.Cost.PerPlantAndFeed:0.000}.");
            foreach (var words in sheet.Basis)
            {
                AnsiConsole.WriteLine(words);
            }

            return 0;
        }, cancel));
    }

    private static Command Shop()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("shop", "What to buy, most urgent first.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("cupboard shop", result.GetValue(bench), async desks =>
        {
            var sheet = await desks.Supply.AheadAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(new { sheet.AsOf, sheet.Ways.BuyForDays, sheet.Shopping });
            }

            if (sheet.Shopping.Count == 0)
            {
                AnsiConsole.MarkupLineInterpolated($"Nothing to buy: all of it lasts beyond {sheet.Until:yyyy-MM-dd}.");
                return 0;
            }

            Words.WriteTable(["order by", "product", "for " + sheet.Ways.BuyForDays + " days", "price"], sheet.Shopping.Select(line => (IReadOnlyList<string?>)
                [Day(line.OrderBy) + (line.Overdue ? " (overdue)" : ""), line.Name, Grams(line.Grams), line.Price is { } price ? CanCommand.Number((double)price, "0.00") : "?"]));
            return 0;
        }, cancel));
    }

    private static Command Lead()
    {
        var product = new Argument<string>("PRODUCT") { Description = "Its name, or a part of it." };
        var days = new Argument<int>("DAYS") { Description = "From order to cupboard." };
        var bench = BenchOption.Create();
        return new Command("lead", "Say how many days an order of a product takes.") { product, days, bench }.With((result, cancel) => Words.OnBenchAsync("cupboard lead", result.GetValue(bench), async desks =>
        {
            var item = await FindAsync(desks, result.GetValue(product)!, cancel);
            await desks.Supply.SetLeadAsync(item.Product.Id, result.GetValue(days), cancel: cancel);
            AnsiConsole.MarkupLineInterpolated($"{item.Product.Name} comes {result.GetValue(days)} days after it is ordered.");
            return 0;
        }, cancel));
    }

    private static Command Spill()
    {
        var product = new Argument<string>("PRODUCT") { Description = "Its name, or a part of it; of its lots the one in use." };
        var grams = new Argument<double>("GRAMS") { Description = "How much went." };
        var why = new Option<string?>("--why") { Description = "In your words: \"spilt\", \"caked\"." };
        var bench = BenchOption.Create();
        return new Command("spill", "Some of a product went without feeding anything.") { product, grams, why, bench }.With((result, cancel) => Words.OnBenchAsync("cupboard spill", result.GetValue(bench), async desks =>
        {
            var item = await FindAsync(desks, result.GetValue(product)!, cancel);
            var lot = item.Lots.FirstOrDefault(lot => lot.GramsLeft > 0) ?? throw new EntryException("PRODUCT", item.Product.Name, "a product with something left of it");
            await desks.Supply.SpillAsync(lot.Id, result.GetValue(grams), result.GetValue(why), cancel: cancel);
            AnsiConsole.MarkupLineInterpolated($"{Grams((await desks.Cupboard.GetAsync(item.Product.Id, cancel))!.GramsLeft)} of {item.Product.Name} left.");
            return 0;
        }, cancel));
    }

    internal static string Grams(double grams) => CanCommand.Number(grams, grams < 10 ? "0.0" : "0") + " g";

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
}
