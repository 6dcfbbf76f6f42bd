namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Weak, flabby leaves, few flowers.</summary>
internal sealed class NitrogenExcess() : Excess("nitrogen-excess", "N");
