namespace Rootwater.Growing.Bench;

/// <summary>What a growth is doing. Several hold at once in one plant; many kinds never rest.</summary>
public enum PlantState
{
    Establishing,
    Seedling,
    NewRoots,
    LeafGrowth,
    BulbRipening,
    Sheath,
    InSpike,
    Flowering,
    DryRest,
    CoolRest,
    Recovering,
}

/// <summary>How a plant grows: from one stem for ever, or growth after growth along a rhizome.</summary>
public enum Habit
{
    Monopodial,
    Sympodial,
}
