using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater can tradeoff</c>: what one can more is worth.</summary>
internal static class TradeOffCommand
{
    public static Command Create()
    {
        var cans = new Option<int>("--cans") { Description = "The most cans to look at, 1 to 6.", DefaultValueFactory = _ => 4 };
        var asOf = new Option<DateOnly?>("--as-of") { Description = "The day; today when left out." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("tradeoff", "For one can, two, up to the most you would mix: how many wants of the plants that are due are left.") { cans, asOf, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("can tradeoff", result.GetValue(bench), async desks =>
            {
                var choices = new PlanChoices { MostCans = result.GetValue(cans), AsOf = result.GetValue(asOf) };
                var asJson = result.GetValue(json);
                var points = asJson || Console.IsOutputRedirected
                    ? await desks.Mixing.TradeOffAsync(choices, null, cancel)
                    : await AnsiConsole.Status().StartAsync("planning", status => desks.Mixing.TradeOffAsync(choices, new Report(progress => status.Status(Markup.Escape(progress.Doing))), cancel));
                if (asJson)
                {
                    return Words.WriteJson(points);
                }

                Words.WriteTable(["cans", "wants left", "plants", "outside", "cost", "what is left"], points.Select(point => (IReadOnlyList<string?>)
                [
                    point.MostCans.ToString(CultureInfo.InvariantCulture) + (point.Cans != point.MostCans ? FormattableString.Invariant($" (uses {point.Cans})") : "") + (point.Topped > 0 ? FormattableString.Invariant($" ({point.Topped} topped)") : ""),
                    point.Cans == 0 ? "cannot be" : point.Unmet.ToString(CultureInfo.InvariantCulture), point.PlantsUnmet.ToString(CultureInfo.InvariantCulture),
                    double.IsFinite(point.Outside) ? point.Outside.ToString("0.00", CultureInfo.InvariantCulture) : "", point.Cost.ToString("0.00", CultureInfo.InvariantCulture), string.Join("; ", point.Left),
                ]));
                Console.WriteLine("Outside: how far beyond their bands, in half-widths, summed over bands, mean of all plants.");
                return 0;
            }, cancel));
    }

    private sealed class Report(Action<PlanProgress> show) : IProgress<PlanProgress>
    {
        void IProgress<PlanProgress>.Report(PlanProgress value) => show(value);
    }
}
