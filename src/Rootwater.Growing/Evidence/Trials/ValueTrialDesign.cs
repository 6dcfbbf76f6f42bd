namespace Rootwater.Growing.Evidence.Trials;

/// <summary>A trial whose outcome is one value of each plant: a count (new leaves, flowers, spikes) or a mean (leaf length).</summary>
public sealed record ValueTrialDesign : PlannedTrial
{
    /// <summary>Count of a plant in a year, or its mean value, in the first arm: from the grower's own records.</summary>
    public required double Mean { get; init; }

    /// <summary>How plants differ: coefficient of variation of their true means.</summary>
    public required double PlantSpread { get; init; }

    /// <summary>True for counts, which scatter as Poisson about a plant's own rate and grow with time.</summary>
    public required bool Counts { get; init; }

    /// <summary>For values that are not counts: how a plant's mean over a year scatters about its true one, as a coefficient of variation.</summary>
    public double YearlyScatter { get; init; } = 0.05;

    /// <summary>Second arm over first that would be worth knowing.</summary>
    public required double Ratio { get; init; }

    private protected override void CheckOutcome()
    {
        Require("mean", Mean, 1e-3, 1e5);
        Require("spread between plants", PlantSpread, 0, 2);
        Require("yearly scatter", YearlyScatter, 0, 2);
        Require("ratio", Ratio, 0.05, 20);
        Require("years", Years, 0.05, 20);
    }
}
