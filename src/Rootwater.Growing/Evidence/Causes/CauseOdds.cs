namespace Rootwater.Growing.Evidence.Causes;

/// <summary>A share of the chances as a word: the ranking can be trusted, the figure behind it is judgement.</summary>
public enum CauseOdds
{
    /// <summary>Below 3 in 100.</summary>
    HardlyLikely,

    /// <summary>3 to 10 in 100.</summary>
    Unlikely,

    /// <summary>10 to 30 in 100.</summary>
    Possible,

    /// <summary>30 to 60 in 100.</summary>
    Likely,

    /// <summary>60 in 100 and more.</summary>
    VeryLikely,
}

/// <summary>Shares of a cause sheet in words.</summary>
public static class CauseOddsOf
{
    /// <param name="share">0 to 1.</param>
    public static CauseOdds Share(double share) => share switch { >= 0.6 => CauseOdds.VeryLikely, >= 0.3 => CauseOdds.Likely, >= 0.1 => CauseOdds.Possible, >= 0.03 => CauseOdds.Unlikely, _ => CauseOdds.HardlyLikely };

    /// <summary>"very likely", "possible".</summary>
    public static string Words(double share) => Share(share) switch
    {
        CauseOdds.VeryLikely => "very likely",
        CauseOdds.Likely => "likely",
        CauseOdds.Possible => "possible",
        CauseOdds.Unlikely => "unlikely",
        _ => "hardly likely",
    };
}
