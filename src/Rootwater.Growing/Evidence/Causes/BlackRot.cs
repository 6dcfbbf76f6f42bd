namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Black, spreading from base or crown (Phytophthora, Pythium).</summary>
internal sealed class BlackRot() : Cause("black-rot");
