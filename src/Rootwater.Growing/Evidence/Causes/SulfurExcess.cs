namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Sulfate: part of a salt load more than a poison.</summary>
internal sealed class SulfurExcess() : Excess("sulfur-excess", "S");
