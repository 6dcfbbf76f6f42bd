using System.Reflection;
using System.Text.Json;

namespace Rootwater.Ledger.Facts;

/// <summary>All kinds of fact this program knows, by the name they are stored under.</summary>
public static class FactKinds
{
    private static readonly Dictionary<Type, FactKindAttribute> s_byType = typeof(FactPayload).Assembly.GetTypes()
        .Where(type => type.IsSubclassOf(typeof(FactPayload)) && !type.IsAbstract)
        .ToDictionary(type => type, type => type.GetCustomAttribute<FactKindAttribute>()
            ?? throw new InvalidOperationException($"{type.Name} says no kind."));

    private static readonly Dictionary<string, (Type Type, int Version)> s_byName =
        s_byType.ToDictionary(pair => pair.Value.Kind, pair => (pair.Key, pair.Value.Version), StringComparer.Ordinal);

    /// <summary>Every kind with its payload type.</summary>
    public static IReadOnlyDictionary<string, (Type Type, int Version)> All => s_byName;

    /// <summary>The name a payload type is stored under.</summary>
    public static string NameOf<TPayload>() where TPayload : FactPayload => s_byType[typeof(TPayload)].Kind;

    public static (string Kind, int Version, string Json) Write(FactPayload payload)
    {
        var kind = s_byType[payload.GetType()];
        return (kind.Kind, kind.Version, JsonSerializer.Serialize(payload, payload.GetType(), FactJson.Options));
    }

    /// <summary>Reads a stored payload. A kind or version this program does not know is a newer program's work, never skipped silently.</summary>
    /// <exception cref="LedgerProblem">The kind or its version is unknown, or the payload cannot be read.</exception>
    public static FactPayload Read(string kind, int version, string json)
    {
        if (!s_byName.TryGetValue(kind, out var known) || version > known.Version)
        {
            throw new LedgerProblem(LedgerFault.NewerThanProgram,
                $"The ledger holds a fact of kind \"{kind}\", version {version}, that this Rootwater does not know. Use the newer Rootwater that wrote it.");
        }

        try
        {
            return (FactPayload)JsonSerializer.Deserialize(json, known.Type, known.Type == typeof(RootForecastBelieved) ? BelievedMomentReader.Options : FactJson.Options)!;
        }
        catch (JsonException inner)
        {
            throw new LedgerProblem(LedgerFault.Corrupt, $"A fact of kind \"{kind}\" cannot be read: {inner.Message} Restore the newest backup.", inner);
        }
    }
}
