namespace Rootwater.Growing.Bench;

/// <summary>Container, medium and reservoir that hold a plant during a period.</summary>
public sealed record Pot
{
    public required Guid Id { get; init; }
    public required Culture Culture { get; init; }

    /// <summary>The name of the medium ("expanded clay").</summary>
    public required string Medium { get; init; }

    /// <summary>Bulk volume of the medium; 0 for a mount.</summary>
    public required double MediumLitres { get; init; }

    /// <summary>What the reservoir holds when full; 0 without one.</summary>
    public required double ReservoirLitres { get; init; }

    /// <summary>What is poured at one feed.</summary>
    public required double FeedMillilitres { get; init; }

    /// <summary>Usual days from one feed to the next.</summary>
    public required int FeedEveryDays { get; init; }
    public required DateOnly? LastFed { get; init; }
}
