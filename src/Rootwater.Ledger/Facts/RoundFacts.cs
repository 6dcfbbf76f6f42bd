using System.Text.Json.Serialization;

namespace Rootwater.Ledger.Facts;

/// <summary>A walk along the bench begins. Subject: the round.</summary>
[FactKind("round.begun", 1)]
public sealed record RoundBegun(Guid RoundId, DateOnly AsOf) : FactPayload;

/// <summary>The walk is over; what was not reached stays due. Subject: the round.</summary>
[FactKind("round.ended", 1)]
public sealed record RoundEnded(Guid RoundId, string? Note) : FactPayload;

/// <summary>What was poured into a pot.</summary>
public enum Pouring
{
    /// <summary>From a can.</summary>
    Feed,
    PlainWater,

    /// <summary>Plain water through from above until the salts are out.</summary>
    Leach,
}

/// <summary>A plant got its feed, water or leach. Subject: the plant.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="RoundId">The walk it was part of; null outside a round.</param>
/// <param name="What">Feed, water or leach.</param>
/// <param name="CanId">The can; only, and always, for a feed.</param>
/// <param name="WaterId">The water; null where not said, and for a feed.</param>
/// <param name="Millilitres">Above 0 to 20,000.</param>
/// <param name="Again">True: meant on top of the same tick from another device, which is otherwise taken for the same pouring told twice.</param>
[FactKind("plant.given", 1)]
public sealed record PlantGiven(
    Guid PlantId, Guid? RoundId, Pouring What, Guid? CanId, Guid? WaterId, double Millilitres, [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] bool? Again = null) : FactPayload;

/// <summary>Why a plant got nothing.</summary>
public enum SkipReason
{
    StillFull,
    Resting,
    NotReached,
    Other,
}

/// <summary>A plant was passed by on purpose. Subject: the plant.</summary>
[FactKind("plant.skipped", 1)]
public sealed record PlantSkipped(Guid PlantId, Guid? RoundId, SkipReason Reason, string? Note) : FactPayload;
