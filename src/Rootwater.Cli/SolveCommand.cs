using System.CommandLine;
using Rootwater.Cli.Solving;

namespace Rootwater.Cli;

/// <summary><c>rootwater solve [FILE]</c>: solutions in, one JSON object a line; what the chemistry says of them out, one a line, in order.</summary>
internal static class SolveCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE")
        {
            Description = "A file of JSON objects, one a line; - or nothing for standard input.",
            DefaultValueFactory = _ => "-",
        };
        var command = new Command("solve", "Solve solutions given as JSON lines: pH, EC, alkalinity, saturation. The format is in docs/solve.md.") { file };
        command.SetAction(result => Run(result.GetValue(file)!));
        return command;
    }

    private static int Run(string file)
    {
        try
        {
            using var input = file == "-" ? Console.OpenStandardInput() : File.OpenRead(file);
            using var output = Console.OpenStandardOutput();
            return SolveStream.Run(input, output) ? 0 : 1;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"solve: '{file}' cannot be read: {problem.Message}");
            return 2;
        }
    }
}
