namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Mobile: old leaves pale first, slowly.</summary>
internal sealed class NitrogenShort() : Shortage("nitrogen-short", "N");
