namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Stunted, dark root tips and pale new leaves: copper pipes and sprays.</summary>
internal sealed class CopperExcess() : Excess("copper-excess", "Cu");
