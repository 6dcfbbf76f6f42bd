namespace Rootwater.Benchmarks.Scale;

/// <summary>The last day of a large bench, whenever it is measured.</summary>
internal sealed class FixedClock(DateTimeOffset now) : TimeProvider
{
    public override DateTimeOffset GetUtcNow() => now;
}
