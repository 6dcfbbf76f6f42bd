namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>Which column of somebody's file is which field of a table.</summary>
public sealed record CsvMapping
{
    /// <summary>"plants", or a kind of fact as "reading.taken".</summary>
    public required string Table { get; init; }

    /// <summary>Field → heading. What is left out is matched by name.</summary>
    public IReadOnlyDictionary<string, string> Columns { get; init; } = new Dictionary<string, string>();

    /// <summary>Field → the same text for every row.</summary>
    public IReadOnlyDictionary<string, string> Fixed { get; init; } = new Dictionary<string, string>();

    /// <summary>Whether a heading that is not named here stays out even where it has a field's name.</summary>
    public bool OnlyMapped { get; init; }

    /// <summary>Found by itself when null.</summary>
    public char? Separator { get; init; }

    /// <summary>A .NET format for dates that are not ISO 8601, as "dd.MM.yyyy".</summary>
    public string? DateFormat { get; init; }

    /// <summary>Field → index of its column, by the mapping and else by name, without regard to case, spaces and signs.</summary>
    /// <exception cref="EntryException">A heading or a field that is not there.</exception>
    public IReadOnlyDictionary<string, int> Resolve(IReadOnlyList<string> headings, IReadOnlyCollection<string> fields)
    {
        var problems = new List<EntryProblem>();
        var found = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var (said, heading) in Columns)
        {
            var field = FieldOf(said, fields) ?? said;
            var column = headings.ToList().FindIndex(name => string.Equals(name, heading, StringComparison.OrdinalIgnoreCase));
            if (!fields.Contains(field))
            {
                problems.Add(new EntryProblem("mapping", field, $"one of the fields {string.Join(", ", fields)}"));
            }
            else if (column < 0)
            {
                problems.Add(new EntryProblem("mapping", heading, $"one of the file's headings {string.Join(", ", headings)}"));
            }
            else
            {
                found[field] = column;
            }
        }

        problems.AddRange(Fixed.Keys.Where(field => FieldOf(field, fields) is null).Select(field => new EntryProblem("mapping", field, $"one of the fields {string.Join(", ", fields)}")));
        if (problems.Count > 0)
        {
            throw new EntryException(problems);
        }

        var taken = found.Values.ToHashSet();
        foreach (var field in fields.Where(field => !OnlyMapped && !found.ContainsKey(field) && FixedFor(field) is null))
        {
            var column = headings.ToList().FindIndex(name => Bare(name) == Bare(field));
            if (column >= 0 && taken.Add(column))
            {
                found[field] = column;
            }
        }

        return found;
    }

    /// <summary>The text that a field has in every row, if it has one.</summary>
    public string? FixedFor(string field) => Fixed.FirstOrDefault(pair => Bare(pair.Key) == Bare(field)).Value;

    private static string? FieldOf(string said, IReadOnlyCollection<string> fields) => fields.FirstOrDefault(field => Bare(field) == Bare(said));

    private static string Bare(string name) => string.Concat(name.Where(char.IsLetterOrDigit)).ToLowerInvariant();
}

/// <summary>What a file would do to the bench; nothing is written yet.</summary>
public sealed record CsvReport
{
    public required string Table { get; init; }

    /// <summary>Rows of the file.</summary>
    public required int Rows { get; init; }

    /// <summary>Rows that say what the bench holds already.</summary>
    public required int Unchanged { get; init; }

    /// <summary>Field → heading, as it was understood.</summary>
    public required IReadOnlyDictionary<string, string> Mapped { get; init; }

    /// <summary>Headings that no field takes.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>How many facts would be written.</summary>
    public required int Facts { get; init; }

    /// <summary>What would be written, in order; the first 500.</summary>
    public required IReadOnlyList<CsvChange> Changes { get; init; }

    /// <summary>What is in the way; with any of these nothing is written.</summary>
    public required IReadOnlyList<CsvProblem> Problems { get; init; }

    /// <summary>Whether it was written.</summary>
    public bool Written { get; init; }
}

/// <summary>One fact that a row would add.</summary>
public sealed record CsvChange(int Row, string Kind, string When, string Words);

/// <summary>A cell in the way.</summary>
public sealed record CsvProblem(int Row, string Field, string? Value, string Accepted);
