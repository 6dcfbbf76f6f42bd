using System.Globalization;
using System.Text.Json;

namespace Rootwater.Growing.Pots;

/// <summary>The fields of one JSON object, read by name, so that every complaint names its path and no unknown field goes unnoticed.</summary>
internal sealed class JsonFields
{
    private readonly JsonElement _element;
    private readonly string _path;
    private readonly HashSet<string> _read = new(StringComparer.Ordinal);

    public JsonFields(JsonElement element, string path)
    {
        _element = element;
        _path = path;
        if (element.ValueKind != JsonValueKind.Object)
        {
            throw new PotInputException(path.Length == 0 ? "request" : path, element.GetRawText(), "an object in braces");
        }
    }

    public string PathOf(string name) => _path.Length == 0 ? name : _path + "." + name;

    public IEnumerable<string> Names() => _element.EnumerateObject().Select(property => property.Name);

    public JsonFields Object(string name) => OptionalObject(name) ?? throw Missing(name, "an object in braces");

    public JsonFields? OptionalObject(string name) => Find(name) is { } value ? new JsonFields(value, PathOf(name)) : null;

    public IEnumerable<JsonFields> OptionalArray(string name)
    {
        if (Find(name) is not { } value)
        {
            return [];
        }

        return value.ValueKind == JsonValueKind.Array
            ? value.EnumerateArray().Select((one, i) => new JsonFields(one, string.Create(CultureInfo.InvariantCulture, $"{PathOf(name)}[{i}]"))).ToList()
            : throw new PotInputException(PathOf(name), value.GetRawText(), "a list in brackets");
    }

    public double? OptionalNumber(string name) => Find(name) is not { } value ? null
        : value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var number) && double.IsFinite(number) ? number
        : throw new PotInputException(PathOf(name), value.GetRawText(), "a number");

    public double Number(string name, double? otherwise = null) => OptionalNumber(name) ?? otherwise ?? throw Missing(name, "a number");

    public double NumberWithin(string name, double? otherwise, double low, double high)
    {
        var number = Number(name, otherwise);
        PotInputException.RequireWithin(PathOf(name), number, low, high, "");
        return number;
    }

    public string Text(string name, string? otherwise) => Find(name) is not { } value ? otherwise ?? throw Missing(name, "a text in quotes")
        : value.ValueKind == JsonValueKind.String ? value.GetString()!
        : throw new PotInputException(PathOf(name), value.GetRawText(), "a text in quotes");

    public T Choice<T>(string name, string? otherwise) where T : struct, Enum
    {
        var text = Text(name, otherwise);
        foreach (var value in Enum.GetValues<T>())
        {
            if (JsonNamingPolicy.CamelCase.ConvertName(value.ToString()) == text)
            {
                return value;
            }
        }

        throw new PotInputException(PathOf(name), text, "one of " + string.Join(", ", Enum.GetNames<T>().Select(JsonNamingPolicy.CamelCase.ConvertName)));
    }

    public void RequireAllRead()
    {
        foreach (var name in Names())
        {
            if (!_read.Contains(name))
            {
                throw new PotInputException(PathOf(name), "this field", "one of " + string.Join(", ", _read.Order(StringComparer.Ordinal)));
            }
        }
    }

    private JsonElement? Find(string name)
    {
        _read.Add(name);
        return _element.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null ? value : null;
    }

    private PotInputException Missing(string name, string accepted) => new(PathOf(name), null, accepted);
}
