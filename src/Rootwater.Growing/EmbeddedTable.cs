using System.Globalization;

namespace Rootwater.Growing;

/// <summary>A data file embedded in this assembly, read as rows with named columns. Lines that begin with # are comments.</summary>
internal static class EmbeddedTable
{
    /// <summary>Reads <c>data/growing/{fileName}</c>.</summary>
    public static IReadOnlyList<Row> Read(string fileName)
    {
        using var stream = typeof(EmbeddedTable).Assembly.GetManifestResourceStream($"data/growing/{fileName}")
            ?? throw new InvalidOperationException($"The data file {fileName} is not embedded in this build.");
        using var reader = new StreamReader(stream);
        string[]? columns = null;
        var rows = new List<Row>();
        while (reader.ReadLine() is { } line)
        {
            if (line.Length == 0 || line[0] == '#')
            {
                continue;
            }

            var cells = Split(line);
            if (columns is null)
            {
                columns = cells;
            }
            else if (cells.Length != columns.Length)
            {
                throw new InvalidOperationException($"{fileName}: expected {columns.Length} cells in \"{line}\", got {cells.Length}.");
            }
            else
            {
                rows.Add(new Row(fileName, columns, cells));
            }
        }

        return rows;
    }

    private static string[] Split(string line)
    {
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            var c = line[i];
            if (c == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"')
            {
                cell.Append('"');
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == ',' && !quoted)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }

        cells.Add(cell.ToString().Trim());
        return [.. cells];
    }

    /// <summary>One row; cells are read by column name.</summary>
    internal sealed class Row(string fileName, string[] columns, string[] cells)
    {
        public string this[string column] => cells[IndexOf(column)];

        public double Number(string column) => NumberOrNull(column)
            ?? throw new InvalidOperationException($"{fileName}: column {column} must hold a number.");

        public double? NumberOrNull(string column)
        {
            var text = this[column];
            if (text.Length == 0)
            {
                return null;
            }

            return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
                ? number
                : throw new InvalidOperationException($"{fileName}: column {column} holds \"{text}\", which is no number.");
        }

        private int IndexOf(string column)
        {
            var index = Array.IndexOf(columns, column);
            return index >= 0 ? index : throw new InvalidOperationException($"{fileName} has no column {column}.");
        }
    }
}
