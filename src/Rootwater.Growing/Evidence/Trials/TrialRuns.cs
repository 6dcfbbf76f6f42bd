namespace Rootwater.Growing.Evidence.Trials;

/// <summary>One simulated trial.</summary>
/// <param name="Stop">The look at which it claims; -1 for never.</param>
/// <param name="Total">What was counted by its end, both arms.</param>
internal readonly record struct TrialRun(int Stop, double Total);

/// <summary>Draws one trial of a plan.</summary>
internal delegate TrialRun DrawTrial(IReadOnlyList<double> levels, TrialRedraws redraws, Random random);

/// <summary>A plan's trials drawn many times over, on all cores: each run has a seed of its own, so that the same seed gives the same figure on any machine.</summary>
internal static class TrialRuns
{
    /// <summary>The power, and in <see cref="TrialPowerResult.MeanLosses"/> the mean of what the runs counted.</summary>
    public static TrialPowerResult Power(PlannedTrial design, int runs, int seed, IProgress<double>? progress, CancellationToken cancel, DrawTrial draw)
    {
        design.Check();
        var levels = design.Levels();
        var redraws = new TrialRedraws(design.Seats(), seed);
        var stops = new int[design.Looks];
        var totals = new double[runs];
        var done = 0;
        Parallel.For(0, runs, new ParallelOptions { CancellationToken = cancel }, run =>
        {
            var drawn = draw(levels, redraws, new Random(unchecked(seed * 1_000_003 + run)));
            totals[run] = drawn.Total;
            if (drawn.Stop >= 0)
            {
                Interlocked.Increment(ref stops[drawn.Stop]);
            }

            var so = Interlocked.Increment(ref done);
            if (so % 50 == 0)
            {
                progress?.Report(so / (double)runs);
            }
        });

        var power = stops.Sum() / (double)runs;
        return new TrialPowerResult(power, Math.Sqrt(power * (1 - power) / runs), totals.Average(), [.. stops.Select(stop => stop / (double)runs)], levels, runs);
    }
}
