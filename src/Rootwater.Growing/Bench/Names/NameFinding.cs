namespace Rootwater.Growing.Bench.Names;

/// <summary>Something to put right, or to know, about a name as entered.</summary>
/// <param name="Fault">Which rule.</param>
/// <param name="Severity">Error: cannot be read. Warning: against a rule, read as best could be. Note: advice.</param>
/// <param name="Value">The stretch it is about.</param>
/// <param name="Message">What is wrong, and what would be right.</param>
public sealed record NameFinding(NameFault Fault, Severity Severity, string Value, string Message)
{
    public InputProblem ToProblem(string field) => new(Severity, field, Value, Message);
}

/// <summary>The rules a name is held against.</summary>
public enum NameFault
{
    Empty,
    NoGenus,
    GenusNotCapital,
    GenusOdd,
    AbbreviationUnknown,
    AbbreviationExpanded,
    NothogenusUnmarked,

    /// <summary>A parent in a formula without its genus (ICN H.2, example 2).</summary>
    GenusOmittedInFormula,

    /// <summary>Three or more parents in a row: seed and pollen parent cannot be told.</summary>
    ParentsUnordered,
    SpeciesOdd,

    /// <summary>Two epithets without a term for the rank (ICN Art. 24.1).</summary>
    RankMissing,
    VarietyLooksLikeCultivar,
    QuoteUnclosed,
    DoubleQuotes,
    CvWritten,
    ReadAsAuthor,
    EpithetNotCapital,
    EpithetTooLong,
    EpithetForbiddenWord,
    EpithetSymbol,
    EpithetSingleLetterOrNumbers,
    EpithetLatin,
    EpithetRepeatsGenus,
    EpithetExaggerates,
    ParenthesisUnmatched,

    /// <summary>Words that are no part of a name ("seedling", "near blooming size").</summary>
    Remark,
}

/// <summary>A name as read.</summary>
/// <param name="Name">Null where it cannot be read at all.</param>
/// <param name="Findings">In the order of the text.</param>
public sealed record NameReading(OrchidName? Name, IReadOnlyList<NameFinding> Findings)
{
    public bool HasErrors => Findings.Any(finding => finding.Severity == Severity.Error);
}
