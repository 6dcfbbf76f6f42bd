using System.Text.Json;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Archive;

/// <summary>A fact as a line of JSON, with everything the ledger knows of it; its payload byte for byte as it was written.</summary>
internal static class FactLine
{
    private static readonly string[] s_names = ["id", "position", "kind", "version", "subject", "precision", "earliest", "latest", "zone", "recorded", "who", "device", "sequence", "corrects", "payload"];

    public static void Write(Utf8JsonWriter writer, Fact fact)
    {
        writer.WriteStartObject();
        writer.WriteString("id", fact.Id);
        writer.WriteNumber("position", fact.Position);
        writer.WriteString("kind", fact.Kind);
        writer.WriteNumber("version", fact.Version);
        writer.WriteString("subject", fact.SubjectId);
        writer.WriteString("precision", fact.Precision.ToString());
        writer.WriteString("earliest", fact.Earliest);
        writer.WriteString("latest", fact.Latest);
        writer.WriteString("zone", fact.Zone);
        writer.WriteNumber("recorded", fact.RecordedMicroseconds);
        writer.WriteString("who", fact.Who);
        writer.WriteString("device", fact.Device);
        writer.WriteNumber("sequence", fact.Sequence);
        if (fact.Corrects is { } corrects)
        {
            writer.WriteString("corrects", corrects);
        }

        writer.WritePropertyName("payload");
        writer.WriteRawValue(fact.Payload);
        writer.WriteEndObject();
    }

    /// <exception cref="LedgerProblem">It is not a fact.</exception>
    public static Fact Read(string line, string where)
    {
        try
        {
            using var json = JsonDocument.Parse(line, new JsonDocumentOptions { MaxDepth = 32 });
            var root = json.RootElement;
            foreach (var property in root.EnumerateObject())
            {
                if (!s_names.Contains(property.Name))
                {
                    throw new FormatException($"nothing is called \"{property.Name}\"");
                }
            }

            var fact = new Fact
            {
                Id = root.GetProperty("id").GetGuid(),
                Position = root.GetProperty("position").GetInt64(),
                Kind = Text("kind"),
                Version = root.GetProperty("version").GetInt32(),
                SubjectId = root.GetProperty("subject").GetGuid(),
                Precision = Enum.TryParse<WhenPrecision>(Text("precision"), out var precision) && Enum.IsDefined(precision) ? precision : throw new FormatException("its precision is none"),
                Earliest = Text("earliest"),
                Latest = Text("latest"),
                Zone = Text("zone"),
                RecordedMicroseconds = root.GetProperty("recorded").GetInt64(),
                Who = Text("who"),
                Device = Text("device"),
                Sequence = root.GetProperty("sequence").GetInt64(),
                Corrects = root.TryGetProperty("corrects", out var corrects) ? corrects.GetGuid() : null,
                Payload = root.GetProperty("payload").GetRawText(),
            };
            // Read once, so that a date no page could show is refused here.
            return fact.When.Earliest <= fact.When.Latest ? fact : throw new FormatException("it ends before it begins");

            string Text(string name) => root.GetProperty(name).GetString() ?? throw new FormatException($"\"{name}\" is empty");
        }
        catch (Exception wrong) when (wrong is JsonException or FormatException or KeyNotFoundException or InvalidOperationException or ArgumentException)
        {
            throw new EntryException("archive", where, $"a fact in every line ({wrong.Message})");
        }
    }
}
