namespace Rootwater.Growing.Evidence.Trials;

/// <summary>What every trial of two arms plans, whatever is told of its plants in the end: leaves lost (<see cref="TrialDesign"/>) or one value each (<see cref="ValueTrialDesign"/>).</summary>
public abstract record PlannedTrial
{
    /// <summary>Plants in each arm, 2 to 500.</summary>
    public required int PlantsPerArm { get; init; }

    /// <summary>What each plant is drawn within, one name a plant; null for one block. Where it is there, it says how many plants there are.</summary>
    public IReadOnlyList<string>? Blocks { get; init; }

    /// <summary>How long it runs.</summary>
    public required double Years { get; init; }

    /// <summary>Planned looks, the last at the end: 1 for none early.</summary>
    public int Looks { get; init; } = 1;

    /// <summary>How the chance of a false claim is shared over looks.</summary>
    public Spending Spending { get; init; } = Spending.OBrienFleming;

    /// <summary>Chance of a false claim over the whole trial.</summary>
    public double Alpha { get; init; } = 0.05;

    /// <summary>The p each planned look has to reach.</summary>
    public IReadOnlyList<double> Levels() => Looks == 1
        ? [Alpha]
        : [.. GroupSequential.Boundaries([.. Enumerable.Range(1, Looks).Select(k => k / (double)Looks)], Spending, Alpha).Select(GroupSequential.NominalLevel)];

    /// <exception cref="EvidenceInputException">A figure is out of range.</exception>
    internal void Check()
    {
        Require("plants per arm", PlantsPerArm, 2, 500);
        Require("plants", Blocks?.Count ?? 2 * PlantsPerArm, 4, 1000);
        CheckOutcome();
        Require("looks", Looks, 1, 20);
        Require("alpha", Alpha, 0.001, 0.2);
    }

    /// <summary>The plants to be dealt: names of no meaning, blocks as planned.</summary>
    internal List<TrialPlant> Seats() =>
        [.. Enumerable.Range(0, Blocks?.Count ?? 2 * PlantsPerArm).Select(i => new TrialPlant(FormattableString.Invariant($"p{i}"), Blocks?[i] ?? ""))];

    /// <summary>Checks what hangs on the outcome, the years among it: a leaf takes longer to lose than a flower to count.</summary>
    private protected abstract void CheckOutcome();

    private protected static void Require(string field, double value, double low, double high)
    {
        if (!(value >= low && value <= high))
        {
            throw new EvidenceInputException(field, value, FormattableString.Invariant($"{low} to {high}"));
        }
    }
}
