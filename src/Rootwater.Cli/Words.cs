using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Ledger;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary>What the commands on a bench have in common: opening it, and writing what they found as JSON or as a table.</summary>
internal static class Words
{
    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        IncludeFields = true,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        Encoder = TextInput.JsonOptions.Encoder,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public static Option<bool> Json() => new("--json") { Description = "Write JSON in place of text." };

    /// <summary>Opens the bench that an option names, runs, and closes it. It is not made by looking at it.</summary>
    public static Task<int> OnBenchAsync(string command, string? location, Func<BenchDesks, Task<int>> work, CancellationToken cancel, bool create = false) => BenchOption.RunAsync(command, async () =>
    {
        await using var desks = await BenchDesks.OpenAsync(Options(location) with { CreateIfMissing = create }, device: "terminal", cancel: cancel);
        return await work(desks);
    });

    /// <summary>Where the bench, its pictures and its backups lie; the folders may be set in the environment, as for the web app.</summary>
    public static LedgerOptions Options(string? location) => new()
    {
        Location = location,
        PhotosFolder = Environment.GetEnvironmentVariable("ROOTWATER_PHOTOS"),
        BackupFolder = Environment.GetEnvironmentVariable("ROOTWATER_BACKUPS"),
    };

    public static int WriteJson<T>(T value, int status = 0)
    {
        Console.OutputEncoding = new System.Text.UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        Console.WriteLine(JsonSerializer.Serialize(value, s_json));
        return status;
    }

    public static void WriteTable(IReadOnlyList<string> headings, IEnumerable<IReadOnlyList<string?>> rows)
    {
        var table = new Table { Border = TableBorder.Simple };
        foreach (var heading in headings)
        {
            table.AddColumn(heading);
        }

        foreach (var row in rows)
        {
            table.AddRow([.. row.Select(cell => Markup.Escape(cell ?? ""))]);
        }

        AnsiConsole.Write(table);
    }

    /// <summary>A file to write, whole or not at all; "-" is standard output.</summary>
    public static async Task WriteFileAsync(string path, Func<Stream, Task> write)
    {
        if (path == "-")
        {
            await using var output = Console.OpenStandardOutput();
            await write(output);
            return;
        }

        var aside = path + ".part";
        try
        {
            await using (var file = new FileStream(aside, FileMode.Create, FileAccess.ReadWrite))
            {
                await write(file);
            }

            File.Move(aside, path, overwrite: true);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new EntryException("file", path, $"a place that can be written ({problem.Message})");
        }
        finally
        {
            File.Delete(aside);
        }
    }

    /// <exception cref="EntryException">It cannot be read.</exception>
    public static Stream OpenFile(string path)
    {
        try
        {
            return new FileStream(path, FileMode.Open, FileAccess.Read);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new EntryException("file", path, $"a file that can be read ({problem.Message})");
        }
    }

    public static Command With(this Command command, Func<ParseResult, CancellationToken, Task<int>> action)
    {
        command.SetAction(action);
        return command;
    }
}
