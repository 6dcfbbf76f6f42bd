using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater trial</c>: plan, register, list, show, look, end, stop, depart.</summary>
internal static class TrialCommand
{
    public static Command Create() => new("trial", "Trials: planned, registered before the first datum, ended with the result written whether or not it pleases.") { Plan(), Register(), List(), Show(), Look(), End(), Stop(), Depart() };

    private static Command Plan()
    {
        var (entry, bench, json) = (new PlanOptions(), BenchOption.Create(), Words.Json());
        return entry.AddTo(new Command("plan", "How likely a plan would find the difference worth knowing, by simulation on this bench's own rates; Ctrl+C stops it. Nothing is kept.") { bench, json }).With((result, cancel) => Words.OnBenchAsync("trial plan", result.GetValue(bench), async desks =>
        {
            var plan = entry.Read(result);
            TrialForecast forecast;
            if (result.GetValue(json) || Console.IsErrorRedirected)
            {
                forecast = await desks.Trials.PlanAsync(plan, cancel: cancel);
            }
            else
            {
                var terminal = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(Console.Error) });
                forecast = await terminal.Progress().StartAsync(async progress =>
                {
                    var task = progress.AddTask("simulating", maxValue: 1);
                    return await desks.Trials.PlanAsync(plan, new Progress<double>(share => task.Value = share), cancel);
                });
            }

            if (result.GetValue(json))
            {
                return Words.WriteJson(forecast);
            }

            foreach (var line in forecast.Words.Concat(forecast.Warnings.Select(warning => "Mind: " + warning)).Concat(forecast.Rates))
            {
                Console.WriteLine(line);
            }

            Words.WriteTable(["look", "day", "p to reach"], forecast.Looks.Select(look => (IReadOnlyList<string?>)[Text($"{look.Number}"), Text($"{look.Day:yyyy-MM-dd}"), Text($"{look.Level:0.######}")]));
            return 0;
        }, cancel));
    }

    private static Command Register()
    {
        var (entry, bench, json) = (new PlanOptions(), BenchOption.Create(), Words.Json());
        return entry.AddTo(new Command("register", "Draw the arms and write the trial down. Nothing of it can be changed after.") { bench, json }).With((result, cancel) => Words.OnBenchAsync("trial register", result.GetValue(bench), async desks => Said(result.GetValue(json), await desks.Trials.RegisterAsync(entry.Read(result), cancel: cancel)), cancel));
    }

    private static Command List()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("list", "All trials, newest first.") { bench, json }.With((result, cancel) => Words.OnBenchAsync("trial list", result.GetValue(bench), async desks =>
        {
            var list = await desks.Trials.ListAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(list);
            }

            Words.WriteTable(["id", "question", "from", "to", "plants", "state", ""], list.Trials.Select(trial => (IReadOnlyList<string?>)
                [trial.Id.ToString(), trial.Registered.Question, Text($"{trial.Registered.Begins:yyyy-MM-dd}"), Text($"{trial.Registered.Ends:yyyy-MM-dd}"), Text($"{trial.Seats.Count}"), trial.State.ToString(), trial.Words]));
            if (list.Words.Length > 0)
            {
                Console.WriteLine(list.Words);
            }

            return 0;
        }, cancel));
    }

    private static Command Show() => One("show", "One trial as registered, with its looks, departures and result.", async (desk, id, cancel) =>
        await desk.GetAsync(id, cancel) ?? throw new EntryException("TRIAL", id.ToString(), "a trial of this bench: rootwater trial list"));

    private static Command End() => One("end", "Write the result, whether or not it pleases.", (desk, id, cancel) => desk.EndAsync(id, cancel));

    private static Command Look()
    {
        var (id, bench, json) = (Id(), BenchOption.Create(), Words.Json());
        var pay = new Option<bool>("--pay") { Description = "Look, and pay the price; without this, only the price is shown." };
        return new Command("look", "What a look before the end costs; with --pay, the look.") { id, pay, bench, json }.With((result, cancel) => Words.OnBenchAsync("trial look", result.GetValue(bench), async desks =>
        {
            if (result.GetValue(pay))
            {
                return Said(result.GetValue(json), await desks.Trials.LookAsync(result.GetValue(id), cancel));
            }

            var price = await desks.Trials.PriceOfLookAsync(result.GetValue(id), cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(price);
            }

            Console.WriteLine(price.Words);
            Console.WriteLine("Add --pay to look.");
            return 0;
        }, cancel));
    }

    private static Command Stop()
    {
        var (id, bench, json) = (Id(), BenchOption.Create(), Words.Json());
        var why = new Option<string>("--why") { Description = "The reason; it stands beside the result for good.", Required = true };
        return new Command("stop", "Stop a trial early; what it showed so far is written.") { id, why, bench, json }.With((result, cancel) => Words.OnBenchAsync("trial stop", result.GetValue(bench), async desks => Said(result.GetValue(json), await desks.Trials.StopAsync(result.GetValue(id), result.GetValue(why)!, cancel)), cancel));
    }

    private static Command Depart()
    {
        var (id, bench, json) = (Id(), BenchOption.Create(), Words.Json());
        var what = new Argument<string>("WHAT") { Description = "What went otherwise than registered." };
        var plant = new Option<int?>("--plant") { Description = "The plant it was about." };
        return new Command("depart", "Write down that something went otherwise than registered; the registration stays as it was.") { id, what, plant, bench, json }.With((result, cancel) => Words.OnBenchAsync("trial depart", result.GetValue(bench), async desks => Said(result.GetValue(json), await desks.Trials.NoteDepartureAsync(result.GetValue(id), result.GetValue(what)!, result.GetValue(plant), cancel)), cancel));
    }

    private static Command One(string name, string about, Func<ITrialDesk, Guid, CancellationToken, Task<TrialView>> act)
    {
        var (id, bench, json) = (Id(), BenchOption.Create(), Words.Json());
        return new Command(name, about) { id, bench, json }.With((result, cancel) => Words.OnBenchAsync("trial " + name, result.GetValue(bench), async desks => Said(result.GetValue(json), await act(desks.Trials, result.GetValue(id), cancel)), cancel));
    }

    private static Argument<Guid> Id() => new("TRIAL") { Description = "Its id: rootwater trial list." };

    private static int Said(bool json, TrialView trial)
    {
        if (json)
        {
            return Words.WriteJson(trial);
        }

        Console.WriteLine(trial.Registered.Question);
        Console.WriteLine(trial.Words);
        Console.WriteLine(Text($"Registered {trial.RegisteredAt:yyyy-MM-dd HH:mm} UTC, id {trial.Id}, seed {trial.Registered.Seed}{(trial.Registered.SeedByHand ? " (by hand)" : "")}. Test: {trial.Registered.Test}."));
        Words.WriteTable(["arm", "gets", "plants"], trial.Registered.Arms.Select(arm => (IReadOnlyList<string?>)[arm.Name, arm.Gets, string.Join(", ", trial.Seats.Where(seat => seat.Arm == arm.Name).Select(seat => seat.Number?.ToString(CultureInfo.InvariantCulture) ?? "forgotten"))]));
        foreach (var look in trial.Looked)
        {
            Console.WriteLine(Text($"Looked on {look.AsOf:yyyy-MM-dd} (p to reach {look.Level:0.######}{(look.Planned ? "" : ", not planned")}): {look.Result.Words}"));
        }

        foreach (var departure in trial.Departures)
        {
            Console.WriteLine(Text($"Otherwise, {departure.AsOf:yyyy-MM-dd}: {departure.What}"));
        }

        return 0;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    /// <summary>A plan as options.</summary>
    private sealed class PlanOptions
    {
        private readonly Option<string> _question = new("--question") { Description = "\"Does potassium nitrate keep leaves on longer?\"", Required = true };
        private readonly Option<string[]> _arms = new("--arm") { Description = "Twice: NAME=WHAT ITS PLANTS GET; the one compared with first.", Required = true };
        private readonly Option<int[]> _plants = new("--plants") { Description = "Numbers of the plants.", Required = true, AllowMultipleArgumentsPerToken = true };
        private readonly Option<TrialOutcome[]> _outcomes = new("--outcome") { Description = "What counts; the first is what the trial is about.", DefaultValueFactory = _ => [TrialOutcome.LeafLoss], AllowMultipleArgumentsPerToken = true };
        private readonly Option<DateOnly?> _begins = new("--begins") { Description = "The first day; today when left out." };
        private readonly Option<int> _months = new("--months") { Description = "How long.", DefaultValueFactory = _ => 24 };
        private readonly Option<int> _looks = new("--looks") { Description = "Planned looks, the last at the end.", DefaultValueFactory = _ => 1 };
        private readonly Option<Spending> _spending = new("--spending") { Description = "How the chance of a false claim is shared over looks." };
        private readonly Option<double> _ratio = new("--ratio") { Description = "The difference worth knowing, second arm over first.", DefaultValueFactory = _ => 0.5 };
        private readonly Option<bool> _freely = new("--across-kinds") { Description = "Draw across kinds, not within each." };
        private readonly Option<int?> _seed = new("--seed") { Description = "A seed of your own; written down as such." };
        private readonly Option<int> _runs = new("--runs") { Description = "Simulated trials.", DefaultValueFactory = _ => 2000 };

        public Command AddTo(Command command)
        {
            foreach (var option in new Option[] { _question, _arms, _plants, _outcomes, _begins, _months, _looks, _spending, _ratio, _freely, _seed, _runs })
            {
                command.Options.Add(option);
            }

            return command;
        }

        public TrialPlan Read(ParseResult result) => new()
        {
            Question = result.GetValue(_question)!,
            Arms = [.. result.GetValue(_arms)!.Select(arm => arm.Split('=', 2)).Select(parts => new TrialArm(parts[0], parts.Length > 1 ? parts[1] : ""))],
            Plants = result.GetValue(_plants)!,
            Outcomes = result.GetValue(_outcomes)!,
            Begins = result.GetValue(_begins),
            Months = result.GetValue(_months),
            Looks = result.GetValue(_looks),
            Spending = result.GetValue(_spending),
            Ratio = result.GetValue(_ratio),
            WithinKinds = !result.GetValue(_freely),
            Seed = result.GetValue(_seed),
            Runs = result.GetValue(_runs),
        };
    }
}
