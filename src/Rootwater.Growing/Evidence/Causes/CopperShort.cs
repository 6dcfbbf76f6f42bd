namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Moves only under some conditions.</summary>
internal sealed class CopperShort() : Shortage("copper-short", "Cu");
