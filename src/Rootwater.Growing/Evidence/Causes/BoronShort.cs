namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Immobile: misshapen new growth.</summary>
internal sealed class BoronShort() : Shortage("boron-short", "B");
