namespace Rootwater.Ledger.Facts;

/// <summary>One dated fact as it stands in the ledger. Never changed and never removed: a correction is another fact.</summary>
public sealed class Fact
{
    /// <summary>UUIDv7 made by whoever created it; the idempotency key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Its place in the ledger: 1 and up without gaps, in the order facts were written.</summary>
    public required long Position { get; init; }

    /// <summary>What kind of fact, as <see cref="FactKinds"/> names it.</summary>
    public required string Kind { get; init; }

    /// <summary>Version of the payload's shape.</summary>
    public required int Version { get; init; }

    /// <summary>JSON.</summary>
    public required string Payload { get; init; }

    /// <summary>What it is about: the plant, the can, the lot.</summary>
    public required Guid SubjectId { get; init; }
    public required WhenPrecision Precision { get; init; }

    /// <summary>Local minute as text that sorts.</summary>
    public required string Earliest { get; init; }

    /// <summary>Local minute as text that sorts.</summary>
    public required string Latest { get; init; }

    /// <summary>IANA zone of the bench's clock.</summary>
    public required string Zone { get; init; }

    /// <summary>When it was written down: microseconds of UTC since 1970.</summary>
    public required long RecordedMicroseconds { get; init; }

    /// <summary>Whoever says so: a person or a program.</summary>
    public required string Who { get; init; }

    /// <summary>On what it was entered.</summary>
    public required string Device { get; init; }

    /// <summary>The device's own count.</summary>
    public required long Sequence { get; init; }

    /// <summary>The fact this one corrects or takes back.</summary>
    public Guid? Corrects { get; init; }

    public FactWhen When => FactWhen.FromStored(Precision, Earliest, Latest, Zone);
    public DateTimeOffset RecordedAt => DateTimeOffset.UnixEpoch.AddTicks(RecordedMicroseconds * TimeSpan.TicksPerMicrosecond);
}

/// <summary>A fact on its way into the ledger.</summary>
public sealed record NewFact
{
    public required Guid Id { get; init; }
    public required Guid SubjectId { get; init; }
    public required FactPayload Payload { get; init; }

    /// <summary>Null for now, on the bench's clock, to the minute.</summary>
    public FactWhen? When { get; init; }
    public Guid? Corrects { get; init; }

    /// <summary>The device's own count; 0 where it keeps none.</summary>
    public long Sequence { get; init; }
}

/// <summary>What a fact says. Each kind is a sealed record with a <see cref="FactKindAttribute"/>.</summary>
public abstract record FactPayload;

/// <summary>The name and version a payload is stored under. A change of shape takes a new version and an upgrade from the old one.</summary>
[AttributeUsage(AttributeTargets.Class, Inherited = false)]
public sealed class FactKindAttribute(string kind, int version) : Attribute
{
    public string Kind { get; } = kind;
    public int Version { get; } = version;
}
