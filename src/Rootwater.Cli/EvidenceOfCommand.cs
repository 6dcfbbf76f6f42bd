using System.CommandLine;
using System.Globalization;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Cli;

/// <summary><c>rootwater evidence plant</c> and <c>group</c>: what the ledger can tell of plants.</summary>
internal static class EvidenceOfCommand
{
    private static readonly string[] s_asks = ["lives", "rates", "drivers", "growth", "sisters", "series", "changes", "kinds", "next"];

    public static Command Plant()
    {
        var number = PlantCommand.Number();
        var command = new Command("plant", "What the ledger can tell of one plant.") { number };
        return Asking(command, result => PlantGroup.Of(result.GetValue(number)));
    }

    public static Command Group()
    {
        var kind = new Option<string?>("--kind") { Description = "Plants of a kind, or a part of its name." };
        var words = new Option<string?>("--words") { Description = "Plants whose names, place or notes hold these words; all plants when nothing is given." };
        var command = new Command("group", "What the ledger can tell of a group of plants, or of all.") { kind, words };
        return Asking(command, result => new PlantGroup { Kind = result.GetValue(kind), Words = result.GetValue(words) });
    }

    private static Command Asking(Command command, Func<ParseResult, PlantGroup> of)
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var ask = new Option<string>("--ask") { Description = "lives: kept better since? rates: rare events before and since. drivers: what goes with the loss of leaves. growth: what goes with new leaves, roots, flowers and spikes. sisters: against plants of the kind that did not change. series: EC, pH, leaves, length or supply. changes: of feed. kinds: every kind at once. next: which leaf is next.", DefaultValueFactory = _ => "lives" };
        var since = new Option<DateOnly?>("--since") { Description = "The day of the change, 2026-03-14; proposed from the ledger when left out." };
        var lives = new Option<LivesOf>("--of") { Description = "Lives of what." };
        var series = new Option<SeriesOf>("--series") { Description = "The series." };
        var back = new Option<DateOnly[]>("--back-on") { Description = "Crossover: days on which it was changed back, and forth again.", AllowMultipleArgumentsPerToken = true };
        foreach (var option in new Option[] { ask, since, lives, series, back, bench, json })
        {
            command.Options.Add(option);
        }

