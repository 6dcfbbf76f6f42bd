namespace Rootwater.Growing.Evidence.Causes;

/// <summary>One possible cause of what is seen on a plant.</summary>
public interface ICause
{
    /// <summary>Its key in data/growing/causes.csv.</summary>
    string Id { get; }

    /// <summary>How often it is the cause before anything is looked at, relative to the others.</summary>
    double Prior { get; }

    /// <summary>How often this clue has this value if this is the cause.</summary>
    double Likelihood(string clue, string value);

    /// <summary>What the ledger says: each word with how many times likelier it makes this cause (below 1: less likely).</summary>
    IEnumerable<RecordClue> FromRecords(CauseRecords records);
}

/// <summary>Something the ledger says for or against a cause.</summary>
/// <param name="Words">In the grower's words.</param>
/// <param name="Ratio">How many times likelier it makes the cause; 1 says nothing. Judgement throughout.</param>
public readonly record struct RecordClue(string Words, double Ratio);
