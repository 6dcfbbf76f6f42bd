using System.Globalization;
using System.Text;

namespace Rootwater.Growing.Evidence.Methods;

/// <summary>A table in: named columns of text. Comma between cells and a decimal point, or, where the header has semicolons and no comma, semicolon between cells and a decimal comma.</summary>
public sealed class EvidenceTable
{
    private readonly string[] _columns;
    private readonly List<string[]> _rows;
    private readonly bool _decimalComma;

    private EvidenceTable(string[] columns, List<string[]> rows, bool decimalComma) => (_columns, _rows, _decimalComma) = (columns, rows, decimalComma);

    public IReadOnlyList<string> Columns => _columns;

    public int Count => _rows.Count;

    /// <summary>Reads comma-separated text with a header line. Quotes as usual, doubled inside quotes; lines that begin with # are comments.</summary>
    /// <exception cref="EvidenceInputException">No header, or a row of another length than the header.</exception>
    public static EvidenceTable Parse(string text)
    {
        string[]? columns = null;
        var separator = ',';
        var rows = new List<string[]>();
        var line = 0;
        foreach (var raw in text.TrimStart('\ufeff').Split('\n'))
        {
            line++;
            var trimmed = raw.TrimEnd('\r');
            if (trimmed.Trim().Length == 0 || trimmed[0] == '#')
            {
                continue;
            }

            if (columns is null)
            {
                separator = trimmed.Contains(';') && !trimmed.Contains(',') ? ';' : ',';
                columns = Split(trimmed, separator);
                continue;
            }

            var cells = Split(trimmed, separator);
            if (cells.Length != columns.Length)
            {
                throw new EvidenceInputException($"line {line}", $"{cells.Length} cells", $"{columns.Length}, as the header has ({string.Join(", ", columns)})");
            }

            rows.Add(cells);
        }

        return columns is null ? throw new EvidenceInputException("table", null, "a header line with the names of the columns") : new EvidenceTable(columns, rows, separator == ';');
    }

    public bool Has(string column) => Array.IndexOf(_columns, column) >= 0;

    /// <summary>The cells of a column.</summary>
    public string[] Texts(string column)
    {
        var index = IndexOf(column);
        return [.. _rows.Select(row => row[index])];
    }

    /// <summary>A column as numbers; TRUE and FALSE count as 1 and 0.</summary>
    public double[] Numbers(string column)
    {
        var index = IndexOf(column);
        return [.. _rows.Select((row, i) => Number(row[index]) ?? throw new EvidenceInputException($"{column}, row {i + 1}", row[index].Length == 0 ? "nothing" : row[index], "a number"))];
    }

    /// <summary>True where every cell of the column is a number.</summary>
    public bool IsNumeric(string column)
    {
        var index = IndexOf(column);
        return _rows.TrueForAll(row => Number(row[index]) is not null);
    }

    /// <summary>The rows in which all of these columns hold something other than nothing or NA.</summary>
    public EvidenceTable Complete(IEnumerable<string> columns)
    {
        var indices = columns.Distinct().Select(IndexOf).ToArray();
        return new EvidenceTable(_columns, [.. _rows.Where(row => indices.All(i => row[i].Length > 0 && row[i] is not ("NA" or "NaN")))], _decimalComma);
    }

    /// <summary>The rows that meet all conditions: <c>column=value|value</c>, <c>column!=value</c>, <c>column&lt;=number</c> and so on, with ; between conditions.</summary>
    public EvidenceTable Where(string conditions)
    {
        var rows = _rows;
        foreach (var condition in conditions.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var op = new[] { "!=", "<=", ">=", "=", "<", ">" }.Select(o => (o, At: condition.IndexOf(o, StringComparison.Ordinal))).Where(o => o.At > 0).OrderBy(o => o.At).ThenByDescending(o => o.o.Length).Select(o => (string?)o.o).FirstOrDefault()
                ?? throw new EvidenceInputException("where", condition, "column=value|value, column!=value, or column<number with <, <=, > or >=");
            var at = condition.IndexOf(op, StringComparison.Ordinal);
            var index = IndexOf(condition[..at].Trim());
            var value = condition[(at + op.Length)..].Trim();
            if (op is "=" or "!=")
            {
                var wanted = value.Split('|', StringSplitOptions.TrimEntries);
                rows = [.. rows.Where(row => Array.Exists(wanted, want => Same(row[index], want)) == (op == "="))];
                continue;
            }

            var limit = Number(value) ?? throw new EvidenceInputException("where", condition, "a number to compare with");
            rows = [.. rows.Where(row => Number(row[index]) is { } x && op switch { "<" => x < limit, "<=" => x <= limit, ">" => x > limit, _ => x >= limit })];
        }

        return new EvidenceTable(_columns, rows, _decimalComma);
    }

    internal EvidenceTable Rows(IReadOnlyList<int> rows) => new(_columns, [.. rows.Select(i => _rows[i])], _decimalComma);

    internal double? Number(string cell)
    {
        var text = _decimalComma ? cell.Replace(',', '.') : cell;
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number))
        {
            return number;
        }

        return cell.ToUpperInvariant() switch { "TRUE" => 1, "FALSE" => 0, _ => null };
    }

    private bool Same(string cell, string wanted) => cell == wanted || Number(cell) is { } a && Number(wanted) is { } b && a == b;

    private int IndexOf(string column)
    {
        var index = Array.IndexOf(_columns, column);
        return index >= 0 ? index : throw new EvidenceInputException("column", column, "one of " + string.Join(", ", _columns));
    }

    private static string[] Split(string line, char separator)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            var c = line[i];
            if (c == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"')
            {
                cell.Append(c);
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == separator && !quoted)
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
}
