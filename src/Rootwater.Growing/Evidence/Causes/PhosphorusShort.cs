namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Mobile: dark or purplish, small.</summary>
internal sealed class PhosphorusShort() : Shortage("phosphorus-short", "P");
