using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>A fact as it comes from outside: the phone's queue, a program, a file.</summary>
public sealed record FactEntry
{
    /// <summary>UUIDv7 made by whoever writes it; sent twice, it is kept once.</summary>
    public required Guid Id { get; init; }

    /// <summary>As in the list of kinds: "leaf.marked".</summary>
    public required string Kind { get; init; }
    public required Guid SubjectId { get; init; }

    /// <summary>The fields of the kind.</summary>
    public required JsonElement Payload { get; init; }

    /// <summary>Null for now.</summary>
    public EntryWhen? When { get; init; }
    public Guid? Corrects { get; init; }
    public long Sequence { get; init; }

    private static readonly JsonSerializerOptions s_strict = new(FactJson.Options) { UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow };

    /// <param name="zone">That of the bench's clock.</param>
    /// <exception cref="EntryException">Names the field that cannot be read.</exception>
    public NewFact ToFact(string zone)
    {
        if (Kind is null || !FactKinds.All.TryGetValue(Kind, out var known))
        {
            throw new EntryException("kind", Kind, $"one of {string.Join(", ", FactKinds.All.Keys.Order(StringComparer.Ordinal))}");
        }

        try
        {
            return new NewFact
            {
                Id = Id,
                SubjectId = SubjectId,
                Payload = (FactPayload?)Payload.Deserialize(known.Type, s_strict) ?? throw new EntryException("payload", null, $"the fields of {Kind}"),
                When = When?.ToWhen(zone),
                Corrects = Corrects,
                Sequence = Sequence,
            };
        }
        catch (JsonException unread)
        {
            throw new EntryException(
                $"payload{unread.Path?.TrimStart('$')}", null, $"the fields of {Kind}, each of its own type: {string.Join(", ", known.Type.GetProperties().Where(property => property.CanWrite).Select(property => JsonNamingPolicy.CamelCase.ConvertName(property.Name)))}");
        }
    }
}

/// <summary>When something was, as exactly as it is known: exactly one of the four is there, on the bench's own clock.</summary>
public sealed record EntryWhen
{
    /// <summary>"2026-03-14T08:05".</summary>
    public string? Minute { get; init; }

    /// <summary>"2026-03-14".</summary>
    public string? Day { get; init; }

    /// <summary>"2026-03".</summary>
    public string? Month { get; init; }

    /// <summary>"2026".</summary>
    public string? Year { get; init; }

    public static EntryWhen Of(FactWhen when) => when.Precision switch
    {
        WhenPrecision.Minute => new EntryWhen { Minute = when.ToText() },
        WhenPrecision.Day => new EntryWhen { Day = when.ToText() },
        WhenPrecision.Month => new EntryWhen { Month = when.ToText() },
        _ => new EntryWhen { Year = when.ToText() },
    };

    /// <exception cref="EntryException">None, several, or not a date.</exception>
    public FactWhen ToWhen(string zone)
    {
        var given = new[] { (Minute, WhenPrecision.Minute), (Day, WhenPrecision.Day), (Month, WhenPrecision.Month), (Year, WhenPrecision.Year) }.Where(text => text.Item1 is not null).ToList();
        return given is [var (text, precision)] && FactWhen.TryParse(text, zone, out var when) && when.Precision == precision
            ? when
            : throw new EntryException("when", string.Join(", ", given.Select(pair => pair.Item1)), "one of minute \"2026-03-14T08:05\", day \"2026-03-14\", month \"2026-03\", year \"2026\"");
    }
}
