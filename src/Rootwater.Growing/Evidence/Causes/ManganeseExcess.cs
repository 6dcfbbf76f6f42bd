namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Dark specks on old leaves, in acid pots; looks like iron short on new ones.</summary>
internal sealed class ManganeseExcess() : Excess("manganese-excess", "Mn");
