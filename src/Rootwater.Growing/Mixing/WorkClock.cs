using System.Diagnostics;

namespace Rootwater.Growing.Mixing;

/// <summary>
/// How long a search has been at it, counted in the work it did: solves of the chemistry, steps tried, pivots and nodes of programs, each at the time it takes on
/// an ordinary machine. The same request is therefore cut off at the same place on a fast, a slow and a busy machine.
/// </summary>
/// <remarks>
/// The wall clock is a guard only: past it everything counts as used up, and what is found then depends on the machine. Work is added up in whole nanoseconds, so
/// that threads may add theirs in any order; <see cref="Elapsed"/> is read where no other thread is at work.
/// </remarks>
/// <param name="guard">Wall time after which the search ends in any case; none where nothing waits for it.</param>
internal sealed class WorkClock(TimeSpan? guard = null)
{
    // Measured in processor time on the two cores the project is built on, 26 November 2026, and rounded: warm, a can of 14 to 30 products.
    private const long Solve = 25_000, Point = 40, PointTerm = 5, Relaxation = 300_000, RelaxationRow = 250, Integer = 5_000_000, IntegerTerm = 300, NodeTerm = 900;

    // Far past every limit, and small enough to be added to.
    private static readonly TimeSpan s_over = TimeSpan.FromDays(1);
    private readonly long _guardTicks = guard is { } limit ? Stopwatch.GetTimestamp() + (long)(limit.TotalSeconds * Stopwatch.Frequency) : long.MaxValue;
    private long _nanoseconds;

    /// <summary>Work so far; past the guard more than any limit.</summary>
    public TimeSpan Elapsed => GuardLeft <= TimeSpan.Zero ? s_over : TimeSpan.FromTicks(Interlocked.Read(ref _nanoseconds) / TimeSpan.NanosecondsPerTick);

    /// <summary>Wall time until the guard.</summary>
    public TimeSpan GuardLeft => _guardTicks == long.MaxValue ? TimeSpan.FromHours(1) : Stopwatch.GetElapsedTime(Stopwatch.GetTimestamp(), _guardTicks);

    /// <summary>Full solves of the chemistry.</summary>
    public void Solves(long count) => Add(count * Solve);

    /// <summary>Points priced on straight lines.</summary>
    /// <param name="count">Of points.</param>
    /// <param name="terms">Measures looked at for each.</param>
    public void Points(long count, int terms) => Add(count * (Point + terms * PointTerm));

    /// <summary>A linear program.</summary>
    public void Relaxed(long pivots, int rows) => Add(Relaxation + pivots * rows * RelaxationRow);

    /// <summary>An integer program.</summary>
    public void Searched(long pivots, long terms) => Add(Integer + pivots * terms * IntegerTerm);

    /// <summary>How many nodes of an integer program some work allows.</summary>
    public static long NodesIn(TimeSpan work, long terms) => Math.Max(1, work.Ticks * TimeSpan.NanosecondsPerTick / (NodeTerm * Math.Max(1, terms)));

    private void Add(long nanoseconds) => Interlocked.Add(ref _nanoseconds, nanoseconds);
}
