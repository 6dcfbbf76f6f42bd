namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Water-soaked, yellow halo, foul, fast.</summary>
internal sealed class BacterialRot() : Cause("bacterial-rot");
