namespace Rootwater.Web.Hosting;

/// <summary>
/// Gives memory back to the machine when the program has come to rest, and while page follows page once enough litter lies about. Left to itself the runtime keeps what a large page or the
/// pots' fit once needed, as a machine with gigabytes to spare allows; here it would be a third of all.
/// </summary>
internal sealed class SpareMemory(TimeProvider clock) : BackgroundService
{
    // A sleeping program allocates some kilobytes between two looks, a page some megabytes. Tidying holds pages up for some tens of milliseconds, so not for less than this.
    private const long RestBytes = 1 << 20, WorthItBytes = 24 << 20, LitterBytes = 10 << 20;

    // Evidence looked at for the first time drops as much in half a second.
    private const long HeapBytes = 20 << 20;
    private const int LooksASecond = 4;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(TimeSpan.FromSeconds(1.0 / LooksASecond), clock);
        var (seen, tidied, kept) = (0L, 0L, 0L);
        try
        {
            for (var look = 1; await timer.WaitForNextTickAsync(stoppingToken); look++)
            {
                var litter = GC.GetTotalMemory(forceFullCollection: false) - kept;
                if (look % LooksASecond != 0 && litter < HeapBytes)
                {
                    continue;
                }

                var allocated = GC.GetTotalAllocatedBytes();
                var rests = allocated - seen < RestBytes;
                seen = allocated;
                if ((rests && allocated - tidied > WorthItBytes) || litter > LitterBytes)
                {
                    GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
                    NativeHeap.Trim();
                    (tidied, kept) = (allocated, GC.GetTotalMemory(forceFullCollection: false));
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The program stops.
        }
    }
}
