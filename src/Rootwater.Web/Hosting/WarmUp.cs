using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Hosting;

/// <summary>
/// Works out once, as soon as the program answers, what pages would else wait for: first what is opened first thing in the morning, then the pots' fit, then what looks back and ahead.
/// Settings: <c>pots:fit</c> and <c>evidence:warm</c> (true; false works it out when a page asks).
/// </summary>
internal sealed class WarmUp(
    IRoundDesk rounds, IPlantDesk plants, IYearDesk year, IPotLearningDesk pots, ICanHistoryDesk history, ITrialDesk trials, ISupplyDesk supply, IWaterYearDesk water, ISeasonDesk seasons, ICauseDesk causes,
    IEvidenceDesk evidence, IConfiguration configuration, IHostApplicationLifetime life, ILogger<WarmUp> log) : BackgroundService
{
    // The evidence of a bench of 500 plants takes both processors for minutes and a gigabyte while it is worked out: it waits until somebody asks.
    private const int MostPlantsForEvidence = 120;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var started = new TaskCompletionSource();
        await using var told = life.ApplicationStarted.Register(started.SetResult);
        try
        {
            await started.Task.WaitAsync(stoppingToken);
            await rounds.TodayAsync(cancel: stoppingToken);
            await trials.ArmsAsync(stoppingToken);
            var standing = await plants.ListAsync(cancel: stoppingToken);
            await year.GetAsync(cancel: stoppingToken);
            if (configuration.GetValue("pots:fit", true))
            {
                pots.RefreshSoon();
            }

            await history.ListAsync(1, stoppingToken);
            await supply.AheadAsync(stoppingToken);
            await water.GetAsync(stoppingToken);
            if (configuration.GetValue("evidence:warm", true) && standing.Count is > 0 and <= MostPlantsForEvidence)
            {
                await EvidenceAsync(standing[0].Id, stoppingToken);
            }
        }
        catch (Exception fault)
        {
            // Whoever opens the page meets the same trouble and is told.
            WarmUpLog.Failed(log, fault);
        }
    }

    public override Task StopAsync(CancellationToken cancellationToken)
    {
        pots.Stop();
        return base.StopAsync(cancellationToken);
    }

    private async Task EvidenceAsync(Guid plant, CancellationToken cancel)
    {
        await seasons.GetAsync(cancel);
        await causes.SheetAsync(plant, cancel: cancel);
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
