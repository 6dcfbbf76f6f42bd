namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Dry edges of old leaves: softened water, sea salt.</summary>
internal sealed class SodiumExcess() : Excess("sodium-excess", "Na");
