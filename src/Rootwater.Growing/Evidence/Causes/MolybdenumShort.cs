namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Variable: pale older leaves with curled edges, in acid pots.</summary>
internal sealed class MolybdenumShort() : Shortage("molybdenum-short", "Mo");
