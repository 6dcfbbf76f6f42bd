namespace Rootwater.Cli.Solving;

/// <summary>A line that cannot be solved: which field, and what would be accepted.</summary>
internal sealed class SolveProblem(string field, string message) : Exception(message)
{
    public string Field { get; } = field;
}
