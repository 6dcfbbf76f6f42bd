namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>When a pen should stand in its standards again: when its error, as far as it is known, may have grown too large.</summary>
public static class PenDue
{
    /// <summary>Half of the 95 % band of a pen's error beyond which it is due: pH, and share of the EC. Common practice, no source.</summary>
    public const double MostPH = 0.08, MostEcShare = 0.025;

    // At the latest, however sure one is. Common practice, no source.
    private const int MostDaysPH = 60, MostDaysEc = 120;
    private const double DaysPerMonth = 30.44;

    /// <summary>Days from when its error was last known to when it is due; zero where it is too uncertain already.</summary>
    /// <param name="kind">Of the pen.</param>
    /// <param name="sd">One standard deviation of its error then, from calibrations and cans together: pH, or a share.</param>
    /// <param name="spreads">How far such a pen may be off and how fast it wanders.</param>
    public static int DaysUntil(PenKind kind, double sd, ErrorSpreads? spreads = null)
    {
        spreads ??= new ErrorSpreads();
        var (most, prior, source, latest) = kind == PenKind.Ec ? (MostEcShare, spreads.EcPen, ErrorSourceKind.EcPen, MostDaysEc) : (MostPH, spreads.PHPenOffset, ErrorSourceKind.PHPenOffset, MostDaysPH);
        var limit = most / 1.96;
        if (sd >= limit)
        {
            return 0;
        }

        // The variance goes towards that beforehand as exp(-k t); where that never reaches the limit, practice alone decides.
        var wander = spreads.WanderPerMonth(source, hygroscopic: false);
        var k = -Math.Log(1 - wander * wander);
        return prior <= limit ? latest : (int)Math.Min(latest, Math.Floor(Math.Log((prior * prior - sd * sd) / (prior * prior - limit * limit)) / k * DaysPerMonth));
    }
}
