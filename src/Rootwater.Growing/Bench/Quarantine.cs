namespace Rootwater.Growing.Bench;

/// <summary>A plant kept apart for a while.</summary>
/// <param name="Begun">First day.</param>
/// <param name="Days">How long it is to last; 1 to 365.</param>
/// <param name="Why">In the grower's words.</param>
/// <param name="Ended">The day it was let out; null while it lasts.</param>
public sealed record Quarantine(DateOnly Begun, int Days, string Why, DateOnly? Ended);

/// <summary>A virus test. One negative strip is no clearance.</summary>
public sealed record VirusTest(DaySpan When, string Virus, VirusTestMethod Method, VirusTestResult Result, string? Note);

/// <summary>How a virus was looked for.</summary>
public enum VirusTestMethod
{
    /// <summary>A lateral-flow strip at home.</summary>
    Strip,
    Elisa,
    Pcr,
    Other,
}

/// <summary>What a test said.</summary>
public enum VirusTestResult
{
    Negative,
    Positive,
    Unclear,
}

/// <summary>A look for pests. Nothing found is worth recording.</summary>
public sealed record PestCheck(DaySpan When, IReadOnlyList<string> Found, string? Note);
