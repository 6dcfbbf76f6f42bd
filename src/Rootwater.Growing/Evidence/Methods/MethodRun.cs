using System.Globalization;
using Rootwater.Growing.Evidence.Fitting;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Methods;

/// <summary>One call of a method: its table and options, and the answer as it grows.</summary>
public sealed class MethodRun
{
    private readonly IEvidenceMethod _method;
    private readonly IReadOnlyDictionary<string, string> _options;
    private readonly List<EvidenceQuantity> _quantities = [];
    private readonly List<string> _says = [];
    private readonly List<string> _assumptions = [];

    internal MethodRun(IEvidenceMethod method, EvidenceTable table, IReadOnlyDictionary<string, string> options)
    {
        _method = method;
        _options = options;
        Table = Text("where") is { } where && where != "all rows" ? table.Where(where) : table;
        if (Table.Count == 0)
        {
            throw new EvidenceInputException("table", "no rows", table.Count == 0 ? "at least one row under the header" : "a condition that some rows meet");
        }
    }

    public EvidenceTable Table { get; private set; }

    /// <summary>The name of the whole.</summary>
    public string Label => Text("label") ?? "all";

    /// <summary>An option as given; null where it is not.</summary>
    public string? Text(string option) => _options.TryGetValue(option, out var value) && value.Length > 0 ? value : null;

    /// <summary>An option that names a column: as given, else the default if the table has such a column, else null.</summary>
    public string? Column(string option, string? fallback = null)
    {
        if (Text(option) is { } given)
        {
            return Table.Has(given) ? given : throw new EvidenceInputException("--" + option, given, "a column of the table: " + string.Join(", ", Table.Columns));
        }

        return fallback is not null && Table.Has(fallback) ? fallback : null;
    }

    /// <summary>A column that has to be there.</summary>
    public string Need(string option, string? fallback = null) =>
        Column(option, fallback) ?? throw new EvidenceInputException("--" + option, null, (_method.Options.FirstOrDefault(o => o.Name == option)?.Meaning ?? "a column") + "; the table has " + string.Join(", ", Table.Columns));

    /// <summary>Leaves out rows in which one of these columns is empty, and says how many.</summary>
    public void KeepComplete(params IEnumerable<string?> columns)
    {
        var before = Table.Count;
        Table = Table.Complete(columns.OfType<string>());
        if (Table.Count < before)
        {
            Say($"{before - Table.Count} of {before} rows were left out because a value was missing.");
        }

        if (Table.Count == 0)
        {
            throw new EvidenceInputException("table", "no complete row", "rows in which no used column is empty");
        }
    }

    /// <summary>Leaves only these rows.</summary>
    internal void KeepRows(IReadOnlyList<int> rows) => Table = Table.Rows(rows);

    public double[] Numbers(string option, double[]? fallback = null)
    {
        if (Text(option) is not { } text)
        {
            return fallback ?? [];
        }

        return [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(part => double.TryParse(part, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? number : throw new EvidenceInputException("--" + option, part, "numbers with commas between them"))];
    }

    public int Whole(string option, int fallback)
    {
        if (Text(option) is not { } text)
        {
            return fallback;
        }

        return int.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number) && number >= 0 ? number : throw new EvidenceInputException("--" + option, text, "a whole number");
    }

    public string Choice(string option, string fallback, params string[] choices)
    {
        var text = Text(option) ?? fallback;
        return choices.Contains(text) ? text : throw new EvidenceInputException("--" + option, text, "one of " + string.Join(", ", choices));
    }

    /// <summary>True or false of an event column: 1 and 0, TRUE and FALSE, 2 and 1, or a chosen value by <c>--event column:value</c>.</summary>
    public bool[] Events(string column, string? value)
    {
        if (value is not null)
        {
            return [.. Table.Texts(column).Select(text => text == value)];
        }

        var numbers = Table.Numbers(column);
        if (numbers.Contains(2) && Array.TrueForAll(numbers, number => number is 1 or 2))
        {
            Say($"{column} holds 1 and 2: 2 was taken for a loss.");
            return [.. numbers.Select(number => number == 2)];
        }

        return [.. numbers.Select(number => number is 0 or 1 ? number == 1 : throw new EvidenceInputException(column, number, "1 for a loss and 0 for none (or --event column:value)"))];
    }

    /// <summary>The column and the value of an event option.</summary>
    public (string Column, string? Value) EventColumn(string option, string fallback)
    {
        if (Text(option) is { } text && !Table.Has(text) && text.LastIndexOf(':') is var at && at > 0 && Table.Has(text[..at]))
        {
            return (text[..at], text[(at + 1)..]);
        }

        return (Need(option, fallback), null);
    }

