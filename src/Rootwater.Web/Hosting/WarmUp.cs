using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Hosting;

/// <summary>
/// Works out once, as soon as the program answers, what pages would else wait for: trials, the history of cans, the cupboard ahead, the waters' year; then, unless the setting
/// <c>evidence:warm</c> is false, seasons, causes and the questions the evidence page opens with.
/// </summary>
internal sealed class WarmUp(
    ICanHistoryDesk history, ITrialDesk trials, ISupplyDesk supply, IWaterYearDesk water, ISeasonDesk seasons, ICauseDesk causes, IEvidenceDesk evidence, IPlantDesk plants,
    IConfiguration configuration, IHostApplicationLifetime life, ILogger<WarmUp> log) : BackgroundService
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
            if (configuration.GetValue("evidence:warm", true))
            {
                await EvidenceAsync(stoppingToken);
            }

            // Years of lives and cans were read for a handful of answers: what is left of them goes back to the machine.
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        }
        catch (Exception fault)
        {
            // Whoever opens the page meets the same trouble and is told.
            WarmUpLog.Failed(log, fault);
        }
    }

    private async Task EvidenceAsync(CancellationToken cancel)
    {
        await seasons.GetAsync(cancel);
        if ((await plants.ListAsync(cancel: cancel)).FirstOrDefault() is not { } first)
        {
            return;
        }

        await causes.SheetAsync(first.Id, cancel: cancel);
        await trials.ListAsync(cancel);
        var all = new EvidenceQuestion(new PlantGroup());
        await evidence.LivesAsync(all, cancel);
        await evidence.DriversAsync(all, cancel);
        await evidence.GrowthAsync(all, cancel);
    }
}

internal static partial class WarmUpLog
{
    [LoggerMessage(Level = LogLevel.Debug, Message = "What pages look back and ahead on was not all worked out at the start.")]
    public static partial void Failed(ILogger log, Exception fault);
}
