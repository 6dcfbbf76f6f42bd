namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Bronze or dark specks on old leaves, in acid pots.</summary>
internal sealed class IronExcess() : Excess("iron-excess", "Fe");
