namespace Rootwater.Ledger;

/// <summary>One thing that was entered and cannot be kept as it is.</summary>
/// <param name="Field">The field, by the name the page and the terminal show.</param>
/// <param name="Value">What was entered; null where nothing was.</param>
/// <param name="Accepted">What would be accepted, in words.</param>
public sealed record EntryProblem(string Field, string? Value, string Accepted)
{
    /// <summary>Of several facts entered at once, the one it is about.</summary>
    public Guid? FactId { get; init; }

    public override string ToString() => Value is null ? $"{Field}: {Accepted}" : $"{Field} \"{Value}\": {Accepted}";
}

/// <summary>An entry was refused; nothing of it was saved. <see cref="Problems"/> is what to show beside the fields.</summary>
public sealed class EntryException(IReadOnlyList<EntryProblem> problems) : Exception(string.Join(Environment.NewLine, problems))
{
    public EntryException(string field, string? value, string accepted) : this([new EntryProblem(field, value, accepted)])
    {
    }

    public IReadOnlyList<EntryProblem> Problems { get; } = problems;
}

/// <summary>What is wrong with the bench's database.</summary>
public enum LedgerFault
{
    Missing,
    NotADatabase,
    Corrupt,
    Locked,
    DiskFull,
    ReadOnly,
    NewerThanProgram,
    WrongConnection,
    NotDurable,
    Conflict,
}

/// <summary>The bench's database cannot be used as asked. The message names the file (or server) and the way out; nothing was half-saved.</summary>
public sealed class LedgerProblem(LedgerFault fault, string message, Exception? inner = null) : Exception(message, inner)
{
    public LedgerFault Fault { get; } = fault;
}