    /// <summary>Whole counts of 0 or more.</summary>
    public int[] Counts(string column) =>
        [.. Table.Numbers(column).Select(number => number >= 0 && number == Math.Floor(number) && number < int.MaxValue ? (int)number : throw new EvidenceInputException(column, number, "a whole count of 0 or more"))];

    /// <summary>
    /// Covariates by <c>--covariates a,b=B,c=C:level,d=A-48</c>: a column; a column under another name; 1 where a column holds a level; a formula of columns. A column of
    /// text alone becomes one covariate per level but the first.
    /// </summary>
    public (List<string> Names, List<double[]> Columns) Covariates(string option)
    {
        var names = new List<string>();
        var columns = new List<double[]>();
        foreach (var (name, source) in Parts(option))
        {
            if (Table.Has(source) && Table.IsNumeric(source))
            {
                Add(name, Table.Numbers(source));
            }
            else if (Table.Has(source))
            {
                foreach (var level in Table.Texts(source).Distinct().Order(GroupOrder.Instance).Skip(1))
                {
                    Add($"{name}:{level}", Indicator(source, level));
                }
            }
            else if (LevelOf(source) is var (column, level))
            {
                Add(name, Indicator(column, level));
            }
            else
            {
                Add(name, Computed(source));
            }
        }

        return (names, columns);

        void Add(string name, double[] values)
        {
            if (names.Contains(name))
            {
                throw new EvidenceInputException("--" + option, name, "a name for each covariate, used once");
            }

            names.Add(name);
            columns.Add(values);
        }
    }

    /// <summary>The columns a covariate option uses.</summary>
    public IReadOnlyList<string> CovariateColumns(string option) =>
        [.. Parts(option).SelectMany(part => Table.Has(part.Source) ? [part.Source] : LevelOf(part.Source) is var (column, _) ? [column] : CurveFormula.Parse(part.Source).Names)];

    public void Add(string method, string group, string quantity, double? value, string? note = null)
    {
        if (value is { } number && double.IsNaN(number))
        {
            value = null;
            note ??= "not defined";
        }

        _quantities.Add(new EvidenceQuantity(method, group, quantity, value, note));
    }

    public void Say(string? sentence)
    {
        if (sentence is not null && !_says.Contains(sentence))
        {
            _says.Add(sentence);
        }
    }

    public void Assume(string sentence) => _assumptions.Add(sentence);

    public EvidenceAnswer Answer() => new() { Method = _method.Name, N = Table.Count, Quantities = _quantities, Says = _says, Assumptions = _assumptions };

    /// <summary>A number as it stands in a name: 0.0001, 30, 1e-05.</summary>
    public static string Print(double number)
    {
        var text = number.ToString("0.################", CultureInfo.InvariantCulture);
        return number != 0 && Math.Abs(number) < 1e-4 ? number.ToString("0.###############e-00", CultureInfo.InvariantCulture) : text;
    }

    private List<(string Name, string Source)> Parts(string option)
    {
        var parts = new List<(string, string)>();
        foreach (var part in (Text(option) ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var at = part.IndexOf('=', StringComparison.Ordinal);
            parts.Add(at > 0 ? (part[..at].Trim(), part[(at + 1)..].Trim()) : (part, part));
        }

        return parts;
    }

    private (string Column, string Level)? LevelOf(string source)
    {
        var at = source.IndexOf(':', StringComparison.Ordinal);
        if (at <= 0 || !Table.Has(source[..at]))
        {
            return null;
        }

        var level = source[(at + 1)..];
        return Table.Texts(source[..at]).Contains(level)
            ? (source[..at], level)
            : throw new EvidenceInputException("covariate", source, $"a level of {source[..at]}: " + string.Join(", ", Table.Texts(source[..at]).Distinct().Take(20)));
    }

    private double[] Indicator(string column, string level) => [.. Table.Texts(column).Select(text => text == level ? 1.0 : 0)];

    private double[] Computed(string source)
    {
        var formula = CurveFormula.Parse(source);
        foreach (var name in formula.Names.Where(name => !Table.Has(name)))
        {
            throw new EvidenceInputException("covariate", source, "columns of the table: " + string.Join(", ", Table.Columns));
        }

        var inputs = formula.Names.Select(Table.Numbers).ToArray();
        var result = new double[Table.Count];
        var row = new double[inputs.Length];
        for (var i = 0; i < result.Length; i++)
        {
            for (var j = 0; j < row.Length; j++)
            {
                row[j] = inputs[j][i];
            }

            result[i] = formula.Evaluate(row, []);
        }

        return result;
    }
}
