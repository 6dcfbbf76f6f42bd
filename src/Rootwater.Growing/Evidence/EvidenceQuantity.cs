namespace Rootwater.Growing.Evidence;

/// <summary>One number of an answer, named as statistical tables name it.</summary>
/// <param name="Method">The procedure ("KM Greenwood").</param>
/// <param name="Group">The group, coefficient or series it belongs to; "all" for the whole.</param>
/// <param name="Quantity">What it is ("SE[t=30]").</param>
/// <param name="Value">The number; null where it is not defined (never NaN), infinite where the bound is infinite.</param>
/// <param name="Note">Why it is not defined, or the convention used.</param>
public sealed record EvidenceQuantity(string Method, string Group, string Quantity, double? Value, string? Note = null);
