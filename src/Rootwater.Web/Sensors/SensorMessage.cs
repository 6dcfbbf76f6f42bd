using System.Globalization;
using System.Text.Json;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Sensors;

/// <summary>What a probe sent, in the units things are kept in. What is null was not sent.</summary>
/// <param name="Of">What was read.</param>
/// <param name="PlantNumber">Of a pot: the number on its plant's tag.</param>
/// <param name="Place">Of air and light: the place's name as it stands in a topic ("shelf-2").</param>
/// <param name="Values">By field of docs/guide/sensors.md.</param>
/// <param name="At">When, if the probe keeps a clock.</param>
public sealed record SensorMessage(ReadingOf Of, int? PlantNumber, string? Place, IReadOnlyDictionary<string, double> Values, DateTimeOffset? At)
{
    /// <summary>Field, lowest and highest value, and whether it belongs to a pot or to a place.</summary>
    private static readonly Dictionary<string, (double Low, double High, bool Pot, bool Place)> s_fields = new(StringComparer.Ordinal)
    {
        ["ec_us_cm"] = (0, 50_000, true, false),
        ["ph"] = (0, 14, true, false),
        ["celsius"] = (-20, 60, true, true),
        ["level_percent"] = (0, 100, true, false),
        ["humidity_percent"] = (0, 100, false, true),
        ["ppfd"] = (0, 3000, false, true),
        ["lux"] = (0, 200_000, false, true),
    };

    /// <summary>
    /// Reads a message. Topics: {prefix}/plant/{number}/{reservoir|runoff|soak} and {prefix}/place/{name}/air with a JSON object, or one
    /// level deeper with a field's name and a plain number.
    /// </summary>
    /// <returns>The message, or why it is none.</returns>
    public static (SensorMessage? Message, string? Why) Read(string prefix, string topic, string payload)
    {
        var levels = topic.Split('/');
        if (!topic.StartsWith(prefix + "/", StringComparison.Ordinal))
            return (null, $"the topic does not begin with {prefix}/.");
        var at = prefix.Split('/').Length;
        if (levels.Length - at is not (3 or 4))
            return (null, "a topic has three levels behind its prefix, or four with a field.");
        var (kind, name, what) = (levels[at], levels[at + 1], levels[at + 2]);
        int? number = null;
        ReadingOf of;
        if (kind == "plant")
        {
            if (!int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var tag) || tag < 1)
                return (null, $"\"{name}\" is no number of a plant.");
            number = tag;
            if (!(what is "reservoir" or "runoff" or "soak") || !Enum.TryParse(what, true, out of))
                return (null, $"\"{what}\" is none of reservoir, runoff, soak.");
        }
        else if (kind == "place" && what == "air")
        {
            of = ReadingOf.Air;
        }
        else
        {
            return (null, "it is neither of plant/{number}/… nor of place/{name}/air.");
        }

        var values = new Dictionary<string, double>(StringComparer.Ordinal);
        DateTimeOffset? when = null;
        if (levels.Length - at == 4)
        {
            if (!double.TryParse(payload.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
                return (null, $"\"{Short(payload)}\" is no number.");
            values[levels[at + 3]] = value;
        }
        else if (Json(payload, values, ref when) is { } wrong)
        {
            return (null, wrong);
        }

        foreach (var (field, value) in values)
        {
            if (!s_fields.TryGetValue(field, out var known) || !(number is null ? known.Place : known.Pot))
                return (null, $"\"{field}\" is no field of {(number is null ? "a place" : "a pot")}.");
            if (!(value >= known.Low && value <= known.High))
                return (null, string.Create(CultureInfo.InvariantCulture, $"{field} {value} is not between {known.Low} and {known.High}."));
        }

        return values.Count == 0 ? (null, "nothing was read.") : (new SensorMessage(of, number, number is null ? name : null, values, when), null);
    }

    /// <summary>A place's name as it stands in a topic: lower case, words joined by hyphens.</summary>
    public static string TopicName(string place) => string.Join('-', place.ToLowerInvariant().Split([' ', '/', '+', '#', ','], StringSplitOptions.RemoveEmptyEntries));

    public double? this[string field] => Values.TryGetValue(field, out var value) ? value : null;

    private static string? Json(string payload, Dictionary<string, double> values, ref DateTimeOffset? when)
    {
        try
        {
            using var json = JsonDocument.Parse(payload);
            if (json.RootElement.ValueKind != JsonValueKind.Object)
                return "the payload is no JSON object.";
            foreach (var field in json.RootElement.EnumerateObject())
            {
                if (field.Name == "at")
                {
                    if (field.Value.ValueKind != JsonValueKind.String || !field.Value.TryGetDateTimeOffset(out var at))
                        return "\"at\" is no ISO 8601 time with its offset.";
                    when = at;
                }
                else if (field.Value.ValueKind == JsonValueKind.Number)
                {
                    values[field.Name] = field.Value.GetDouble();
                }
                else if (field.Value.ValueKind != JsonValueKind.Null)
                {
                    return $"\"{field.Name}\" is no number.";
                }
            }

            return null;
        }
        catch (JsonException)
        {
            return $"\"{Short(payload)}\" is no JSON.";
        }
    }

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";
}
