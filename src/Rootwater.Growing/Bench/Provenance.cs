namespace Rootwater.Growing.Bench;

/// <summary>How an individual came to be one.</summary>
public enum Propagation
{
    Unknown,
    Seedling,

    /// <summary>A part of an older plant with its own growths.</summary>
    Division,

    /// <summary>A plantlet from a cane or a spike.</summary>
    Keiki,

    /// <summary>Raised from tissue; one clone with its sisters.</summary>
    Mericlone,

    /// <summary>A backbulb or a piece of stem.</summary>
    Cutting,
}

/// <summary>Where a plant is from. Source and price are private: they leave the program only when ticked.</summary>
public sealed record Provenance
{
    /// <summary>Who it came from, in the grower's words.</summary>
    public string? Source { get; init; }

    /// <summary>What was paid; null for a gift or where forgotten. Not negative.</summary>
    public decimal? Price { get; init; }

    /// <summary>ISO 4217 code of the price ("EUR").</summary>
    public string? Currency { get; init; }

    /// <summary>Where its wild forebears grew, as the seller said.</summary>
    public string? WildLocality { get; init; }
    public Propagation RaisedAs { get; init; }

    /// <summary>The plant on this bench it was taken from (division, keiki, cutting): its history and virus status go with it.</summary>
    public Guid? ParentPlantId { get; init; }
}
