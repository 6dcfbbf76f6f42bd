namespace Rootwater.Growing;

/// <summary>A computed value with its band: where a reading would be fine, or how far a forecast may be off.</summary>
public readonly record struct Expected(double Low, double Value, double High);
