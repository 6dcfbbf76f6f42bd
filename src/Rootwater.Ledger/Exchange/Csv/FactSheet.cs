using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>
/// One kind of fact as a table: a row is a fact, a column a field of what it says; a field made of several (a pot, a provenance) has a column for each, "pot.medium".
/// What has no flat shape (the card of a can) stands in its cell as JSON.
/// </summary>
public sealed class FactSheet
{
    /// <summary>What every fact has besides what it says, as columns before the others; "clock" is the zone that its time is of.</summary>
    public static readonly IReadOnlyList<string> Stamps = ["id", "when", "clock", "subject", "corrects", "sequence", "recorded", "who", "device", "ledgerPosition"];

    private readonly Type _type;
    private readonly List<SheetField> _fields;

    private FactSheet(string kind, Type type)
    {
        (Kind, _type) = (kind, type);
        _fields = [.. FieldsOf(type)];
    }

    public string Kind { get; }

    /// <summary>Columns of what it says.</summary>
    public IReadOnlyList<SheetField> Fields => _fields;

    public IEnumerable<string> Columns => Stamps.Concat(_fields.Select(one => one.Name));

    public static FactSheet? Of(string kind) => FactKinds.All.TryGetValue(kind, out var known) ? new FactSheet(kind, known.Type) : null;

