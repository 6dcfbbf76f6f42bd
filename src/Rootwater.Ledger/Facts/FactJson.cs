using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Facts;

/// <summary>How facts and the values in projections are written as JSON. Amounts are objects by name, so that a new component moves no old number.</summary>
public static class FactJson
{
    public static JsonSerializerOptions Options { get; } = Make();

    public static string Write<T>(T value) => JsonSerializer.Serialize(value, Options);

    public static T Read<T>(string json) => JsonSerializer.Deserialize<T>(json, Options) ?? throw new JsonException($"Nothing where a {typeof(T).Name} was expected.");

    private static JsonSerializerOptions Make()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web)
        {
            // What follows from the rest is computed again when read.
            IgnoreReadOnlyProperties = true,
            // What a concentrate weighs is kept in tuples, whose parts are fields.
            IncludeFields = true,
            // An open-ended band has an infinite end.
            NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
            Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        };
        options.Converters.Add(new JsonStringEnumConverter());
        options.Converters.Add(new ComponentAmountsConverter());
        options.Converters.Add(new NutrientAmountsConverter());
        options.Converters.Add(new DaySpanConverter());
        options.Converters.Add(new FactWhenConverter());
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }

    private sealed class ComponentAmountsConverter : JsonConverter<ComponentAmounts>
    {
        public override ComponentAmounts Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ComponentAmounts.From(ReadPairs<Component>(ref reader).ToList());

        public override void Write(Utf8JsonWriter writer, ComponentAmounts value, JsonSerializerOptions options) => WritePairs<Component>(writer, value.AsSpan());
    }

    private sealed class NutrientAmountsConverter : JsonConverter<NutrientAmounts>
    {
        public override NutrientAmounts Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            NutrientAmounts.From(ReadPairs<Nutrient>(ref reader).ToList());

        public override void Write(Utf8JsonWriter writer, NutrientAmounts value, JsonSerializerOptions options) => WritePairs<Nutrient>(writer, value.AsSpan());
    }

    /// <summary>"2026-03-14", or both ends of the span with a stroke between (ISO 8601 interval).</summary>
    private sealed class DaySpanConverter : JsonConverter<DaySpan>
    {
        private const string Day = "yyyy-MM-dd";

        public override DaySpan Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var text = reader.GetString() ?? throw new JsonException("A span of days is a text.");
            var stroke = text.IndexOf('/', StringComparison.Ordinal);
            return stroke < 0 ? DaySpan.On(Parse(text)) : new DaySpan(Parse(text[..stroke]), Parse(text[(stroke + 1)..]));
        }

        public override void Write(Utf8JsonWriter writer, DaySpan value, JsonSerializerOptions options) => writer.WriteStringValue(
            value.IsOneDay ? Text(value.Earliest) : $"{Text(value.Earliest)}/{Text(value.Latest)}");

        private static string Text(DateOnly day) => day.ToString(Day, CultureInfo.InvariantCulture);

        private static DateOnly Parse(string text) => DateOnly.TryParseExact(text, Day, CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : throw new JsonException($"\"{text}\" is not a day.");
    }

    /// <summary>As exactly as it is known, then the zone: "2026-03-14T08:05 Europe/Vienna", "2026-03-14 UTC", "2026-03 UTC", "2026 UTC".</summary>
    private sealed class FactWhenConverter : JsonConverter<FactWhen>
    {
        public override FactWhen Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var text = reader.GetString() ?? throw new JsonException("A time is a text.");
            var space = text.IndexOf(' ', StringComparison.Ordinal);
            return space > 0 && FactWhen.TryParse(text[..space], text[(space + 1)..], out var when) ? when : throw new JsonException($"\"{text}\" is not a time with its zone.");
        }

        public override void Write(Utf8JsonWriter writer, FactWhen value, JsonSerializerOptions options) => writer.WriteStringValue($"{value.ToText()} {value.Zone}");
    }

    private static List<(TName, double)> ReadPairs<TName>(ref Utf8JsonReader reader) where TName : struct, Enum
    {
        var pairs = new List<(TName, double)>(Names<TName>.All.Length);
        if (reader.TokenType != JsonTokenType.StartObject)
        {
            throw new JsonException($"Amounts of {typeof(TName).Name} are an object by name.");
        }

        var next = 0;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            var name = Names<TName>.Read(ref reader, ref next);
            reader.Read();
            pairs.Add((name, reader.GetDouble()));
        }

        return pairs;
    }

    /// <summary>Names as they stand in JSON.</summary>
    private static class Names<TName> where TName : struct, Enum
    {
        public static readonly (TName Name, byte[] Utf8)[] All = [.. Enum.GetValues<TName>().Select(name => (name, System.Text.Encoding.UTF8.GetBytes(name.ToString())))];

        /// <summary>The name that stands there; they are written in order, so it is sought from where the last one was.</summary>
        public static TName Read(ref Utf8JsonReader reader, ref int next)
        {
            for (var tried = 0; tried < All.Length; tried++)
            {
                var (name, utf8) = All[next];
                next = (next + 1) % All.Length;
                if (reader.ValueTextEquals(utf8))
                {
                    return name;
                }
            }

            throw new JsonException($"No {typeof(TName).Name} is called \"{reader.GetString()}\".");
        }
    }

    private static void WritePairs<TName>(Utf8JsonWriter writer, ReadOnlySpan<double> amounts) where TName : struct, Enum
    {
        writer.WriteStartObject();
        foreach (var name in Enum.GetValues<TName>())
        {
            var amount = amounts[Convert.ToInt32(name, System.Globalization.CultureInfo.InvariantCulture)];
            if (amount != 0)
            {
                writer.WriteNumber(name.ToString(), amount);
            }
        }

        writer.WriteEndObject();
    }
}
