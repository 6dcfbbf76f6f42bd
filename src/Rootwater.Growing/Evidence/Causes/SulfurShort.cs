namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Young leaves where nitrogen is ample, old ones where it is not.</summary>
internal sealed class SulfurShort() : Shortage("sulfur-short", "S");
