using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Files;
using Rootwater.Growing.Mixing.Solvers;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater can plan</c> and <c>rootwater can check</c>: from water and cupboard to weighed doses, and what to do when the pens disagree.</summary>
internal static class CanCommand
{
    public static Command Create() => new("can", "Plan the cans to mix, judge what the pens read in them, and put them right.") { Plan(), Check(), KeptCanCommand.Show(), KeptCanCommand.Repair(), CanHistoryCommand.History(), CanHistoryCommand.Explain(), TradeOffCommand.Create() };

    private static Command Plan()
    {
        var file = new Argument<string?>("REQUEST.json") { Description = "What to plan, as docs/can-plan.md describes; - for standard input. Left out: the plants of the bench that are due.", DefaultValueFactory = _ => null };
        var asJson = new Option<bool>("--json") { Description = "Write JSON (schema in docs/plan-schema.json) in place of tables." };
        var bench = BenchOption.Create();
        bench.Description += " An empty one is filled with the demo.";
        var cans = new Option<int>("--cans") { Description = "The most cans to mix, with the bench's own plants.", DefaultValueFactory = _ => 2 };
        var save = new Option<bool>("--save") { Description = "Keep the planned cans in the bench." };
        var command = new Command("plan", "Plan cans: doses, mixing order, what the pens should read, who gets what.") { file, asJson, bench, cans, save };
        command.SetAction((result, cancel) => Guarded("can plan", result.GetValue(file), async () =>
        {
            var json = result.GetValue(asJson);
            var outcome = result.GetValue(file) is { } request
                ? WithStatus(json, progress => Task.FromResult(CanPlanner.Plan(PlanRequestFile.Read(Text(request)), progress, cancel)))
                : WithStatus(json, progress => FromBench(result.GetValue(bench), result.GetValue(cans), result.GetValue(save), progress, cancel));
            return Show(await outcome, json);
        }));
        return command;
    }

    private static Command Check()
    {
        var file = new Argument<string>("PLAN.json") { Description = "What rootwater can plan --json wrote." };
        var letter = new Option<string?>("--can") { Description = "The can's letter, where the plan has several." };
        var ec = new Option<double?>("--ec") { Description = "What your EC pen shows, in mS/cm." };
        var ph = new Option<double?>("--ph") { Description = "What your pH pen shows." };
        var step = new Option<int?>("--after") { Description = "The step after which it was read; left out: the finished can." };
        var request = new Option<string?>("--request") { Description = "The request the plan came from: its cupboard and waters, to repair with, and its tools." };
        var command = new Command("check", "Compare what the pens read with the card; say what to look at first, and how to put this can right.") { file, letter, ec, ph, step, request };
        command.SetAction((result, _) => Guarded("can check", result.GetValue(file), () =>
        {
            var can = CanFile.Read(Text(result.GetValue(file)!), result.GetValue(letter));
            var means = result.GetValue(request) is { } path ? PlanRequestFile.Read(Text(path)) : null;
            return Task.FromResult(Judge(can, means, result.GetValue(ec) * 1000, result.GetValue(ph), result.GetValue(step)));
        }));
        return command;
    }

    private static int Judge(CanPlan can, PlanRequest? request, double? ec, double? ph, int? step)
    {
        if (ec is null && ph is null)
        {
            Console.Error.WriteLine("can check: give --ec (mS/cm), --ph, or both.");
            return 2;
        }

        var tools = request?.Tools ?? new Tools();
        var verdict = CanCheck.Judge(can, tools, ec, ph, step);
        foreach (var pen in verdict.Pens)
        {
            var (scale, format, unit) = pen.What == "EC" ? (0.001, "0.00", " mS/cm") : (1.0, "0.00", "");
            Console.Out.WriteLine($"{pen.What} reads {Number(pen.Measured * scale, format)}{unit}, expected {Number(pen.Expected.Value * scale, format)} ({Number(pen.Expected.Low * scale, format)} to {Number(pen.Expected.High * scale, format)}): {pen.Words}");
        }

        foreach (var check in verdict.CheckFirst)
        {
            Console.Out.WriteLine($"  look first: {check}");
        }

        if (!verdict.Agrees && step is null && request is not null)
        {
            var vessel = request.Vessels.FirstOrDefault(vessel => vessel.Name == can.Vessel);
            var repair = CanRepair.Offer(can, new RepairMeans { Cupboard = request.Cupboard, Waters = request.Waters, Tools = tools, VesselLitres = vessel?.Litres }, ec, ph);
            Console.Out.WriteLine(repair.Words);
            foreach (var caution in repair.Additions.SelectMany(addition => addition.Cautions).Distinct())
            {
                Console.Out.WriteLine($"  ! {caution}");
            }
        }

        return verdict.Agrees ? 0 : 1;
    }

    private static async Task<PlanOutcome> FromBench(string? location, int cans, bool save, IProgress<PlanProgress>? progress, CancellationToken cancel)
    {
        _ = PlanWarmUp.Start();
        await using var desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = location }, demo: true, device: "terminal", cancel: cancel);
        var outcome = await desks.Mixing.PlanAsync(new PlanChoices { MostCans = cans }, progress, cancel);
        foreach (var can in save ? outcome.Plan?.Cans ?? [] : [])
        {
            await desks.Mixing.SaveCanAsync(can, cancel);
        }

        return outcome;
    }

    private static string Text(string file) => file == "-" ? Console.In.ReadToEnd() : File.ReadAllText(file);

    private static async Task<int> Guarded(string command, string? file, Func<Task<int>> run)
    {
        try
        {
            return await run();
        }
        catch (PlanRequestException problem)
        {
            return Refuse(command, problem.Problems.Select(each => each.ToString()), 1);
        }
        catch (EntryException problem)
        {
            return Refuse(command, problem.Problems.Select(each => each.ToString()), 1);
        }
        catch (ArgumentOutOfRangeException problem)
        {
            return Refuse(command, [problem.Message], 1);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return Refuse(command, [$"'{file}' cannot be read: {problem.Message}"], 2);
        }
        catch (Exception problem) when (problem is LedgerProblem or SolverUnavailableException)
        {
            return Refuse(command, [problem.Message], 2);
        }
        catch (OperationCanceledException)
        {
            return Refuse(command, ["cancelled; nothing was saved."], 130);
        }
    }

    private static int Refuse(string command, IEnumerable<string> lines, int status)
    {
        foreach (var line in lines)
        {
            Console.Error.WriteLine($"{command}: {line}");
        }

        return status;
    }

    private static Task<PlanOutcome> WithStatus(bool asJson, Func<IProgress<PlanProgress>?, Task<PlanOutcome>> plan) => asJson || Console.IsOutputRedirected
        ? plan(null)
        : AnsiConsole.Status().StartAsync("planning", status => Task.Run(() => plan(new Report(progress => status.Status(Markup.Escape(progress.Doing))))));

    private sealed class Report(Action<PlanProgress> show) : IProgress<PlanProgress>
    {
        void IProgress<PlanProgress>.Report(PlanProgress value) => show(value);
    }

    private static int Show(PlanOutcome outcome, bool asJson)
    {
        if (asJson)
        {
            Console.OutputEncoding = new System.Text.UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
            Console.Out.WriteLine(PlanJson.Write(outcome));
        }
        else
        {
            CanTables.Write(AnsiConsole.Console, outcome);
        }

        return outcome.Plan is null ? 1 : 0;
    }

    internal static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