        return command.With((result, cancel) => Words.OnBenchAsync("evidence " + command.Name, result.GetValue(bench), async desks =>
        {
            var (plants, day) = (of(result), result.GetValue(since));
            var question = new EvidenceQuestion(plants, day, result.GetValue(lives));
            var desk = desks.Evidence;
            var asked = result.GetValue(ask)!;
            object answer = asked switch
            {
                "lives" => await desk.LivesAsync(question, cancel),
                "rates" => await desk.RatesAsync(question, cancel),
                "drivers" => await desk.DriversAsync(question, cancel),
                "growth" => await desk.GrowthAsync(question, cancel),
                "sisters" => await desk.SistersAsync(question, cancel),
                "series" => await desk.SeriesAsync(new SeriesQuestion(plants, result.GetValue(series), day, result.GetValue(back)), cancel),
                "changes" => await desk.FeedChangesAsync(plants, cancel),
                "kinds" => await desk.KindsAsync(day ?? throw new EntryException("--since", null, "the day that all kinds are asked about"), cancel),
                "next" => await desk.NextLeafAsync(plants.Number ?? throw new EntryException("--ask", "next", "one plant: rootwater evidence plant NUMBER --ask next"), cancel),
                _ => throw new EntryException("--ask", asked, string.Join(", ", s_asks)),
            };
            if (result.GetValue(json))
            {
                return Words.WriteJson(answer);
            }

            ForReading(answer);
            return 0;
        }, cancel));
    }

    private static void ForReading(object answer)
    {
        switch (answer)
        {
            case LivesAnswer said:
                Head(said.Who + (said.Since is { } since ? Text($", since {since:yyyy-MM-dd}{(said.SinceProposed ? " (proposed from the ledger)" : "")}") : ""), said.Words, said.Says);
                Words.WriteTable(["curve", "lives", "lost", "half lost by, days", "95 % band", "mean, days"], said.Curves.Select(curve => (IReadOnlyList<string?>)
                    [curve.Name, Text($"{curve.Lives}"), Text($"{curve.Lost}"), Text($"{curve.MedianDays:0}"), Text($"{curve.MedianLower:0} to {curve.MedianUpper:0}"), curve.MeanDays is { } mean ? Text($"{mean:0} of the first {curve.MeanWithinDays:0}") : ""]));
                Lines("At the same time:", said.AlsoMoved.Select(each => each.Words));
                Basis(said.Basis);
                break;
            case RatesAnswer said:
                Head(said.Who, said.Words, []);
                Lines("", said.Rates.Select(rate => rate.Words));
                Basis(said.Basis);
                break;
            case DriversAnswer said:
                Head(said.Who, said.Words, said.Says);
                Words.WriteTable(["what", "for", "hazard ratio", "95 %", "p", "p, corrected"], said.Drivers.Select(line => (IReadOnlyList<string?>)
                    [line.Name, line.Unit, Text($"{line.HazardRatio:0.00}"), line.Lower is null ? line.Words : Text($"{line.Lower:0.00} to {line.Upper:0.00}"), Text($"{line.P:0.0000}"), Text($"{line.PAdjusted:0.0000}")]));
                Basis(said.Basis);
                break;
            case GrowthAnswer said:
                Head(said.Who, said.Words, []);
                Words.WriteTable(["of", "what", "for", "effect", "95 %", "p", "p, corrected", "n"], said.Lines.Select(line => (IReadOnlyList<string?>)
                    [line.Outcome, line.Name, line.Unit, line.Effect is null ? line.Words : Text($"{line.Effect:0.00} {line.EffectUnit}"), line.Lower is null ? "" : Text($"{line.Lower:0.00} to {line.Upper:0.00}"), Text($"{line.P:0.0000}"), Text($"{line.PAdjusted:0.0000}"), Text($"{line.Plants} plants, {line.Values}")]));
                Lines("How each row was asked:", said.Lines.GroupBy(line => line.Method).Select(method => $"{string.Join(", ", method.Select(line => line.Outcome).Distinct())}: {method.Key}"));
                Basis(said.Basis);
                break;
            case SistersAnswer said:
                Head(said.Who, said.Words, []);
                Words.WriteTable(["no.", "name", "feed", "lost before", "leaf-years", "lost since", "leaf-years"], said.Plants.Select(line => (IReadOnlyList<string?>)
                    [Text($"{line.Plant}"), line.Name, line.Changed ? "changed" : "as it was", Text($"{line.LostBefore}"), Text($"{line.YearsBefore:0.0}"), Text($"{line.LostSince}"), Text($"{line.YearsSince:0.0}")]));
                Basis(said.Basis);
                break;
            case SeriesAnswer said:
                Head(said.Who, said.Words, said.Says);
                Words.WriteTable(["month", said.Unit, "fitted", "values"], said.Months.Select(month => (IReadOnlyList<string?>)[Text($"{month.Month:yyyy-MM}"), Text($"{month.Value:0.##}"), Text($"{month.Fitted:0.##}"), Text($"{month.Values}")]));
                Lines("At the same time:", said.AlsoMoved.Select(each => each.Words));
                Basis(said.Basis);
                break;
            case NextLeafAnswer said:
                Head(said.Who, said.Words, said.Says);
                Words.WriteTable(["leaf", "age, days", "chance to be next"], said.Leaves.Take(10).Select(leaf => (IReadOnlyList<string?>)[leaf.Name, Text($"{leaf.AgeDays:0}{(leaf.AgeKnown ? "" : " or more")}"), Text($"{100 * leaf.Chance:0} in 100")]));
                Basis(said.Basis);
                break;
            case KindsAnswer said:
                Head("every kind", said.Words, []);
                Words.WriteTable(["kind", "answer", "p", "p, corrected"], said.Kinds.Select(line => (IReadOnlyList<string?>)[line.Kind, line.Verdict.Words, Text($"{line.Verdict.P:0.000}"), Text($"{line.PAdjusted:0.000}")]));
                Basis(said.Basis);
                break;
            case IReadOnlyList<FeedChange> said:
                Lines(said.Count == 0 ? "The ledger shows no change of feed." : "", said.Select(change => Text($"{change.Day:yyyy-MM-dd}: {change.Words}")));
                break;
        }
    }

    private static void Head(string who, string words, IReadOnlyList<string> says)
    {
        Console.WriteLine(who);
        Console.WriteLine(words);
        Lines("", says);
    }

    private static void Basis(EvidenceBasis basis)
    {
        Console.WriteLine(Text($"Method: {basis.Method}. n: {basis.Plants} plants, {basis.Lives} lives or values, {basis.Events} events."));
        Lines("", basis.Assumptions.Select(assumption => "Assumed: " + assumption));
    }

    private static void Lines(string head, IEnumerable<string> lines)
    {
        if (head.Length > 0)
        {
            Console.WriteLine(head);
        }

        foreach (var line in lines)
        {
            Console.WriteLine("  " + line);
        }
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
