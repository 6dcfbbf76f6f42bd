using System.CommandLine;
using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater pot list|show|fit|pour|read|soak</c>: what the pots of a bench teach.</summary>
internal static class PotBenchCommands
{
    public static IEnumerable<Command> All() => [List(), Show(), Fit(), Pour(), Read(), Soak()];

    private static Command List()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("list", "Every pot and what it does to a feed, fitted to what was read.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("pot list", result.GetValue(bench), async desks =>
        {
            await FitAsync(desks, result.GetValue(json), cancel);
            var sheet = await desks.Learning.ListAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Words.WriteTable(["no.", "plant", "medium", "read", "5.8 after 2 d", "new medium", "stands out"], sheet.Pots.Select(pot => (IReadOnlyList<string?>)
            [
                pot.PlantNumber.ToString(CultureInfo.InvariantCulture), pot.PlantName, pot.Medium, pot.Readings.ToString(CultureInfo.InvariantCulture),
                pot.RootPHAfterTwoDays is { } ph ? Say($"{ph.Value:0.0} ({ph.Low:0.0}..{ph.High:0.0})") : "-", pot.RepotNow ? "now" : Say($"{pot.RepottingDue:0 %}"), pot.Flags.Count == 0 ? null : pot.Flags[0],
            ]));
            foreach (var line in sheet.MediumWanted)
            {
                Console.WriteLine("To soak, " + line);
            }

            Console.WriteLine("Recorded forecasts: " + sheet.Score.Recorded.Words);
            foreach (var line in sheet.Score.Corrected)
            {
                Console.WriteLine("The next are corrected, " + line);
            }

            Console.WriteLine(sheet.State.Words);
            return 0;
        }, cancel));
    }

    private static Command Show()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        return new Command("show", "One plant's pot: what was fitted, what cannot be told, what changed.") { number, bench, json }.With((result, cancel) => Words.OnBenchAsync("pot show", result.GetValue(bench), async desks =>
        {
            await FitAsync(desks, result.GetValue(json), cancel);
            var sheet = await desks.Learning.GetAsync(result.GetValue(number), cancel) ?? throw NoSuchPot(result.GetValue(number));
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Console.WriteLine(Say($"no. {sheet.Line.PlantNumber} {sheet.Line.PlantName}: {sheet.Line.MediumLitres:0.##} L {sheet.Line.Medium}, {sheet.Line.Culture}, potted {sheet.Line.PottedOn:yyyy-MM-dd}"));
            foreach (var line in new[] { sheet.Line.Lift }.OfType<string>().Concat(sheet.Words).Concat(sheet.Changes.Select(change => change.Words)).Append("Repotting: " + sheet.Line.Repotting).Concat(sheet.LeftOut.Select(left => "Not fitted: " + left)))
            {
                Console.WriteLine(line);
            }

            Words.WriteTable(["trait", "this pot", "its siblings", "told by"], sheet.Traits.Select(trait => (IReadOnlyList<string?>)[trait.Name, Trait(trait, trait.Value), Trait(trait, trait.Siblings), Told(trait.Known)]));
            return 0;
        }, cancel));
    }

    private static Command Fit()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("fit", "Fit all pots to what was poured and read, with progress; Ctrl+C stops it.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("pot fit", result.GetValue(bench), async desks =>
        {
            await FitAsync(desks, result.GetValue(json), cancel);
            var sheet = await desks.Learning.ListAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(new { sheet.State, sheet.Media, sheet.Score });
            }

            foreach (var medium in sheet.Media)
            {
                Console.WriteLine(Say($"{medium.Medium}: {medium.Pots} pots. {medium.Scatter}"));
                Words.WriteTable(["trait", "mean", "90 % of its pots"], medium.Traits.Select(trait => (IReadOnlyList<string?>)[trait.Name, Trait(trait, trait.Value), Trait(trait, trait.Siblings)]));
            }

            Console.WriteLine(sheet.State.Words);
            return 0;
        }, cancel));
    }

    private static Command Pour()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        var group = new Option<bool>("--group") { Description = "For all pots that share this plant's want, medium and culture: one can, and what it costs each." };
        return new Command("pour", "At which pH, how strong and how often to leach, under what is not known of the pot.") { number, group, bench, json }.With((result, cancel) => Words.OnBenchAsync("pot pour", result.GetValue(bench), async desks =>
        {
            await FitAsync(desks, result.GetValue(json), cancel);
            var sheet = await (result.GetValue(group) ? desks.Learning.PourGroupAsync(result.GetValue(number), null, cancel) : desks.Learning.PourAsync(result.GetValue(number), null, cancel));
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Console.WriteLine("Feed: " + sheet.Feed + ".");
            foreach (var line in sheet.Words)
            {
                Console.WriteLine(line);
            }

            Words.WriteTable(["no.", "plant", "in its window", "chance to leave", "own can: pH", "days a week lost"], sheet.Pots.Select(pot => (IReadOnlyList<string?>)
            [
                pot.PlantNumber.ToString(CultureInfo.InvariantCulture), pot.PlantName, Say($"{pot.Shared.ShareInWindow.Value:0 %}"), Say($"{pot.Shared.ChanceOfLeaving:0 %}"), Say($"{pot.Own.PH:0.0}"), Say($"{pot.DaysAWeekLost:0.0}"),
            ]));
            return 0;
        }, cancel));
    }

    private static Command Read()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        var runoff = new Option<bool>("--runoff") { Description = "What ran out below, in place of the reservoir." };
        var ec = new Option<double?>("--ec") { Description = "mS/cm at 25 °C." };
        var pH = new Option<double?>("--ph") { Description = "2 to 12." };
        var level = new Option<double?>("--level") { Description = "Water left in the reservoir, litres." };
        return new Command("read", "Keep what the pens read in a pot; what cannot be is refused with what was probably meant.") { number, runoff, ec, pH, level, bench, json }.With((result, cancel) => Words.OnBenchAsync("pot read", result.GetValue(bench), async desks =>
        {
            var reading = new NewPotReading
            {
                Id = Guid.CreateVersion7(),
                PlantNumber = result.GetValue(number),
                OfReservoir = !result.GetValue(runoff),
                EcMicrosiemensPerCm = result.GetValue(ec) * 1000,
                PH = result.GetValue(pH),
                LevelLitres = result.GetValue(level),
            };
            Warn(await desks.Learning.CheckAsync(reading, cancel));
            return PlantCommand.Kept(result.GetValue(json), await desks.Learning.ReadAsync(reading, cancel));
        }, cancel));
    }

    private static Command Soak()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var medium = new Argument<string>("MEDIUM") { Description = "As its data sheet calls it: \"expanded clay\"." };
        var litres = new Option<double>("--litres") { Description = "Medium soaked, litres.", Required = true };
        var water = new Option<double>("--water") { Description = "Water it stood in, litres.", Required = true };
        var of = new Option<string?>("--of") { Description = "Name of that water on the bench; pure water without it." };
        var hours = new Option<double>("--hours") { Description = "How long.", DefaultValueFactory = _ => 24 };
        var ec = new Option<double?>("--ec") { Description = "mS/cm at the end." };
        var pH = new Option<double?>("--ph") { Description = "pH at the end; alone it says little." };
        var alkalinity = new Option<double?>("--alkalinity") { Description = "meq/L at the end: drops of KH times 0.357." };
        return new Command("soak", "Keep a soak test of bare medium; it counts as readings of that medium.") { medium, litres, water, of, hours, ec, pH, alkalinity, bench, json }.With((result, cancel) => Words.OnBenchAsync("pot soak", result.GetValue(bench), async desks =>
        {
            var waters = await desks.Water.ListAsync(cancel);
            var soak = new NewSoak
            {
                Id = Guid.CreateVersion7(),
                Medium = result.GetValue(medium)!,
                MediumLitres = result.GetValue(litres),
                WaterLitres = result.GetValue(water),
                WaterId = result.GetValue(of) is { } name
                    ? (waters.FirstOrDefault(each => each.Name.Equals(name, StringComparison.OrdinalIgnoreCase)) ?? throw new EntryException("of", name, "one of " + string.Join(", ", waters.Select(each => each.Name)))).Id
                    : null,
                Hours = result.GetValue(hours),
                EcMicrosiemensPerCm = result.GetValue(ec) * 1000,
                PH = result.GetValue(pH),
                AlkalinityMeqPerLitre = result.GetValue(alkalinity),
            };
            Warn(desks.Learning.CheckSoak(soak));
            return PlantCommand.Kept(result.GetValue(json), await desks.Learning.SoakAsync(soak, cancel));
        }, cancel));
    }

    private static void Warn(IReadOnlyList<InputProblem> problems)
    {
        foreach (var problem in problems.Where(problem => problem.Severity == Severity.Warning))
        {
            Console.Error.WriteLine($"{problem.Field} {problem.Value}: {problem.Message}");
        }
    }

    private static async Task FitAsync(BenchDesks desks, bool json, CancellationToken cancel)
    {
        if (json || Console.IsOutputRedirected)
        {
            await desks.Learning.RefreshAsync(null, cancel);
            return;
        }

        await AnsiConsole.Progress().StartAsync(async context =>
        {
            var task = context.AddTask("fitting the pots", maxValue: 1);
            await desks.Learning.RefreshAsync(new Bar(task), cancel);
            task.Value = 1;
        });
    }

    private static EntryException NoSuchPot(int number) => new("number", number.ToString(CultureInfo.InvariantCulture), "the number of a plant that stands in a pot");

    private static string Trait(TraitLine trait, Expected value) => trait.IsFactor ? Say($"× {value.Value:0.00} ({value.Low:0.00}..{value.High:0.00})") : Say($"{value.Value:+0.00;-0.00} ({value.Low:+0.00;-0.00}..{value.High:+0.00;-0.00})");

    private static string Told(Knowledge known) => known switch { Knowledge.Own => "its readings", Knowledge.Siblings => "its siblings", _ => "nothing: cannot be told" };

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private sealed class Bar(ProgressTask task) : IProgress<CalibrationProgress>
    {
        public void Report(CalibrationProgress value) => (task.Value, task.Description) = (value.Share, Markup.Escape(value.Words));
    }
}
