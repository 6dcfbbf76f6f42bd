namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Hardly ever seen.</summary>
internal sealed class MolybdenumExcess() : Excess("molybdenum-excess", "Mo");
