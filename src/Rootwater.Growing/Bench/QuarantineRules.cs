namespace Rootwater.Growing.Bench;

/// <summary>Where a quarantine's clock stands.</summary>
/// <param name="Day">1 on the first day; goes on past <paramref name="Of"/>.</param>
/// <param name="Of">How long it was to last.</param>
/// <param name="DaysLeft">0 from the day it may end.</param>
public readonly record struct QuarantineClock(int Day, int Of, int DaysLeft);

/// <summary>What a quarantine still waits for.</summary>
public enum QuarantineWait
{
    ClockRuns,

    /// <summary>Pests were found at the last look.</summary>
    PestsFound,

    /// <summary>Fewer than two clean looks, a week apart, since it began or since pests were last found.</summary>
    PestChecks,
    VirusPositive,

    /// <summary>A test was unclear, or a relative was found infected.</summary>
    VirusDoubtful,

    /// <summary>Not tested, or only once.</summary>
    VirusTests,
}

/// <summary>Rules of a quarantine. All of them common practice, no source.</summary>
public static class QuarantineRules
{
    /// <summary>Between two clean looks: eggs hatch meanwhile. Common practice, no source.</summary>
    public const int DaysBetweenPestChecks = 7;
    public const int CleanPestChecks = 2;

    /// <summary>Null before it begins or after it ended.</summary>
    public static QuarantineClock? Clock(Quarantine quarantine, DateOnly asOf)
    {
        if (asOf < quarantine.Begun || (quarantine.Ended is { } ended && asOf >= ended))
        {
            return null;
        }

        var day = asOf.DayNumber - quarantine.Begun.DayNumber + 1;
        return new QuarantineClock(day, quarantine.Days, Math.Max(0, quarantine.Days - day + 1));
    }

    /// <summary>Why it should not end yet; empty when it may. Ending it all the same is the grower's own choice.</summary>
    public static IReadOnlyList<QuarantineWait> Waits(Quarantine quarantine, IEnumerable<PestCheck> pestChecks, VirusStanding virus, DateOnly asOf)
    {
        var waits = new List<QuarantineWait>();
        if (asOf < quarantine.Begun.AddDays(quarantine.Days))
        {
            waits.Add(QuarantineWait.ClockRuns);
        }

        var looks = pestChecks.Where(check => check.When.Latest >= quarantine.Begun && check.When.Earliest <= asOf).OrderBy(check => check.When.Latest).ToList();
        if (looks.Count > 0 && looks[^1].Found.Count > 0)
        {
            waits.Add(QuarantineWait.PestsFound);
        }
        else if (!CleanLongEnough(looks))
        {
            waits.Add(QuarantineWait.PestChecks);
        }

        switch (virus)
        {
            case VirusStanding.Positive:
                waits.Add(QuarantineWait.VirusPositive);
                break;
            case VirusStanding.Doubtful:
                waits.Add(QuarantineWait.VirusDoubtful);
                break;
            case VirusStanding.Untested or VirusStanding.NegativeOnce:
                waits.Add(QuarantineWait.VirusTests);
                break;
        }

        return waits;
    }

    private static bool CleanLongEnough(List<PestCheck> looks)
    {
        var clean = looks.AsEnumerable().Reverse().TakeWhile(check => check.Found.Count == 0).Reverse().ToList();
        return clean.Count >= CleanPestChecks && clean[^1].When.Earliest.DayNumber - clean[0].When.Latest.DayNumber >= DaysBetweenPestChecks;
    }
}
