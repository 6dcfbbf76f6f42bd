using System.CommandLine;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater cupboard without</c>, <c>buy</c> and <c>compare</c>.</summary>
internal static class SubstituteCommands
{
    public static Command Without()
    {
        var product = new Argument<string>("PRODUCT") { Description = "Its name, or a part of it." };
        var (day, cans, seconds, bench, json) = (Day(), Cans(), Seconds(), BenchOption.Create(), Words.Json());
        return new Command("without", "What changes when a product is out: every element and form, EC, pH, cost, and who should not get it.") { product, day, cans, seconds, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("cupboard without", result.GetValue(bench), async desks =>
            {
                var item = await CupboardCommand.FindAsync(desks, result.GetValue(product)!, cancel);
                var sheet = await WithStatus(result.GetValue(json), progress => desks.Substitutes.WithoutAsync(item.Product.Id, Choices(result.GetValue(day), result.GetValue(cans), result.GetValue(seconds)), progress, cancel));
                if (result.GetValue(json))
                {
                    return Words.WriteJson(sheet);
                }

                AnsiConsole.MarkupLineInterpolated($"For those due on {sheet.AsOf:yyyy-MM-dd}{(sheet.IsUsed ? "" : ", whose plan does not use it")}.");
                foreach (var group in sheet.Groups)
                {
                    AnsiConsole.MarkupLineInterpolated($"[bold]{group.Group}[/]: {string.Join(", ", group.Plants)}");
                    Words.WriteTable(["mg/L", "with", "without", ""], group.Elements.Select(each => (IReadOnlyList<string?>)[each.Name, Figure(each.With), Figure(each.Without), each.Moves ? "<" : ""])
                        .Append(["EC mS/cm", Figure(group.EcWith / 1000, "0.00"), Figure(group.EcWithout / 1000, "0.00"), ""]).Append(["pH", Figure(group.PHWith, "0.0"), Figure(group.PHWithout, "0.0"), ""]));
                }

                foreach (var words in sheet.Words)
                {
                    AnsiConsole.WriteLine(words);
                }

                return 0;
            }, cancel));
    }

    public static Command Buy()
    {
        var without = new Option<string?>("--without") { Description = "Think this product away first." };
        var (day, cans, seconds, bench, json) = (Day(), Cans(), Seconds(), BenchOption.Create(), Words.Json());
        return new Command("buy", "Which single product, bought, would serve those who are due best.") { without, day, cans, seconds, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("cupboard buy", result.GetValue(bench), async desks =>
            {
                var away = result.GetValue(without) is { } name ? (await CupboardCommand.FindAsync(desks, name, cancel)).Product.Id : (Guid?)null;
                var sheet = await WithStatus(result.GetValue(json), progress => desks.Substitutes.BuyAsync(away, Choices(result.GetValue(day), result.GetValue(cans), result.GetValue(seconds)), progress, cancel));
                if (result.GetValue(json))
                {
                    return Words.WriteJson(sheet);
                }

                foreach (var unmet in sheet.Unmet)
                {
                    AnsiConsole.MarkupLineInterpolated($"Not met now: {unmet.Group}, {unmet.What} {unmet.Reached:0.#} {unmet.Unit}, wanted {unmet.Low:0.#} to {unmet.High:0.#}.");
                }

                foreach (var option in sheet.Options)
                {
                    AnsiConsole.WriteLine(option.Words);
                }

                AnsiConsole.MarkupLineInterpolated($"{sheet.Words} ({sheet.Offers} products tried.)");
                return 0;
            }, cancel));
    }

    public static Command Compare()
    {
        var one = new Argument<string>("ONE") { Description = "A product of the cupboard." };
        var other = new Argument<string>("OTHER") { Description = "Another, or one on its way in." };
        var nutrient = new Option<Nutrient?>("--nutrient") { Description = "At the same amount of this nutrient." };
        var mg = new Option<double?>("--mg") { Description = "How much of it, mg/L." };
        var ec = new Option<double?>("--ec") { Description = "At the same EC, mS/cm." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("compare", "Two products side by side, at the same amount of a nutrient or at the same EC, in your softest water.") { one, other, nutrient, mg, ec, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("cupboard compare", result.GetValue(bench), async desks =>
            {
                var sheet = await desks.Substitutes.CompareAsync(new CompareBrands
                {
                    One = await IdAsync(desks, result.GetValue(one)!, cancel),
                    Other = await IdAsync(desks, result.GetValue(other)!, cancel),
                    Nutrient = result.GetValue(nutrient),
                    MgPerLitre = result.GetValue(mg),
                    EcMicrosiemensPerCm = result.GetValue(ec) * 1000,
                }, cancel);
                if (result.GetValue(json))
                {
                    return Words.WriteJson(sheet);
                }

                Words.WriteTable(["mg/L in " + sheet.Water, sheet.One.Name, sheet.Other.Name, ""], sheet.Nutrients.Select(each => (IReadOnlyList<string?>)[each.Name, Figure(each.One), Figure(each.Other), each.Differs ? "<" : ""]));
                foreach (var words in sheet.Words)
                {
                    AnsiConsole.WriteLine(words);
                }

                return 0;
            }, cancel));
    }

    private static async Task<Guid> IdAsync(BenchDesks desks, string name, CancellationToken cancel)
    {
        var entry = (await desks.Entries.ListAsync(cancel)).FirstOrDefault(each => each.Id.ToString() == name || each.Product.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
        return entry?.Id ?? (await CupboardCommand.FindAsync(desks, name, cancel)).Product.Id;
    }

    private static SubstituteChoices Choices(DateOnly? day, int cans, double seconds) => new() { AsOf = day, MostCans = cans, TimeLimit = TimeSpan.FromSeconds(seconds) };

    private static Option<DateOnly?> Day() => new("--day") { Description = "Plan for those due on this day; left out: the next on which anybody is." };

    private static Option<int> Cans() => new("--cans") { Description = "The most cans to mix.", DefaultValueFactory = _ => 2 };

    private static Option<double> Seconds() => new("--seconds") { Description = "For each search.", DefaultValueFactory = _ => 2 };

    private static string Figure(double? value, string? format = null) => value is { } figure ? CanCommand.Number(figure, format ?? (figure < 1 ? "0.000" : "0.0")) : "";

    private static Task<T> WithStatus<T>(bool asJson, Func<IProgress<PlanProgress>?, Task<T>> plan) => asJson || Console.IsOutputRedirected
        ? plan(null)
        : AnsiConsole.Status().StartAsync("planning", status => Task.Run(() => plan(new Report(progress => status.Status(Markup.Escape($"{progress.Share ?? 0:0 %} {progress.Doing}"))))));

    private sealed class Report(Action<PlanProgress> show) : IProgress<PlanProgress>
    {
        void IProgress<PlanProgress>.Report(PlanProgress value) => show(value);
    }
}
