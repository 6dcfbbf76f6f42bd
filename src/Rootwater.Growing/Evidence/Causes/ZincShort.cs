namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Moves only under some conditions.</summary>
internal sealed class ZincShort() : Shortage("zinc-short", "Zn");
