namespace Rootwater.Growing.Evidence;

/// <summary>What an evidence method found: numbers, sentences, what was assumed, and what cannot be said.</summary>
public sealed record EvidenceAnswer
{
    /// <summary>The method by the name it was called with.</summary>
    public required string Method { get; init; }

    /// <summary>Rows used.</summary>
    public required int N { get; init; }

    /// <summary>The numbers.</summary>
    public required IReadOnlyList<EvidenceQuantity> Quantities { get; init; }

    /// <summary>The result in words; where the data cannot carry one, what can and cannot be said.</summary>
    public IReadOnlyList<string> Says { get; init; } = [];

    /// <summary>What has to hold for the numbers to mean what they say.</summary>
    public IReadOnlyList<string> Assumptions { get; init; } = [];
}
