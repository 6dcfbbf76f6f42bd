using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>One pot that a can is to serve.</summary>
public sealed record ServedPot
{
    public required PotSetup Setup { get; init; }
    public required PotClimate Climate { get; init; }

    /// <summary>What it holds now, as the data sheet counts (<see cref="FittedPot.StateNow"/>).</summary>
    public required PotState Before { get; init; }

    /// <summary>What it may be: draws of its parameters (<see cref="PotCalibration.Draws"/>). One is enough for no uncertainty.</summary>
    public required IReadOnlyList<PotParameters> Draws { get; init; }

    /// <summary>The plant's window of the pH at the root.</summary>
    public required Band RootPH { get; init; }

    /// <summary>Highest EC at 25 °C at the root, µS/cm.</summary>
    public double MostEcMicrosiemensPerCm { get; init; } = 1500;
    public Guid Id => Setup.Id;
}

/// <summary>What the search over a group's pour needs.</summary>
public sealed record GroupPourRequest
{
    public required IReadOnlyList<ServedPot> Pots { get; init; }

    /// <summary>The feed at full strength before any acid or base, mol per kg of water.</summary>
    public required ComponentAmounts FeedMolPerKgWater { get; init; }

    /// <summary>The water it is thinned and leached with, mol per kg of water.</summary>
    public ComponentAmounts WaterMolPerKgWater { get; init; } = ComponentAmounts.Zero;

    /// <summary>Days from feed to feed.</summary>
    public double Days { get; init; } = 7;

    /// <summary>How many feeds ahead are looked at (1 to 16): enough of them for salt to build up between leaches.</summary>
    public int Feeds { get; init; } = 8;
    public IReadOnlyList<double> PourPH { get; init; } = [5.0, 5.3, 5.6, 5.9, 6.2, 6.5, 6.8];
    public IReadOnlyList<double> Strengths { get; init; } = [1, 0.7, 0.5];

    /// <summary>Leach before every so many feeds; 0 is never.</summary>
    public IReadOnlyList<int> LeachEvery { get; init; } = [0, 4, 2];

    /// <summary>Time outside the window that nobody minds, share: more is "leaving it".</summary>
    public double TolerableOutside { get; init; } = 0.1;
    public ComponentAmounts AcidPerMole { get; init; } = PotInverse.NitricAcid;
    public ComponentAmounts BasePerMole { get; init; } = PotInverse.PotassiumHydroxide;

    internal void Check()
    {
        if (Pots.Count == 0 || Pots.Any(pot => pot.Draws.Count == 0))
        {
            throw new PotInputException("pots", Pots.Count, "one or more pots, each with at least one draw of its parameters");
        }

        if (PourPH.Count == 0 || PourPH.Any(ph => ph is not (>= 3 and <= 10)))
        {
            throw new PotInputException("pourPH", string.Join(", ", PourPH), "one or more pH from 3 to 10");
        }

        if (Strengths.Count == 0 || Strengths.Any(strength => strength is not (> 0 and <= 3)))
        {
            throw new PotInputException("strengths", string.Join(", ", Strengths), "one or more factors above 0, at most 3");
        }

        if (LeachEvery.Count == 0 || LeachEvery.Any(every => every < 0))
        {
            throw new PotInputException("leachEvery", string.Join(", ", LeachEvery), "0 for never, or a number of feeds");
        }

        PotInputException.RequireWithin("days", Days, 0.5, 60, "days from feed to feed");
        PotInputException.RequireWithin("feeds", Feeds, 1, 16, "feeds");
        foreach (var pot in Pots)
        {
            PotInputs.Check(pot.Draws[0], pot.Setup, pot.Climate, pot.Before, [], 24 * Days);
        }
    }
}

/// <summary>One way of pouring and what it brings a pot.</summary>
/// <param name="PH">pH as poured.</param>
/// <param name="Strength">Relative to the feed.</param>
/// <param name="LeachEvery">Leach before every so many feeds; 0 is never.</param>
/// <param name="ShareInWindow">Share of the time inside window and EC limit: mean over the draws, with their 10th and 90th percentile.</param>
/// <param name="ChanceOfLeaving">Chance that more time than is tolerable is spent outside, 0 to 1.</param>
public sealed record PourOutcome(double PH, double Strength, int LeachEvery, Expected ShareInWindow, double ChanceOfLeaving);

/// <summary>What the shared can and a can of its own would bring one pot.</summary>
/// <param name="PotId">Which.</param>
/// <param name="Shared">With the group's can and the leach interval that suits the pot.</param>
/// <param name="Own">With a can of its own.</param>
public sealed record MemberOutcome(Guid PotId, PourOutcome Shared, PourOutcome Own)
{
    /// <summary>Days a week inside the window that a can of its own would add.</summary>
    public double DaysAWeekLost => 7 * Math.Max(0, Own.ShareInWindow.Value - Shared.ShareInWindow.Value);
}

/// <summary>How to pour for a group that shares a can.</summary>
/// <param name="PH">The shared can's pH.</param>
/// <param name="Strength">Its strength.</param>
/// <param name="Members">Pot by pot, the one that loses most first.</param>
/// <param name="MeanDaysAWeekLost">What treating all alike costs the mean pot.</param>
/// <param name="Words">In sentences.</param>
public sealed record GroupPourAdvice(double PH, double Strength, IReadOnlyList<MemberOutcome> Members, double MeanDaysAWeekLost, IReadOnlyList<string> Words);
