using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Hosting;

/// <summary>Reads the trials and works the history of cans, the cupboard ahead and the waters' year out once, as soon as the program answers, so that no page waits for them.</summary>
internal sealed class HistoryWarmUp(ICanHistoryDesk history, ITrialDesk trials, ISupplyDesk supply, IWaterYearDesk water, IHostApplicationLifetime life, ILogger<HistoryWarmUp> log) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var started = new TaskCompletionSource();
        await using var told = life.ApplicationStarted.Register(started.SetResult);
        try
        {
            await started.Task.WaitAsync(stoppingToken);
            await trials.ArmsAsync(stoppingToken);
            await history.ListAsync(1, stoppingToken);
            await supply.AheadAsync(stoppingToken);
            await water.GetAsync(stoppingToken);
        }
        catch (Exception fault)
        {
            // Whoever opens the page meets the same trouble and is told.
            HistoryWarmUpLog.Failed(log, fault);
        }
    }
}

internal static partial class HistoryWarmUpLog
{
    [LoggerMessage(Level = LogLevel.Debug, Message = "What pages look back and ahead on was not worked out at the start.")]
    public static partial void Failed(ILogger log, Exception fault);
}
