using System.Collections.Concurrent;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>Six years as they are told: on a thread of their own, while the database is made ready and while earlier facts are written.</summary>
internal sealed class ToldYears : IDisposable
{
    private const int Ahead = 4000;

    private readonly BlockingCollection<(Fact, FactPayload?)> _told = new(Ahead);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task<SixYearScenario> _telling;

    public ToldYears(DateOnly today, int seed) => _telling = Task.Run(() => Tell(today, seed, _stop.Token));

    /// <summary>In order, once; the last comes when all were told, and a fault of the telling comes in its stead.</summary>
    public IEnumerable<(Fact Fact, FactPayload? Payload)> Facts(CancellationToken cancel)
    {
        foreach (var fact in _told.GetConsumingEnumerable(cancel))
        {
            yield return fact;
        }

        _telling.GetAwaiter().GetResult();
    }

    /// <summary>Pictures the facts speak of, by their hash, when all were told.</summary>
    public async Task<IReadOnlyDictionary<string, byte[]>> PicturesAsync() => (await _telling).Pictures;

    public void Dispose()
    {
        _stop.Cancel();
        // Not beside a thread that still adds to it.
        ((IAsyncResult)_telling).AsyncWaitHandle.WaitOne();
        _told.Dispose();
        _stop.Dispose();
    }

    private SixYearScenario Tell(DateOnly today, int seed, CancellationToken stop)
    {
        try
        {
            var scenario = new SixYearScenario(today, seed);
            foreach (var fact in scenario.Facts())
            {
                var recorded = scenario.Clock.GetUtcNow();
                var when = fact.When ?? BenchClock.MinuteAt(recorded, SixYearScenario.Zone);
                _told.Add((FactLog.Row(fact, FactKinds.Write(fact.Payload), when, recorded, 0, "demo", $"demo seed {seed}"), fact.Payload), stop);
            }

            return scenario;
        }
        finally
        {
            _told.CompleteAdding();
        }
    }
}
