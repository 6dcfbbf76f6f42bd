using System.Globalization;
using System.Reflection;
using System.Text;

namespace Rootwater.Chemistry.Data;

/// <summary>A constants table embedded in this assembly. Own reader: this floor takes no package, and the files are ours.</summary>
internal sealed class Table
{
    private readonly Dictionary<string, int> _columns;

    private Table(string name, Dictionary<string, int> columns, List<string[]> rows)
    {
        Name = name;
        _columns = columns;
        Rows = rows.ConvertAll(cells => new Row(this, cells));
    }

    public string Name { get; }

    public IReadOnlyList<Row> Rows { get; }

    public static Table Load(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"data/chemistry/{name}")
            ?? throw new InvalidOperationException($"The table {name} is not embedded in Rootwater.Chemistry.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        var lines = reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var columns = Cells(lines[0]).Select((column, index) => (column, index)).ToDictionary(pair => pair.column, pair => pair.index);
        return new Table(name, columns, [.. lines.Skip(1).Select(Cells)]);
    }

    private static string[] Cells(string line)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        var quoted = false;
        foreach (var character in line.AsSpan().TrimEnd('\r'))
        {
            if (character == '"')
            {
                quoted = !quoted;
            }
            else if (character == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(character);
            }
        }

        cells.Add(cell.ToString());
        return [.. cells];
    }

    internal sealed class Row(Table table, string[] cells)
    {
        public string Text(string column) => cells[table._columns[column]];

        public double Number(string column) => double.Parse(Text(column), NumberStyles.Float, CultureInfo.InvariantCulture);

        public double NumberOr(string column, double otherwise) => Text(column).Length == 0 ? otherwise : Number(column);
    }
}
