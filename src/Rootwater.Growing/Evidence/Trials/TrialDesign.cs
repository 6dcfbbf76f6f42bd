namespace Rootwater.Growing.Evidence.Trials;

/// <summary>A trial as it is planned: two arms of plants, outcome the loss of leaves.</summary>
public sealed record TrialDesign : PlannedTrial
{
    /// <summary>Leaves on a plant at the start, and kept up by new ones.</summary>
    public double LeavesPerPlant { get; init; } = 5;

    /// <summary>New leaves of a plant in a year.</summary>
    public double NewLeavesPerYear { get; init; } = 1.5;

    /// <summary>Median life of a leaf in the first arm, years: from the grower's own records.</summary>
    public required double MedianLeafYears { get; init; }

    /// <summary>Weibull shape of leaf life: 1 for a hazard without age, 2 to 3 for leaves that mostly die of age.</summary>
    public double Shape { get; init; } = 2;

    /// <summary>How plants differ: standard deviation of the log hazard from plant to plant.</summary>
    public double PlantSpread { get; init; } = 0.4;

    /// <summary>Hazard in the second arm over the first that would be worth knowing.</summary>
    public required double HazardRatio { get; init; }

    private protected override void CheckOutcome()
    {
        Require("leaves per plant", LeavesPerPlant, 1, 100);
        Require("new leaves per year", NewLeavesPerYear, 0, 50);
        Require("median leaf life, years", MedianLeafYears, 0.05, 20);
        Require("shape", Shape, 0.3, 10);
        Require("spread between plants", PlantSpread, 0, 2);
        Require("hazard ratio", HazardRatio, 0.05, 20);
        Require("years", Years, 0.1, 20);
    }
}

/// <summary>What a plan promises.</summary>
/// <param name="Power">Chance that the trial claims the difference if it is there.</param>
/// <param name="StandardError">Of <paramref name="Power"/>, from the number of runs.</param>
/// <param name="MeanLosses">Leaves lost by the end, both arms.</param>
/// <param name="StopShares">Share of runs that claim at each look.</param>
/// <param name="NominalLevels">The p each look has to reach: the price of looking early.</param>
/// <param name="Runs">Simulated trials.</param>
public sealed record TrialPowerResult(double Power, double StandardError, double MeanLosses, IReadOnlyList<double> StopShares, IReadOnlyList<double> NominalLevels, int Runs)
{
    /// <summary>The plan in a sentence.</summary>
    public string Words(TrialDesign design) => FormattableString.Invariant($"With {design.PlantsPerArm} plants in each arm over {design.Years:0.#} years, a hazard ratio of {design.HazardRatio:0.##} would be found {100 * Power:0} times in 100 ({MeanLosses:0} leaves lost by then){(design.Looks > 1 ? FormattableString.Invariant($"; a look before the end claims only at p below {NominalLevels[0]:0.#####}, the last at {NominalLevels[^1]:0.####}") : "")}.");
}
