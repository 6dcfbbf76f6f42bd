namespace Rootwater.Growing.Pots;

/// <summary>A moment at which a run is looked at.</summary>
/// <param name="Hours">After the start.</param>
/// <param name="Event">What is done just before the look; null for none.</param>
/// <param name="Renews">The medium's resting base is solved anew here.</param>
internal readonly record struct PotStop(double Hours, PotEvent? Event, bool Renews)
{
    public bool AfterEvent => Event is not null;
}

/// <summary>What one run may lend to another of the same pot.</summary>
/// <param name="Rests">The resting bases at the same stops; null where the other differs in its carbon dioxide.</param>
/// <param name="TraceProtons">See <see cref="PotChemistry.TraceProtons"/>.</param>
internal sealed record Lent(RestingBase[]? Rests, double[]? TraceProtons);

/// <summary>When a run is looked at: every so many hours, before and after each event, and at the end.</summary>
internal static class PotSchedule
{
    public static PotStop[] Of(IReadOnlyList<PotEvent> events, double hours, double lookEveryHours)
    {
        var times = new SortedSet<double> { 0, hours };
        for (var i = 1; i * lookEveryHours < hours - 1e-6; i++)
        {
            times.Add(i * lookEveryHours);
        }

        foreach (var one in events)
        {
            times.Add(one.Hour);
        }

        var stops = new List<PotStop>(times.Count + events.Count);
        foreach (var time in times)
        {
            // Once a day is enough for the resting base: the totals drift by a few per cent in that time.
            stops.Add(new PotStop(time, null, lookEveryHours >= 24 || time % 24 == 0));
            foreach (var one in events)
            {
                if (one.Hour == time)
                {
                    stops.Add(new PotStop(time, one, true));
                }
            }
        }

        return [.. stops];
    }

    /// <summary>Runs a pot along the stops. What another run of the same pot found may be lent to it, which saves solves.</summary>
    public static PotRun Follow(ReadOnlySpan<PotStop> stops, PotParameters parameters, PotSetup setup, PotClimate climate, PotState start, Action<PotRun, PotStop, (WaterLook Medium, WaterLook? Reservoir)> see, Lent? lent = null, bool solvesReservoir = true)
    {
        var run = new PotRun(parameters, setup, climate, start) { TraceProtons = lent?.TraceProtons, SolvesReservoir = solvesReservoir };
        var now = 0.0;
        for (var i = 0; i < stops.Length; i++)
        {
            var stop = stops[i];
            run.Advance(stop.Hours - now);
            now = stop.Hours;
            if (stop.Event is { } what)
            {
                run.Do(what);
                run.RenewEcRatios();
            }

            if (lent?.Rests is { } rests)
            {
                run.Rest = rests[i];
            }
            else if (stop.Renews)
            {
                run.RenewRest();
            }

            see(run, stop, run.Look());
        }

        return run;
    }
}
