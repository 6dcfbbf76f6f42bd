namespace Rootwater.Growing.Evidence;

/// <summary>Something given for an evidence method cannot be used: which column or option, what it held, what would do.</summary>
public sealed class EvidenceInputException(string field, object? value, string accepted) : InputException(field, value, accepted);
