namespace Rootwater.Growing.Mixing;

/// <summary>How one pen's reading compares with what was expected.</summary>
/// <param name="What">"EC" or "pH".</param>
/// <param name="Unit">µS/cm or pH.</param>
/// <param name="Expected">Value and 95 % band in which a reading is fine: mixing errors and the pen's own.</param>
/// <param name="Measured">What the pen read.</param>
/// <param name="Agrees">Inside the band.</param>
/// <param name="Words">"14 % low", "0.3 high", "agrees".</param>
public sealed record PenCheck(string What, string Unit, Expected Expected, double Measured, bool Agrees, string Words);

/// <summary>Expected against measured, with what to look at first.</summary>
public sealed record CanVerdict
{
    public required bool Agrees { get; init; }
    public required IReadOnlyList<PenCheck> Pens { get; init; }

    /// <summary>What to check before changing anything, the cheapest first. Empty when all agrees.</summary>
    public required IReadOnlyList<string> CheckFirst { get; init; }

    /// <summary>In a sentence.</summary>
    public required string Words { get; init; }
}

/// <summary>Whether the pens agree with a can's card.</summary>
public static class CanCheck
{
    /// <summary>Compares readings with the card.</summary>
    /// <param name="plan">The can's card.</param>
    /// <param name="tools">The pens and their errors.</param>
    /// <param name="measuredEcMicrosiemensPerCm">As the grower's own pen shows it; null where not read.</param>
    /// <param name="measuredPH">0 to 14; null where not read.</param>
    /// <param name="afterStep">The step after which it was read; null for the finished can.</param>
    /// <exception cref="ArgumentOutOfRangeException">A reading no pen can show, or a step that is not on the card.</exception>
    public static CanVerdict Judge(CanPlan plan, Tools tools, double? measuredEcMicrosiemensPerCm, double? measuredPH, int? afterStep = null) =>
        throw new NotSupportedException("Lands next.");
}
