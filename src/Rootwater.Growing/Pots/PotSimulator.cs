using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>One water of a pot at one moment.</summary>
/// <param name="PH">pH at the pot's temperature.</param>
/// <param name="EcMicrosiemensPerCm">EC at 25 °C.</param>
/// <param name="Water">Volume and totals.</param>
public sealed record PotLook(double PH, double EcMicrosiemensPerCm, PotWater Water);

/// <summary>Both waters of a pot at one moment.</summary>
/// <param name="Hours">After the start.</param>
/// <param name="AfterEvent">True right after something was done to the pot; the sample before it has the same hour.</param>
/// <param name="Medium">The water held in the medium: what the roots meet.</param>
/// <param name="Reservoir">The reservoir; null where there is none or it is empty.</param>
public sealed record PotSample(double Hours, bool AfterEvent, PotLook Medium, PotLook? Reservoir);

/// <summary>What came and went, mol of each component: start + added + medium + air + transformed - taken up - run-off = end.</summary>
public sealed record PotBudget
{
    public required ComponentAmounts Start { get; init; }
    public required ComponentAmounts Added { get; init; }

    /// <summary>Base and salt out of the medium, less what it bound.</summary>
    public required ComponentAmounts FromMedium { get; init; }

    /// <summary>Carbon dioxide out of the pot air (negative: into it).</summary>
    public required ComponentAmounts FromAir { get; init; }

    /// <summary>What microbes made, less what they made it from.</summary>
    public required ComponentAmounts Transformed { get; init; }
    public required ComponentAmounts TakenUp { get; init; }
    public required ComponentAmounts RunOff { get; init; }
    public required ComponentAmounts End { get; init; }
    public required double StartLitres { get; init; }
    public required double AddedLitres { get; init; }
    public required double EvaporatedLitres { get; init; }
    public required double TranspiredLitres { get; init; }
    public required double RunOffLitres { get; init; }
    public required double EndLitres { get; init; }
}

/// <summary>A pot over some days.</summary>
public sealed record PotTrajectory(IReadOnlyList<PotSample> Samples, PotState Start, PotState End, PotBudget Budget, WaterLoss Loss);

/// <summary>The deterministic simulator: a function of parameters, setup, climate, state and events, and of nothing else.</summary>
public static class PotSimulator
{
    /// <summary>Runs a pot and looks at it at regular hours and before and after each event.</summary>
    /// <param name="parameters">The constants of the model.</param>
    /// <param name="setup">The pot.</param>
    /// <param name="climate">Its air.</param>
    /// <param name="start">What it holds at hour 0.</param>
    /// <param name="events">What is done to it; in any order, those of one hour in the order given.</param>
    /// <param name="hours">How long.</param>
    /// <param name="lookEveryHours">How often pH and EC are solved; carbon dioxide is brought on at each look.</param>
    /// <exception cref="PotInputException">Something given cannot be used.</exception>
    public static PotTrajectory Run(PotParameters parameters, PotSetup setup, PotClimate climate, PotState start, IReadOnlyList<PotEvent> events, double hours, double lookEveryHours = 6)
    {
        PotInputException.RequireWithin("lookEveryHours", lookEveryHours, 0.25, 48, "hours");
        PotInputs.Check(parameters, setup, climate, start, events, hours);
        var samples = new List<PotSample>();
        var schedule = PotSchedule.Of(events, hours, lookEveryHours);
        var run = PotSchedule.Follow(schedule, parameters, setup, climate, start, (run, stop, looks) => samples.Add(new PotSample(
            stop.Hours, stop.AfterEvent,
            new PotLook(looks.Medium.PH, looks.Medium.Ec25MicrosiemensPerCm, new PotWater(run.MediumLitres, ComponentAmounts.FromSpan(run.MediumMol))),
            looks.Reservoir is { } look ? new PotLook(look.PH, look.Ec25MicrosiemensPerCm, new PotWater(run.ReservoirLitres, ComponentAmounts.FromSpan(run.ReservoirMol))) : null)));
        return new PotTrajectory(samples, start, run.State, BudgetOf(run), run.Loss);
    }

    internal static PotBudget BudgetOf(PotRun run)
    {
        var keeper = run.Budget;
        var end = run.MediumMol.ToArray();
        PotProcesses.Add(end, run.ReservoirMol, 1);
        return new PotBudget
        {
            Start = ComponentAmounts.FromSpan(keeper.Start),
            Added = ComponentAmounts.FromSpan(keeper.Added),
            FromMedium = ComponentAmounts.FromSpan(keeper.FromMedium),
            FromAir = ComponentAmounts.FromSpan(keeper.FromAir),
            Transformed = ComponentAmounts.FromSpan(keeper.Transformed),
            TakenUp = ComponentAmounts.FromSpan(keeper.TakenUp),
            RunOff = ComponentAmounts.FromSpan(keeper.RunOff),
            End = ComponentAmounts.FromSpan(end),
            StartLitres = keeper.StartLitres,
            AddedLitres = keeper.AddedLitres,
            EvaporatedLitres = keeper.EvaporatedLitres,
            TranspiredLitres = keeper.TranspiredLitres,
            RunOffLitres = keeper.RunOffLitres,
            EndLitres = run.MediumLitres + run.ReservoirLitres,
        };
    }
}
