namespace Rootwater.Growing.Evidence.Methods;

/// <summary>One option of a method.</summary>
/// <param name="Name">As on the command line, without dashes.</param>
/// <param name="Meaning">What it is; for a column, what the column holds.</param>
/// <param name="Default">What holds where it is not given; null where it has to be given.</param>
public sealed record MethodOption(string Name, string Meaning, string? Default);

/// <summary>A statistical method that takes a table and options by name: what <c>rootwater evidence run</c> calls.</summary>
public interface IEvidenceMethod
{
    /// <summary>The name it is called by.</summary>
    string Name { get; }

    /// <summary>What it does, in a line.</summary>
    string Summary { get; }

    IReadOnlyList<MethodOption> Options { get; }

    /// <exception cref="EvidenceInputException">A column or option that cannot be used.</exception>
    EvidenceAnswer Run(MethodRun run);
}
