namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Dry ends of old leaves.</summary>
internal sealed class BoronExcess() : Excess("boron-excess", "B");
