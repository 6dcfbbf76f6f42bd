using System.CommandLine;
using System.Globalization;
using Rootwater.Growing;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Cli;

/// <summary><c>rootwater can history</c> and <c>rootwater can explain</c>: expected against measured, can after can, and what would explain one that is off.</summary>
internal static class CanHistoryCommand
{
    public static Command History()
    {
        var most = new Option<int>("--most") { Description = "How many cans, newest first.", DefaultValueFactory = _ => 20 };
        var all = new Option<bool>("--all-corrections") { Description = "Corrections that are not told yet, too." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("history", "What the pens should have read in the kept cans beside what they read, with control limits, and what that taught of lots, waters, tools and pens.") { most, all, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("can history", result.GetValue(bench), async desks =>
            {
                var view = await desks.CanHistory.ListAsync(result.GetValue(most), cancel);
                if (result.GetValue(all))
                {
                    view = view with { Corrections = await desks.CanHistory.CorrectionsAsync(cancel) };
                }

                if (result.GetValue(json))
                {
                    return Words.WriteJson(view);
                }

                Console.WriteLine(Say($"{view.Cans} cans, {view.Read} of them read. EC in mS/cm as your pen shows it. A deviation beyond {view.Limits.Warning:0} is looked at, beyond {view.Limits.Out:0} (or a moving mean beyond {view.Limits.Moving:0.00}) is out of control."));
                Words.WriteTable(["mixed", "can", "EC expected", "EC read", "off", "pH expected", "pH read", "off", ""], view.Lines.Select(line => (IReadOnlyList<string?>)
                [
                    Say($"{line.MixedOn:yyyy-MM-dd}"), line.Letter, Band(line.EcAsLearned, 1000, "0.00"), Number(line.MeasuredEc / 1000, "0.00"), Off(line.EcDeviation),
                    Band(line.PHAsLearned, 1, "0.0"), Number(line.MeasuredPH, "0.0#"), Off(line.PHDeviation), Mark(line.Mark),
                ]));
                foreach (var correction in view.Corrections)
                {
                    Console.WriteLine("- " + correction.Words);
                }

                if (view.Corrections.Count == 0)
                {
                    Console.WriteLine("No lot, water, tool or pen is known to be off.");
                }

                return 0;
            }, cancel));
    }

    public static Command Explain()
    {
        var can = new Argument<string>("CAN") { Description = "Its id, or its letter for the newest of that letter." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("explain", "What would explain what the pens read in a kept can, most likely first, and what to check first.") { can, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("can explain", result.GetValue(bench), async desks =>
            {
                var name = result.GetValue(can)!;
                var id = Guid.TryParse(name, CultureInfo.InvariantCulture, out var given) ? given
                    : (await desks.Mixing.ListCansAsync(1000, cancel)).FirstOrDefault(each => each.Letter.Equals(name, StringComparison.OrdinalIgnoreCase))?.Id;
                var explained = (id is { } known ? await desks.CanHistory.GetAsync(known, cancel) : null) ?? throw new EntryException("can", name, "the id or the letter of a kept can");
                return result.GetValue(json) ? Words.WriteJson(explained) : Write(explained);
            }, cancel));
    }

    private static int Write(CanExplained explained)
    {
        var line = explained.Line;
        Console.WriteLine(Say($"Can {line.Letter} of {line.MixedOn:yyyy-MM-dd}, {line.Litres:0.##} L in {line.Vessel}; {explained.ReadBefore} cans read before it."));
        Console.WriteLine(Say($"EC expected {Band(line.EcByCard, 1000, "0.00")} by the card, {Band(line.EcAsLearned, 1000, "0.00")} by what earlier cans taught; {explained.EcPen} read {Number(line.MeasuredEc / 1000, "0.00") ?? "nothing"} mS/cm."));
        Console.WriteLine(Say($"pH expected {Band(line.PHByCard, 1, "0.00")} by the card, {Band(line.PHAsLearned, 1, "0.00")} by what earlier cans taught; {explained.PHPen} read {Number(line.MeasuredPH, "0.00") ?? "nothing"}."));
        Console.WriteLine(explained.Words);
        foreach (var known in explained.KnownAlready)
        {
            Console.WriteLine("  known already: " + known);
        }

        foreach (var each in explained.Explanations)
        {
            Console.WriteLine(Say($"  {each.Chance * 100,3:0} %  {each.What}"));
        }

        foreach (var (each, i) in explained.CheckFirst.Select((each, i) => (each, i + 1)))
        {
            Console.WriteLine(Say($"  check {i}: {each.Check} ({each.Minutes:0.#} min)"));
        }

        return line.Mark is CanMark.Out or CanMark.Warns ? 1 : 0;
    }

    private static string Mark(CanMark mark) => mark switch
    {
        CanMark.NotRead => "not read",
        CanMark.Warns => "look",
        CanMark.Out => "OUT",
        _ => "",
    };

    private static string Band(Expected value, double per, string format) =>
        $"{Number(value.Value / per, format)} ({Number(value.Low / per, format)}–{Number(value.High / per, format)})";

    // Rounded first: a little below zero is shown without its sign.
    private static string? Off(double? deviation) => deviation is { } known ? Number(Math.Round(known, 1), "+0.0;−0.0;0.0") : null;

    private static string? Number(double? value, string format) => value?.ToString(format, CultureInfo.InvariantCulture);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
