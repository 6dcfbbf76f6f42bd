namespace Rootwater.Web.Hosting;

/// <summary>
/// Gives memory back to the machine when the program has come to rest, and while page follows page once enough litter lies about. Left to itself the runtime keeps what a large page or the
/// pots' fit once needed, as a machine with gigabytes to spare allows; here it would be a third of all.
/// </summary>
internal sealed class SpareMemory(TimeProvider clock) : BackgroundService
{
    // A sleeping program allocates some kilobytes between two looks, a page some megabytes. Tidying holds pages up for some tens of milliseconds, so not for less than this.
    private const long RestBytes = 1 << 20, WorthItBytes = 24 << 20, LitterBytes = 10 << 20;
    private static readonly TimeSpan s_every = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(s_every, clock);
        var (seen, tidied, kept) = (0L, 0L, 0L);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                var allocated = GC.GetTotalAllocatedBytes();
                var rests = allocated - seen < RestBytes;
                seen = allocated;
                if ((rests && allocated - tidied > WorthItBytes) || GC.GetTotalMemory(forceFullCollection: false) - kept > LitterBytes)
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
