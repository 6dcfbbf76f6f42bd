namespace Rootwater.Growing.Evidence.Causes;

/// <summary>New leaves pale: roof gutters and galvanised cans.</summary>
internal sealed class ZincExcess() : Excess("zinc-excess", "Zn");
