namespace Rootwater.Growing.Labels;

/// <summary>What <see cref="LabelText"/> made of a text: the label, and what it could not read or had to assume.</summary>
/// <param name="Label">The label; its declarations carry the characters they were read from. Null when nothing was read.</param>
/// <param name="Problems">What was not read, what was assumed, and what <see cref="LabelCheck"/> finds.</param>
public sealed record LabelReading(Label? Label, IReadOnlyList<InputProblem> Problems)
{
    /// <summary>True when there is a label and no error.</summary>
    public bool IsUsable => Label is not null && Problems.All(problem => problem.Severity != Severity.Error);
}
