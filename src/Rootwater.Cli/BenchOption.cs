using System.CommandLine;
using Rootwater.Ledger;

namespace Rootwater.Cli;

/// <summary><c>--bench</c> (or <c>--database</c>, as the web app calls it): which bench a command works on.</summary>
internal static class BenchOption
{
    private const string Variable = "ROOTWATER_DATABASE";

    public static Option<string?> Create() => new("--bench", "--database")
    {
        Description = $"The bench: a SQLite file, or a PostgreSQL connection string (Host=…;Database=…). Without it: {Variable} from the environment, or the bench in your own data folder.",
        DefaultValueFactory = _ => Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } set ? set : null,
    };

    /// <summary>Runs a command on a bench; what is wrong with the database or an entry is said in a line each, without a stack trace.</summary>
    public static async Task<int> RunAsync(string command, Func<Task<int>> work)
    {
        try
        {
            return await work();
        }
        catch (LedgerProblem problem)
        {
            await Console.Error.WriteLineAsync($"{command}: {problem.Message}");
            return 2;
        }
        catch (EntryException refused)
        {
            foreach (var problem in refused.Problems)
            {
                await Console.Error.WriteLineAsync($"{command}: {problem}");
            }

            return 1;
        }
        catch (OperationCanceledException)
        {
            await Console.Error.WriteLineAsync($"{command}: cancelled; nothing was saved.");
            return 130;
        }
    }
}
