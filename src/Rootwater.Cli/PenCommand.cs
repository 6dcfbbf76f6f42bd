using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Cli;

/// <summary><c>rootwater pen</c>: the pens, what they read in their standards, and when they are due again.</summary>
internal static class PenCommand
{
    public static Command Create() => new("pen", "The pens: their calibrations, drift, and what that does to their readings.") { List(), Add(), Calibrate() };

    private static Command List()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("list", "Every pen with its error, its log and when it is due.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("pen list", result.GetValue(bench), async desks =>
        {
            var pens = await desks.Pens.ListAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(pens);
            }

            if (pens.Count == 0)
            {
                Console.WriteLine("No pen is kept yet: rootwater pen add NAME --kind Ec.");
            }

            foreach (var view in pens)
            {
                Write(view);
            }

            return 0;
        }, cancel));
    }

    private static Command Add()
    {
        var name = new Argument<string>("NAME") { Description = "What you call it." };
        var kind = new Option<PenKind>("--kind") { Description = "Ec or PH.", Required = true };
        var compensation = new Option<double>("--compensation") { Description = "An EC pen's compensation per °C in per cent.", DefaultValueFactory = _ => 2 };
        var reference = new Option<double>("--reference") { Description = "The temperature an EC pen refers its readings to, °C.", DefaultValueFactory = _ => 25 };
        var note = new Option<string?>("--note") { Description = "In your own words." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("add", "Keep a pen; one of the same name and kind is known anew.") { name, kind, compensation, reference, note, bench, json }.With((result, cancel) => Words.OnBenchAsync("pen add", result.GetValue(bench), async desks =>
        {
            var known = (await desks.Pens.ListAsync(cancel)).FirstOrDefault(view => view.Pen.Kind == result.GetValue(kind) && view.Pen.Name.Equals(result.GetValue(name), StringComparison.OrdinalIgnoreCase));
            var kept = await desks.Pens.SaveAsync(
                new Pen
                {
                    Id = known?.Pen.Id ?? Guid.CreateVersion7(),
                    Name = result.GetValue(name)!,
                    Kind = result.GetValue(kind),
                    CompensationPerCelsius = result.GetValue(compensation) / 100,
                    ReferenceCelsius = result.GetValue(reference),
                    Note = result.GetValue(note),
                },
                cancel: cancel);
            return Told(kept, result.GetValue(json));
        }, cancel));
    }

    private static Command Calibrate()
    {
        var pen = new Argument<string>("PEN") { Description = "Its name or id." };
        var standards = new Option<string[]>("--standard") { Description = "A buffer or standard as printed for 25 °C (pH or µS/cm), and what the pen showed before adjusting: 1413=1395, or 7.00=7.05. May be given several times.", Required = true };
        var celsius = new Option<double>("--celsius") { Description = "Temperature of the standards, °C.", DefaultValueFactory = _ => 25 };
        var adjusted = new Option<bool>("--adjusted") { Description = "The pen was set to them afterwards." };
        var on = new Option<DateOnly?>("--on") { Description = "The day; now when left out." };
        var note = new Option<string?>("--note") { Description = "In your own words." };
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("calibrate", "Keep what a pen showed in its buffers or standards.") { pen, standards, celsius, adjusted, on, note, bench, json }.With((result, cancel) => Words.OnBenchAsync("pen calibrate", result.GetValue(bench), async desks =>
        {
            var name = result.GetValue(pen)!;
            var found = (await desks.Pens.ListAsync(cancel)).FirstOrDefault(view => view.Pen.Id.ToString() == name || view.Pen.Name.Equals(name, StringComparison.OrdinalIgnoreCase))
                ?? throw new EntryException("pen", name, "the name or id of a pen that is kept (rootwater pen list)");
            var kept = await desks.Pens.CalibrateAsync(
                new NewPenCalibration
                {
                    PenId = found.Pen.Id,
                    Standards = [.. result.GetValue(standards)!.Select(text => Standard(text, result.GetValue(celsius)))],
                    Adjusted = result.GetValue(adjusted),
                    On = result.GetValue(on),
                    Note = result.GetValue(note),
                },
                cancel);
            return Told(kept, result.GetValue(json));
        }, cancel));
    }

    private static StandardRead Standard(string text, double celsius)
    {
        var parts = text.Split('=');
        return parts.Length == 2 && Number(parts[0]) is { } standard && Number(parts[1]) is { } reading
            ? new StandardRead(standard, reading, celsius)
            : throw new EntryException("standard", text, "what it is and what was read, such as 1413=1395 or 7.00=7.05");
    }

    private static double? Number(string text) => double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value : null;

    private static int Told(PenView view, bool json)
    {
        if (json)
        {
            return Words.WriteJson(view);
        }

        Write(view);
        return 0;
    }

    private static void Write(PenView view)
    {
        Console.WriteLine(Say($"{view.Pen.Name} ({(view.Pen.Kind == PenKind.Ec ? Say($"EC, {view.Pen.CompensationPerCelsius * 100:0.##} % per °C to {view.Pen.ReferenceCelsius:0.#} °C") : "pH")}), {view.CansRead} cans read with it"));
        Console.WriteLine("  " + view.Effect);
        Console.WriteLine(view.Pen.RetiredOn is { } retired ? Say($"  no longer used since {retired:yyyy-MM-dd}") : Say($"  {(view.IsDue ? "due now" : $"due {view.DueOn:yyyy-MM-dd}")}: {view.DueWords}"));
        foreach (var line in view.Log)
        {
            var read = line.Standards.Select(each => view.Pen.Kind == PenKind.Ec
                ? Say($"{each.At25:0} at {each.Celsius:0.#} °C should show {each.Expected:0}, showed {each.Reading:0} ({each.Off * 100:+0.0;−0.0;0.0} %)")
                : Say($"{each.At25:0.00} at {each.Celsius:0.#} °C should show {each.Expected:0.00}, showed {each.Reading:0.00} ({each.Off:+0.00;−0.00;0.00})"));
            var drift = line.DriftPerMonth is not { } per ? "" : view.Pen.Kind == PenKind.Ec ? Say($"; drifted {per * 100:+0.0;−0.0;0.0} % a month") : Say($"; drifted {per:+0.00;−0.00;0.00} a month");
            Console.WriteLine(Say($"  {line.On:yyyy-MM-dd}  {string.Join("; ", read)}{drift}{(line.Adjusted ? "; set" : "")}{(line.Note is null ? "" : $"; {line.Note}")}"));
        }
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
