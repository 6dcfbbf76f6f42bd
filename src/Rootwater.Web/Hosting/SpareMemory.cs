namespace Rootwater.Web.Hosting;

/// <summary>
/// Gives memory back to the machine that the runtime holds and does not use. Left to itself it keeps what a large page or the pots' fit once needed, as a machine with gigabytes to spare allows;
/// here a hundred megabytes are a third of all. At most one part in a hundred of the time goes into it.
/// </summary>
internal sealed class SpareMemory(TimeProvider clock) : BackgroundService
{
    private const long MostSpareBytes = 40 << 20;
    private const int OfTime = 100;
    private static readonly TimeSpan s_every = TimeSpan.FromSeconds(3);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var notBefore = clock.GetTimestamp();
        using var timer = new PeriodicTimer(s_every, clock);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                var began = clock.GetTimestamp();
                if (began < notBefore || Spare() < MostSpareBytes)
                {
                    continue;
                }

                GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
                var ended = clock.GetTimestamp();
                notBefore = ended + OfTime * (ended - began);
            }
        }
        catch (OperationCanceledException)
        {
            // The program stops.
        }
    }

    private static long Spare()
    {
        var info = GC.GetGCMemoryInfo(GCKind.Any);
        return info.TotalCommittedBytes - (info.HeapSizeBytes - info.FragmentedBytes);
    }
}
