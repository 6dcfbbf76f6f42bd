namespace Rootwater.Growing.Cupboard;

/// <summary>How a concentrate is diluted. "1:100" is used for both readings below, which differ by one per cent, so it is asked and never guessed.</summary>
public readonly record struct InjectorRatio
{
    private InjectorRatio(double dilution) => Dilution = dilution;

    /// <summary>Litres of feed from one litre of concentrate.</summary>
    public double Dilution { get; }

    /// <summary>One part of concentrate in so many parts of feed ("1 in 100").</summary>
    /// <exception cref="ArgumentOutOfRangeException">Less than 1.</exception>
    public static InjectorRatio OneIn(double parts) => parts >= 1
        ? new InjectorRatio(parts)
        : throw new ArgumentOutOfRangeException(nameof(parts), parts, "One part in at least one part.");

    /// <summary>One part of concentrate and so many parts of water ("1 + 100").</summary>
    /// <exception cref="ArgumentOutOfRangeException">Less than 0.</exception>
    public static InjectorRatio OnePlus(double partsOfWater) => partsOfWater >= 0
        ? new InjectorRatio(1 + partsOfWater)
        : throw new ArgumentOutOfRangeException(nameof(partsOfWater), partsOfWater, "At least no water.");

    /// <summary>Strength of the concentrate for a strength of the feed, in the same unit.</summary>
    public double ConcentrateFor(double feed) => feed * Dilution;

    /// <summary>Strength of the feed from a concentrate, in the same unit.</summary>
    public double FeedFrom(double concentrate) => concentrate / Dilution;
}
