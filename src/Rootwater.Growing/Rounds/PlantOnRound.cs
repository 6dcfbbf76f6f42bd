using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Rounds;

/// <summary>Everything that decides what a plant gets today.</summary>
public sealed record PlantOnRound
{
    public required Guid PlantId { get; init; }
    public required int Number { get; init; }
    public required string Kind { get; init; }
    public required IReadOnlyList<PlantState> States { get; init; }

    /// <summary>With the day of its last feed and the plan's days between feeds.</summary>
    public required Pot Pot { get; init; }

    /// <summary>The pot as the pot model sees it; null where its medium is not known there: then the calendar alone decides.</summary>
    public required PotSetup? Setup { get; init; }
    public PotClimate Climate { get; init; } = new();

    /// <summary>Fitted to this pot where it was fitted; the shipped ones when null.</summary>
    public PotParameters? Parameters { get; init; }

    /// <summary>What was poured in and read since the pot was filled, or in the last months.</summary>
    public IReadOnlyList<PotEntry> Entries { get; init; } = [];

    /// <summary>The day it came into this pot.</summary>
    public DateOnly? PottedOn { get; init; }

    /// <summary>The last time it was passed by on purpose.</summary>
    public PassedBy? PassedBy { get; init; }

    /// <summary>EC of the feed its want allows at most, µS/cm; null without a want: it is then given water, for nobody knows what feed.</summary>
    public Band? FeedEcMicrosiemensPerCm { get; init; }

    /// <summary>Open quarantine.</summary>
    public Quarantine? Quarantine { get; init; }
    public required int WalkOrder { get; init; }
}

/// <summary>Passed by, and why.</summary>
public sealed record PassedBy(DateOnly On, PassedByFor Why);

/// <summary>Why a plant got nothing.</summary>
public enum PassedByFor
{
    StillFull,
    Resting,
    NotReached,
    Other,
}

/// <summary>What a plant gets today, and why.</summary>
public sealed record Duty
{
    public required Guid PlantId { get; init; }
    public required RoundAct Act { get; init; }

    /// <summary>Since when it is due; null for <see cref="RoundAct.Nothing"/>.</summary>
    public required DateOnly? DueSince { get; init; }

    /// <summary>How much; 0 for <see cref="RoundAct.Nothing"/>.</summary>
    public required double Millilitres { get; init; }

    /// <summary>In a sentence or two, most important first.</summary>
    public required string Why { get; init; }

    /// <summary>A few words for a small tag ("EC creeping", "dry", "look first"); null where nothing stands out.</summary>
    public string? Sign { get; init; }

    /// <summary>The pot as reckoned; null where nothing was ever poured or its medium is not known.</summary>
    public PotNow? Now { get; init; }

    /// <summary>Whole feeds that were missed.</summary>
    public int Missed { get; init; }
    public bool IsDue => Act != RoundAct.Nothing;
}