    public static IEnumerable<FactSheet> All() => FactKinds.All.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => new FactSheet(pair.Key, pair.Value.Type));

    /// <summary>A fact's cells, in the order of <see cref="Columns"/>.</summary>
    public string[] Write(Fact fact)
    {
        var payload = JsonSerializer.SerializeToNode(FactKinds.Read(fact.Kind, fact.Version, fact.Payload), _type, FactJson.Options)!.AsObject();
        return
        [
            fact.Id.ToString(),
            CsvWhen.Write(fact.When),
            fact.Zone,
            fact.SubjectId.ToString(),
            fact.Corrects?.ToString() ?? "",
            Text(fact.Sequence),
            Text(fact.RecordedMicroseconds),
            CsvCell.Write(fact.Who),
            CsvCell.Write(fact.Device),
            Text(fact.Position),
            .. _fields.Select(field => field.Write(payload)),
        ];

        static string Text(long number) => number.ToString(System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>What a row says.</summary>
    /// <param name="cell">The text of a column, null where it is empty or not there; guards already taken off.</param>
    /// <param name="refuse">Told of every cell that cannot be: column, text, what is accepted.</param>
    /// <returns>Null after refusing.</returns>
    public FactPayload? Read(Func<string, string?> cell, Action<string, string?, string> refuse)
    {
        var (payload, refused) = (new JsonObject(), false);
        foreach (var field in _fields)
        {
            try
            {
                field.Read(payload, cell(field.Name));
            }
            catch (Exception wrong) when (wrong is FormatException or JsonException or OverflowException)
            {
                refused = true;
                refuse(field.Name, cell(field.Name), wrong is JsonException ? "JSON as it was written out" : wrong.Message);
            }
        }

        if (refused)
        {
            return null;
        }

        _fields.ForEach(one => one.FillUp(payload));

        try
        {
            return (FactPayload?)payload.Deserialize(_type, FactJson.Options);
        }
        catch (JsonException wrong)
        {
            var name = wrong.Path?.TrimStart('$', '.') is { Length: > 0 } path ? path : "row";
            refuse(name, cell(name), _fields.FirstOrDefault(field => field.Name == name)?.Accepted ?? $"what belongs there ({wrong.Message.Split(" Path:")[0]})");
            return null;
        }
    }

    private static IEnumerable<SheetField> FieldsOf(Type type)
    {
        foreach (var property in FactJson.Options.GetTypeInfo(type).Properties.Where(property => property.Set is not null || property.AssociatedParameter is not null))
        {
            var inner = FactJson.Options.GetTypeInfo(property.PropertyType);
            var parts = inner.Kind == JsonTypeInfoKind.Object && !SheetField.IsScalar(property.PropertyType)
                ? inner.Properties.Where(part => part.Set is not null || part.AssociatedParameter is not null).ToList() : [];
            if (parts.Count > 0 && parts.All(part => SheetField.IsScalar(part.PropertyType)))
            {
                foreach (var part in parts)
                {
                    yield return new SheetField(property.Name, part.Name, part.PropertyType);
                }
            }
            else
            {
                yield return new SheetField(property.Name, null, property.PropertyType);
            }
        }
    }
}

/// <summary>A column of a <see cref="FactSheet"/>: a field, or a part of one.</summary>
public sealed class SheetField(string owner, string? part, Type type)
{
    private readonly Type _bare = Nullable.GetUnderlyingType(type) ?? type;

    public string Name { get; } = part is null ? owner : $"{owner}.{part}";

    /// <summary>The bare type: of a number, a text, an id, a date, or a whole that stands as JSON.</summary>
    public Type Type => _bare;

    /// <summary>What may stand here, in words.</summary>
    public string Accepted => _bare switch
    {
        { IsEnum: true } => $"one of {string.Join(", ", Enum.GetNames(_bare))}",
        _ when _bare == typeof(Guid) => "an id (UUID)",
        _ when _bare == typeof(bool) => "true or false",
        _ when _bare == typeof(string) => "a text",
        _ when _bare == typeof(DateOnly) => "a day as 2026-03-14",
        _ when IsNumber(_bare) => "a number",
        _ => "JSON",
    };

    public static bool IsScalar(Type type)
    {
        var bare = Nullable.GetUnderlyingType(type) ?? type;
        return bare.IsEnum || IsNumber(bare) || bare == typeof(string) || bare == typeof(Guid) || bare == typeof(bool) || bare == typeof(DateOnly) || bare == typeof(DateTime);
    }

    internal string Write(JsonObject payload) => (part is null ? payload[owner] : payload[owner]?[part]) switch
    {
        null => "",
        JsonValue value when _bare == typeof(string) => CsvCell.Write(value.GetValue<string>()),
        JsonValue value when value.GetValueKind() == JsonValueKind.String => value.GetValue<string>(),
        var node => node.ToJsonString(FactJson.Options),
    };

    internal void Read(JsonObject payload, string? cell)
    {
        var node = cell is null ? null : Node(cell);
        if (part is null)
        {
            if (node is not null || IsNullable())
            {
                payload[owner] = node;
            }
        }
        else if (node is not null)
        {
            if (payload[owner] is not JsonObject whole)
            {
                payload[owner] = whole = [];
            }

            whole[part] = node;
        }
    }

    /// <summary>A part that may be nothing stands as nothing where its whole is there.</summary>
    internal void FillUp(JsonObject payload)
    {
        if (part is not null && IsNullable() && payload[owner] is JsonObject whole && !whole.ContainsKey(part))
        {
            whole[part] = null;
        }
    }

    // Left out, a required field is named by the reader; a null would be said to be of the wrong kind.
    private bool IsNullable() => !type.IsValueType || Nullable.GetUnderlyingType(type) is not null;

    private JsonNode? Node(string cell) => _bare switch
    {
        _ when _bare == typeof(string) => JsonValue.Create(cell),
        _ when _bare == typeof(bool) => cell.Trim().ToLowerInvariant() switch
        {
            "true" or "yes" or "1" => JsonValue.Create(true),
            "false" or "no" or "0" => JsonValue.Create(false),
            _ => throw new FormatException(Accepted),
        },
        _ when _bare == typeof(Guid) => Guid.TryParse(cell, out var id) ? JsonValue.Create(id) : throw new FormatException(Accepted),
        { IsEnum: true } => Enum.TryParse(_bare, cell.Trim().Replace(" ", "", StringComparison.Ordinal), ignoreCase: true, out var value) && Enum.IsDefined(_bare, value) && !char.IsDigit(cell.Trim()[0])
            ? JsonValue.Create(value.ToString())
            : throw new FormatException(Accepted),
        _ when IsNumber(_bare) => CsvNumber.Read(cell),
        _ when _bare == typeof(DateOnly) || _bare == typeof(DateTime) => JsonValue.Create(cell.Trim()),
        _ => JsonNode.Parse(cell, documentOptions: new JsonDocumentOptions { MaxDepth = 32 }),
    };

    private static bool IsNumber(Type type) => type == typeof(int) || type == typeof(long) || type == typeof(double) || type == typeof(decimal);
}
