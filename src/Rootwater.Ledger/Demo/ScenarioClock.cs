namespace Rootwater.Ledger.Demo;

/// <summary>A clock that the scenario moves as it tells what happened.</summary>
internal sealed class ScenarioClock(DateTimeOffset start) : TimeProvider
{
    private DateTimeOffset _now = start;

    public void MoveTo(DateTimeOffset moment) => _now = moment > _now ? moment : throw new ArgumentException($"The scenario is at {_now:u} already.", nameof(moment));

    public void Pass(TimeSpan time) => _now += time;

    public override DateTimeOffset GetUtcNow() => _now;
}
