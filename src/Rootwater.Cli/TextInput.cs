using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Unicode;
using Rootwater.Growing;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary>What commands that read a text have in common: getting it, and saying what was wrong with it.</summary>
internal static class TextInput
{
    /// <summary>Indented, with µ, ° and · as themselves.</summary>
    public static JsonSerializerOptions JsonOptions { get; } = new() { WriteIndented = true, Encoder = JavaScriptEncoder.Create(UnicodeRanges.All) };

    /// <summary>The text of a file or, for "-", of standard input; null after saying why it cannot be read.</summary>
    public static string? Read(string command, string file)
    {
        try
        {
            return file == "-" ? Console.In.ReadToEnd() : File.ReadAllText(file);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"{command}: '{file}' cannot be read: {problem.Message}");
            return null;
        }
    }

    /// <summary>Problems to the standard error, worst first.</summary>
    public static void Show(IEnumerable<InputProblem> problems)
    {
        foreach (var problem in problems.OrderByDescending(problem => problem.Severity))
        {
            Console.Error.WriteLine($"{problem.Severity.ToString().ToLowerInvariant()}: {problem.Field}{(problem.Value is null ? "" : $" ({problem.Value})")}: {problem.Message}");
        }
    }

    public static JsonArray ToJson(IEnumerable<InputProblem> problems) => new([.. problems.Select(problem => (JsonNode)new JsonObject
    {
        ["severity"] = problem.Severity.ToString().ToLowerInvariant(),
        ["field"] = problem.Field,
        ["value"] = problem.Value,
        ["message"] = problem.Message,
    })]);
}
