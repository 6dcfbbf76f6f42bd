namespace Rootwater.Growing.Cupboard;

/// <summary>One caution.</summary>
/// <param name="Key">Names it in the resource file.</param>
/// <param name="Short">A line for a step of the card.</param>
/// <param name="Full">The whole of it.</param>
public sealed record SafetyText(string Key, string Short, string Full);
