namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Fine stipple, webs below the leaf.</summary>
internal sealed class Mites() : Cause("mites");
