namespace Rootwater.Growing.Evidence.Verdicts;

/// <summary>How much an answer can bear.</summary>
public enum Strength
{
    /// <summary>The records carry no answer at all (nothing lost, one plant, everything on one day).</summary>
    CannotTell,

    /// <summary>There is an answer to be had, but not yet.</summary>
    TooEarly,

    /// <summary>p below 0.05, or stronger but from records that were not drawn at random and could have other reasons.</summary>
    Hint,

    /// <summary>p below 0.01.</summary>
    Good,

    /// <summary>p below 0.001, arms drawn at random.</summary>
    Strong,
}

/// <summary>An answer in words with all that it stands on.</summary>
public sealed record Verdict
{
    /// <summary>What was asked.</summary>
    public required string Question { get; init; }

    public required Strength Strength { get; init; }

    /// <summary>The answer, one or two sentences for the grower.</summary>
    public required string Words { get; init; }

    /// <summary>True only where a difference is claimed.</summary>
    public bool ClaimsDifference => Strength is Strength.Hint or Strength.Good or Strength.Strong;

    /// <summary>The method by name.</summary>
    public required string Method { get; init; }

    public required IReadOnlyList<string> Assumptions { get; init; }

    /// <summary>Plants.</summary>
    public required int Plants { get; init; }

    /// <summary>Lives (leaves) under watch.</summary>
    public required int Lives { get; init; }

    /// <summary>Losses.</summary>
    public required int Events { get; init; }

    /// <summary>Hazard of the second over the first; null where there is none.</summary>
    public double? HazardRatio { get; init; }

    /// <summary>95 % interval of <see cref="HazardRatio"/>.</summary>
    public Series.Interval95? Interval { get; init; }

    /// <summary>Null where a p-value would mean nothing.</summary>
    public double? P { get; init; }

    /// <summary>What it would take to know; null where it is known.</summary>
    public string? WhatItWouldTake { get; init; }

    /// <summary>What else changed at the same time.</summary>
    public IReadOnlyList<string> AlsoChanged { get; init; } = [];
}
