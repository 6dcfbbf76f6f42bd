using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Hosting;

/// <summary>
/// Reads the lives, dates and seasons once, as soon as the program answers, so that no page of evidence, causes or the year waits for it. Setting: <c>evidence:warm</c> (true; false reads when a page asks).
/// </summary>
internal sealed class EvidenceWarmUp(
    ISeasonDesk seasons, ICauseDesk causes, IEvidenceDesk evidence, ITrialDesk trials, IPlantDesk plants, IConfiguration configuration, IHostApplicationLifetime life, ILogger<EvidenceWarmUp> log) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (!configuration.GetValue("evidence:warm", true))
        {
            return;
        }

        var started = new TaskCompletionSource();
        await using var told = life.ApplicationStarted.Register(started.SetResult);
        try
        {
            await started.Task.WaitAsync(stoppingToken);
            await seasons.GetAsync(stoppingToken);
            if ((await plants.ListAsync(cancel: stoppingToken)).FirstOrDefault() is not { } first)
            {
                return;
            }

            await causes.SheetAsync(first.Id, cancel: stoppingToken);
            await trials.ListAsync(stoppingToken);
            // The questions that the evidence page opens with, of the whole bench.
            var all = new EvidenceQuestion(new PlantGroup());
            await evidence.LivesAsync(all, stoppingToken);
            await evidence.DriversAsync(all, stoppingToken);
            await evidence.GrowthAsync(all, stoppingToken);
        }
        catch (Exception fault)
        {
            // Whoever opens the page meets the same trouble and is told.
            EvidenceWarmUpLog.Failed(log, fault);
        }
    }
}

internal static partial class EvidenceWarmUpLog
{
    [LoggerMessage(Level = LogLevel.Debug, Message = "Evidence was not worked out at the start.")]
    public static partial void Failed(ILogger log, Exception fault);
}
