namespace Rootwater.Growing.Rounds;

/// <summary>Where the rules of the round draw their lines. Each is common practice without a source unless said.</summary>
public sealed record RoundOptions
{
    public static RoundOptions Default { get; } = new();

    /// <summary>EC at the root above which any plant is leached, µS/cm: the pot forecast's own limit.</summary>
    public double LeachAtMostMicrosiemensPerCm { get; init; } = 1500;

    /// <summary>A gently fed plant is leached at this many times the highest EC its want allows in the feed.</summary>
    public double LeachAtTimesFeed { get; init; } = 2;

    /// <summary>Never leached below this, µS/cm: what hard tap water already has.</summary>
    public double LeachAtLeastMicrosiemensPerCm { get; init; } = 700;

    /// <summary>Plain water instead of feed above this many times the highest EC of its feed.</summary>
    public double WaterAtTimesFeed { get; init; } = 1.25;

    /// <summary>For how many days a reading counts for more than what is reckoned.</summary>
    public int ReadingHoldsDays { get; init; } = 10;

    /// <summary>Days between two leaches at least, so that a wrong reckoning cannot wash a pot out walk after walk.</summary>
    public int DaysBetweenLeaches { get; init; } = 14;

    /// <summary>Dry for so long, a pot is watered through before it is fed again.</summary>
    public int DryBeforeRewetting { get; init; } = 3;

    /// <summary>South of the equator seasons are half a year apart.</summary>
    public bool SouthOfEquator { get; init; }
}
