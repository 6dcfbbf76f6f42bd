namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Bumps, stickiness.</summary>
internal sealed class ScaleInsects() : Cause("scale");
