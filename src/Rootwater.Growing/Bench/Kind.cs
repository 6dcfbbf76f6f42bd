namespace Rootwater.Growing.Bench;

/// <summary>How a kind of orchid lives through the year: what it sheds and how it rests.</summary>
public sealed record Kind
{
    /// <summary>"soft-caned Dendrobium".</summary>
    public required string Name { get; init; }
    public required string Genus { get; init; }

    /// <summary>The kind under which data/growing/wants.csv keeps its wants.</summary>
    public required string WantKind { get; init; }
    public required Habit Habit { get; init; }
    public required LeafHabit Leaves { get; init; }

    /// <summary>Null where it grows on all year.</summary>
    public required Rest? Rest { get; init; }

    /// <summary>In a sentence.</summary>
    public required string Advice { get; init; }

    /// <summary>Where this is from, or "common practice, no source".</summary>
    public required string Source { get; init; }
}

/// <summary>What becomes of old leaves.</summary>
public enum LeafHabit
{
    Evergreen,

    /// <summary>Drops the leaves of older canes in some years.</summary>
    SemiDeciduous,

    /// <summary>Drops them every year.</summary>
    Deciduous,
}

/// <summary>The resting season of a kind. Months are those north of the equator; a plant's own signs count for more.</summary>
public sealed record Rest
{
    /// <summary><see cref="PlantState.DryRest"/> or <see cref="PlantState.CoolRest"/>.</summary>
    public required PlantState State { get; init; }

    /// <summary>1 to 12; may lie after <see cref="ToMonth"/>.</summary>
    public required int FromMonth { get; init; }
    public required int ToMonth { get; init; }

    /// <summary>What says that water and feed are to be cut.</summary>
    public required IReadOnlyList<RestSign> BeginsAt { get; init; }

    /// <summary>What says that they are to be given again.</summary>
    public required IReadOnlyList<RestSign> EndsAt { get; init; }
    public required RestRation Water { get; init; }
    public required RestRation Feed { get; init; }

    /// <summary>Whether a day lies in the usual months.</summary>
    /// <param name="day">The day.</param>
    /// <param name="southOfEquator">Half a year apart.</param>
    public bool IsSeason(DateOnly day, bool southOfEquator = false)
    {
        var month = southOfEquator ? (day.Month + 5) % 12 + 1 : day.Month;
        return FromMonth <= ToMonth ? month >= FromMonth && month <= ToMonth : month >= FromMonth || month <= ToMonth;
    }
}

/// <summary>What is seen when a rest begins or ends.</summary>
public enum RestSign
{
    LastLeafMade,
    LeavesYellowing,
    GrowthRipe,
    NightsCool,
    AfterBloom,
    NewGrowth,
    NewRoots,
    Buds,
}

/// <summary>How much is given during a rest.</summary>
public enum RestRation
{
    Usual,
    Less,

    /// <summary>Only against shrivelling.</summary>
    Sparing,
    None,
}
