namespace Rootwater.Ledger.Demo;

/// <summary>A data file of the demo: rows with named columns, comments begin with #.</summary>
internal static class DemoTable
{
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(string file)
    {
        using var stream = typeof(DemoTable).Assembly.GetManifestResourceStream($"data/demo/{file}")
            ?? throw new InvalidOperationException($"The data file {file} is not embedded in this build.");
        using var reader = new StreamReader(stream);
        var lines = reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(line => line[0] != '#').Select(Cells).ToList();
        return [.. lines.Skip(1).Select(cells => lines[0].Zip(cells).ToDictionary(pair => pair.First, pair => pair.Second))];
    }

    // Cells never hold a quote; a quoted cell may hold commas.
    private static List<string> Cells(string line) =>
    [
        .. line.Split('"').SelectMany((part, i) => i % 2 == 1 ? [part] : Between(part, i > 0, i < line.Count(c => c == '"'))),
    ];

    private static string[] Between(string part, bool afterQuoted, bool beforeQuoted)
    {
        if (afterQuoted && beforeQuoted && part == ",")
        {
            return [];
        }

        var cells = part.Split(',');
        var from = afterQuoted ? 1 : 0;
        var to = beforeQuoted ? cells.Length - 1 : cells.Length;
        return from < to ? cells[from..to] : [];
    }
}
