namespace Rootwater.Growing;

/// <summary>How much a problem matters.</summary>
public enum Severity
{
    /// <summary>Said for completeness; nothing to do.</summary>
    Note,

    /// <summary>Read or computed under an assumption that the grower should look at.</summary>
    Warning,

    /// <summary>Cannot be used as it stands.</summary>
    Error,
}

/// <summary>Something wrong or doubtful in what was entered: which field, which value, and what would be accepted.</summary>
/// <param name="Severity">How much it matters.</param>
/// <param name="Field">The field as the grower sees it ("density", "total nitrogen").</param>
/// <param name="Value">What stood there; null where nothing did.</param>
/// <param name="Message">One or two sentences: what is wrong and the way out.</param>
public sealed record InputProblem(Severity Severity, string Field, string? Value, string Message)
{
    public static InputProblem Error(string field, string? value, string message) => new(Severity.Error, field, value, message);

    public static InputProblem Warning(string field, string? value, string message) => new(Severity.Warning, field, value, message);

    public static InputProblem Note(string field, string? value, string message) => new(Severity.Note, field, value, message);
}
