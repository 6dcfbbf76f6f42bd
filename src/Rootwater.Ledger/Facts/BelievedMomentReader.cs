using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Growing;

namespace Rootwater.Ledger.Facts;

/// <summary>
/// Reads the moments of recorded forecasts as <see cref="FactJson"/> writes them. Ten years of one plant are five hundred forecasts of eight moments with four bands each: the general way,
/// which boxes every number for a constructor, takes longer than the whole nutrient ledger may.
/// </summary>
internal sealed class BelievedMomentReader : JsonConverter<BelievedMoment>
{
    /// <summary>For reading a forecast; whatever else there is of it is read the general way.</summary>
    public static JsonSerializerOptions Options { get; } = Make();

    public override BelievedMoment Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        var day = 0.0;
        Expected ph = default, ec = default, medium = default, reservoir = default;
        while (Member(ref reader))
        {
            if (reader.ValueTextEquals("day"u8))
            {
                day = Number(ref reader);
            }
            else if (reader.ValueTextEquals("ph"u8))
            {
                ph = Band(ref reader);
            }
            else if (reader.ValueTextEquals("ecMicrosiemensPerCm"u8))
            {
                ec = Band(ref reader);
            }
            else if (reader.ValueTextEquals("mediumLitres"u8))
            {
                medium = Band(ref reader);
            }
            else if (reader.ValueTextEquals("reservoirLitres"u8))
            {
                reservoir = Band(ref reader);
            }
            else
            {
                reader.Skip();
            }
        }

        return new BelievedMoment(day, ph, ec, medium, reservoir);
    }

    public override void Write(Utf8JsonWriter writer, BelievedMoment value, JsonSerializerOptions options) => throw new NotSupportedException("Facts are written by FactJson.");

    private static Expected Band(ref Utf8JsonReader reader)
    {
        reader.Read();
        var (low, value, high) = (0.0, 0.0, 0.0);
        while (Member(ref reader))
        {
            if (reader.ValueTextEquals("low"u8))
            {
                low = Number(ref reader);
            }
            else if (reader.ValueTextEquals("value"u8))
            {
                value = Number(ref reader);
            }
            else if (reader.ValueTextEquals("high"u8))
            {
                high = Number(ref reader);
            }
            else
            {
                reader.Skip();
            }
        }

        return new Expected(low, value, high);
    }

    // From an object's beginning or a member's value to the name of the next member; false at the end of the object.
    private static bool Member(ref Utf8JsonReader reader) => reader.Read() && reader.TokenType == JsonTokenType.PropertyName;

    // An open-ended band has an infinite end, which JSON has no number for.
    private static double Number(ref Utf8JsonReader reader)
    {
        reader.Read();
        return reader.TokenType != JsonTokenType.String ? reader.GetDouble()
            : reader.ValueTextEquals("Infinity"u8) ? double.PositiveInfinity
            : reader.ValueTextEquals("-Infinity"u8) ? double.NegativeInfinity
            : double.NaN;
    }

    private static JsonSerializerOptions Make()
    {
        var options = new JsonSerializerOptions(FactJson.Options);
        options.Converters.Insert(0, new BelievedMomentReader());
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }
}
