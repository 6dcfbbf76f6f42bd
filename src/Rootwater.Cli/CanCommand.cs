using System.CommandLine;
using System.Globalization;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Files;
using Rootwater.Growing.Mixing.Solvers;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater can plan</c>: from water and cupboard to weighed doses.</summary>
internal static class CanCommand
{
    public static Command Create() => new("can", "Plan the cans to mix, and judge what the pens read in them.") { Plan() };

    private static Command Plan()
    {
        var file = new Argument<string?>("REQUEST.json") { Description = "What to plan, as docs/can-plan.md describes; - for standard input.", DefaultValueFactory = _ => null };
        var asJson = new Option<bool>("--json") { Description = "Write JSON (schema in docs/plan-schema.json) in place of tables." };
        var command = new Command("plan", "Plan cans: doses, mixing order, what the pens should read, who gets what.") { file, asJson };
        command.SetAction((result, cancel) => Task.FromResult(Run(result.GetValue(file), result.GetValue(asJson), cancel)));
        return command;
    }

    private static int Run(string? file, bool asJson, CancellationToken cancel)
    {
        if (file is null)
        {
            Console.Error.WriteLine("can plan: give a request file (docs/examples/can-plan.json is one).");
            return 2;
        }

        try
        {
            var text = file == "-" ? Console.In.ReadToEnd() : File.ReadAllText(file);
            var request = PlanRequestFile.Read(text);
            return Show(asJson || Console.IsOutputRedirected ? CanPlanner.Plan(request, cancel: cancel) : WithStatus(request, cancel), request, asJson);
        }
        catch (PlanRequestException problem)
        {
            foreach (var each in problem.Problems)
            {
                Console.Error.WriteLine($"can plan: {each}");
            }

            return 1;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"can plan: '{file}' cannot be read: {problem.Message}");
            return 2;
        }
        catch (SolverUnavailableException problem)
        {
            Console.Error.WriteLine($"can plan: {problem.Message}");
            return 2;
        }
        catch (OperationCanceledException)
        {
            Console.Error.WriteLine("can plan: cancelled; nothing was saved.");
            return 130;
        }
    }

    private static PlanOutcome WithStatus(PlanRequest request, CancellationToken cancel) =>
        AnsiConsole.Status().Start("planning", status =>
            CanPlanner.Plan(request, new Report(progress => status.Status(Markup.Escape(progress.Doing))), cancel));

    private sealed class Report(Action<PlanProgress> show) : IProgress<PlanProgress>
    {
        void IProgress<PlanProgress>.Report(PlanProgress value) => show(value);
    }

    private static int Show(PlanOutcome outcome, PlanRequest request, bool asJson)
    {
        if (asJson)
        {
            Console.Out.WriteLine(PlanJson.Write(outcome));
        }
        else
        {
            CanTables.Write(AnsiConsole.Console, outcome, request);
        }

        return outcome.Plan is null ? 1 : 0;
    }

    internal static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
