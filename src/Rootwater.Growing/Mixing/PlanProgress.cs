namespace Rootwater.Growing.Mixing;

/// <summary>How far the planning is.</summary>
/// <param name="Doing">What it is doing, in words.</param>
/// <param name="Share">0 to 1 of the work or of the time limit, whichever is further; null where it cannot be told.</param>
/// <param name="RelativeGap">Proven distance from the best possible so far; null before the first plan.</param>
public sealed record PlanProgress(string Doing, double? Share, double? RelativeGap);
