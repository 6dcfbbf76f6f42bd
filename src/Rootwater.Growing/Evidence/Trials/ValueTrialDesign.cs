namespace Rootwater.Growing.Evidence.Trials;

/// <summary>A trial whose outcome is one value of each plant: a count (new leaves, flowers, spikes) or a mean (leaf length).</summary>
public sealed record ValueTrialDesign
{
    /// <summary>Plants in each arm, 2 to 500.</summary>
    public required int PlantsPerArm { get; init; }

    /// <summary>What each plant is drawn within, one name a plant; null for one block. Where it is there, it says how many plants there are.</summary>
    public IReadOnlyList<string>? Blocks { get; init; }

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

    /// <summary>How long it runs.</summary>
    public required double Years { get; init; }

    /// <summary>Planned looks, the last at the end.</summary>
    public int Looks { get; init; } = 1;

    public Spending Spending { get; init; } = Spending.OBrienFleming;

    public double Alpha { get; init; } = 0.05;

    internal void Check()
    {
        Require("plants per arm", PlantsPerArm, 2, 500);
        Require("plants", Blocks?.Count ?? 2 * PlantsPerArm, 4, 1000);
        Require("mean", Mean, 1e-3, 1e5);
        Require("spread between plants", PlantSpread, 0, 2);
        Require("yearly scatter", YearlyScatter, 0, 2);
        Require("ratio", Ratio, 0.05, 20);
        Require("years", Years, 0.05, 20);
        Require("looks", Looks, 1, 20);
        Require("alpha", Alpha, 0.001, 0.2);
    }

    private static void Require(string field, double value, double low, double high)
    {
        if (!(value >= low && value <= high))
        {
            throw new EvidenceInputException(field, value, FormattableString.Invariant($"{low} to {high}"));
        }
    }
}
