namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Dry tips of old leaves: mobile with the water stream, gathers where it ends.</summary>
internal sealed class ChlorideExcess() : Excess("chloride-excess", "Cl");
