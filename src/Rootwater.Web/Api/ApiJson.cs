using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;

namespace Rootwater.Web.Api;

/// <summary>How the API writes what the floors below compute: names in camel case, amounts by name and only where there are any.</summary>
public static class ApiJson
{
    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = new Names();
        options.DictionaryKeyPolicy = JsonNamingPolicy.CamelCase;
        options.IncludeFields = true; // Concentrate recipes carry tuples.
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow; // A misspelt field is an error, never ignored.
        options.NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals; // An open-ended band ends at "Infinity".
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false));
        options.Converters.Add(new ComponentAmountsConverter());
        options.Converters.Add(new NutrientAmountsConverter());
        options.Converters.Add(new TemperatureConverter());
    }

    /// <summary>Camel case, but pH is written as everybody writes it.</summary>
    private sealed class Names : JsonNamingPolicy
    {
        public override string ConvertName(string name) => name.StartsWith("PH", StringComparison.Ordinal) ? "pH" + name[2..] : CamelCase.ConvertName(name);
    }

    private sealed class ComponentAmountsConverter : JsonConverter<ComponentAmounts>
    {
        public override ComponentAmounts Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ComponentAmounts.From(JsonSerializer.Deserialize<Dictionary<Component, double>>(ref reader, options)!.Select(pair => (pair.Key, pair.Value)));

        public override void Write(Utf8JsonWriter writer, ComponentAmounts value, JsonSerializerOptions options)
        {
            writer.WriteStartObject();
            foreach (var component in value.Present())
                writer.WriteNumber(JsonNamingPolicy.CamelCase.ConvertName(component.ToString()), value[component]);
            writer.WriteEndObject();
        }
    }

    private sealed class NutrientAmountsConverter : JsonConverter<NutrientAmounts>
    {
        public override NutrientAmounts Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            NutrientAmounts.From(JsonSerializer.Deserialize<Dictionary<Nutrient, double>>(ref reader, options)!.Select(pair => (pair.Key, pair.Value)));

        public override void Write(Utf8JsonWriter writer, NutrientAmounts value, JsonSerializerOptions options)
        {
            writer.WriteStartObject();
            foreach (var nutrient in Enum.GetValues<Nutrient>().Where(nutrient => value[nutrient] != 0))
                writer.WriteNumber(JsonNamingPolicy.CamelCase.ConvertName(nutrient.ToString()), value[nutrient]);
            writer.WriteEndObject();
        }
    }

    /// <summary>A temperature is a number in °C.</summary>
    private sealed class TemperatureConverter : JsonConverter<Temperature>
    {
        public override Temperature Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => Temperature.FromCelsius(reader.GetDouble());

        public override void Write(Utf8JsonWriter writer, Temperature value, JsonSerializerOptions options) => writer.WriteNumberValue(value.Celsius);
    }
}
