using System.Runtime.ExceptionServices;

namespace Rootwater.Ledger.Desks;

/// <summary>What a desk has in hand.</summary>
/// <param name="Sheet">As last worked out; null before the first time.</param>
/// <param name="IsBehind">Something was written since, or a new day has begun: it is being worked out again, so look again.</param>
public sealed record InHand<T>(T? Sheet, bool IsBehind) where T : class;

/// <summary>Keeps what was worked out from the ledger until the ledger moves or the day changes. Pages look and get at once what there is; who needs it as it stands waits.</summary>
internal sealed class SheetInHand<T>(Func<CancellationToken, Task<(NewestFact Newest, DateOnly Day)>> stands, Func<DateOnly, CancellationToken, Task<T>> work) : IDisposable where T : class
{
    private readonly SemaphoreSlim _working = new(1, 1);
    private readonly CancellationTokenSource _closing = new();
    private readonly Lock _beginning = new();
    private volatile Known? _known;
    private volatile Failed? _failed;
    private bool _running;

    /// <summary>As the ledger stands: worked out now where it has moved.</summary>
    public async Task<T> WaitAsync(CancellationToken cancel)
    {
        await _working.WaitAsync(cancel);
        try
        {
            var at = await stands(cancel);
            if (_known is not { } known || known.At != at)
            {
                _known = known = new Known(at, await work(at.Day, cancel));
            }

            return known.Sheet;
        }
        finally
        {
            _working.Release();
        }
    }

    /// <summary>What there is, at once; where that is behind, the work is begun and goes on without whoever asked.</summary>
    public async Task<InHand<T>> LookAsync(CancellationToken cancel)
    {
        var at = await stands(cancel);
        if (_known is { } known && known.At == at)
        {
            return new InHand<T>(known.Sheet, false);
        }

        if (_failed is { } failed && failed.At == at)
        {
            failed.Why.Throw();
        }

        lock (_beginning)
        {
            if (!_running && !_closing.IsCancellationRequested)
            {
                _running = true;
                _ = Task.Run(() => WorkAsync(at), CancellationToken.None);
            }
        }

        return new InHand<T>(_known?.Sheet, true);
    }

    public void Dispose() => _closing.Cancel();

    private async Task WorkAsync((NewestFact Newest, DateOnly Day) at)
    {
        try
        {
            await WaitAsync(_closing.Token);
        }
        catch (Exception fault)
        {
            // Whoever looks next is told.
            _failed = new Failed(at, ExceptionDispatchInfo.Capture(fault));
        }
        finally
        {
            lock (_beginning)
            {
                _running = false;
            }
        }
    }

    private sealed record Known((NewestFact Newest, DateOnly Day) At, T Sheet);

    private sealed record Failed((NewestFact Newest, DateOnly Day) At, ExceptionDispatchInfo Why);
}
