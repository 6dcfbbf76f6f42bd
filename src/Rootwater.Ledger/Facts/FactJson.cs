using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;

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

    private static List<(TName, double)> ReadPairs<TName>(ref Utf8JsonReader reader) where TName : struct, Enum
    {
        var pairs = new List<(TName, double)>();
        if (reader.TokenType != JsonTokenType.StartObject)
        {
            throw new JsonException($"Amounts of {typeof(TName).Name} are an object by name.");
        }

        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            var text = reader.GetString();
            if (!Enum.TryParse<TName>(text, out var name))
            {
                throw new JsonException($"No {typeof(TName).Name} is called \"{text}\".");
            }

            reader.Read();
            pairs.Add((name, reader.GetDouble()));
        }

        return pairs;
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
