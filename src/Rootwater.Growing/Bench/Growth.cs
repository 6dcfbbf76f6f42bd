namespace Rootwater.Growing.Bench;

/// <summary>What a growth is.</summary>
public enum GrowthForm
{
    /// <summary>The one stem of a monopodial.</summary>
    Stem,
    Bulb,
    Cane,

    /// <summary>A leafy shoot without a bulb.</summary>
    Fan,
}

/// <summary>A stem that lives on its own clock.</summary>
public sealed record Growth
{
    public required Guid Id { get; init; }

    /// <summary>1 and up, oldest first: "bulb 4".</summary>
    public required int Number { get; init; }
    public required GrowthForm Form { get; init; }

    /// <summary>When it was first seen; null where it was there on arrival (its age is not known).</summary>
    public required DaySpan? Begun { get; init; }

    /// <summary>When it died or was taken off; null while it lives.</summary>
    public DaySpan? Ended { get; init; }
    public string? EndCause { get; init; }

    /// <summary>Oldest first.</summary>
    public required IReadOnlyList<Leaf> Leaves { get; init; }

    /// <summary>Oldest first.</summary>
    public required IReadOnlyList<Spike> Spikes { get; init; }
}

/// <summary>One leaf as an individual.</summary>
public sealed record Leaf
{
    public required Guid Id { get; init; }
    public required Guid GrowthId { get; init; }

    /// <summary>1 and up on its growth, oldest first: "bulb 4, leaf 1".</summary>
    public required int Position { get; init; }

    /// <summary>When it was first seen. For a leaf that was there on arrival: the arrival, and its age is not known.</summary>
    public required DaySpan FirstSeen { get; init; }
    public required bool ThereOnArrival { get; init; }
    public IReadOnlyList<LeafMeasure> Measures { get; init; } = [];
    public IReadOnlyList<LeafMark> Marks { get; init; } = [];

    /// <summary>Null while it lives.</summary>
    public LeafEnd? Lost { get; init; }
}

/// <summary>A leaf's size on a day, in millimetres.</summary>
public sealed record LeafMeasure(DateOnly On, double? LengthMillimetres, double? WidthMillimetres);

/// <summary>What was seen on a leaf.</summary>
public sealed record LeafMark(DaySpan When, LeafSign Sign, LeafPart Part, string? Note);

/// <summary>How a leaf ended.</summary>
public sealed record LeafEnd(DaySpan When, LeafLoss Cause, string? Note);

/// <summary>What can be seen on a leaf.</summary>
public enum LeafSign
{
    Yellowing,
    DryTip,
    Spots,
    Streaks,
    Pale,
    PaleBetweenVeins,
    Purple,
    WaterSoaked,
    Sunburn,
    Pleated,
    Limp,
    Torn,
    Bitten,
    Sticky,
}

/// <summary>Where on the leaf.</summary>
public enum LeafPart
{
    Whole,
    Tip,
    Margin,
    Base,
    BetweenVeins,
    Underside,
    ExposedSide,
}

/// <summary>Why a leaf is gone.</summary>
public enum LeafLoss
{
    Unknown,

    /// <summary>The oldest, evenly yellowed, as leaves end.</summary>
    Age,

    /// <summary>A deciduous cane or bulb let it go in its season: no alarm.</summary>
    Shed,
    Rot,
    Cold,
    Sun,
    Pest,
    Broken,
    CutOff,
}

/// <summary>A flowering stem with its flowers.</summary>
public sealed record Spike
{
    public required Guid Id { get; init; }
    public required Guid GrowthId { get; init; }
    public required DaySpan FirstSeen { get; init; }

    /// <summary>Length and buds over time.</summary>
    public IReadOnlyList<SpikeMeasure> Measures { get; init; } = [];
    public DaySpan? FirstFlower { get; init; }
    public DaySpan? LastFlower { get; init; }
    public int? Flowers { get; init; }
    public double? FlowerWidthMillimetres { get; init; }
    public double? FlowerHeightMillimetres { get; init; }

    /// <summary>In the grower's words.</summary>
    public string? Scent { get; init; }
    public DaySpan? Ended { get; init; }
    public SpikeEnd? EndCause { get; init; }
}

/// <summary>A spike's length (mm) and buds on a day.</summary>
public sealed record SpikeMeasure(DateOnly On, double? LengthMillimetres, int? Buds);

/// <summary>How a spike ended.</summary>
public enum SpikeEnd
{
    Flowered,
    Blasted,
    CutOff,
    Broken,
    Eaten,
    Unknown,
}
