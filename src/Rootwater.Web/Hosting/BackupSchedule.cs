using Rootwater.Ledger;
using Rootwater.Ledger.Backup;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Hosting;

/// <summary>
/// Backs the bench up on a schedule while the program runs. Settings: <c>backup:hours</c> (24; 0 switches it off), <c>backup:days</c>, <c>backup:weeks</c>, <c>backup:months</c> for how
/// many are kept. A bench to which nothing was added since the newest backup is not backed up again.
/// </summary>
public sealed partial class BackupSchedule(IBackupDesk desk, IConfiguration configuration, TimeProvider clock, ILogger<BackupSchedule> log, BenchDesks? bench = null) : BackgroundService
{
    private static readonly TimeSpan s_look = TimeSpan.FromMinutes(10);

    public TimeSpan Every { get; } = TimeSpan.FromHours(Math.Clamp(configuration.GetValue("backup:hours", 24.0), 0, 24 * 365));

    public BackupRetention Retention { get; } = new BackupRetention
    {
        Days = configuration.GetValue("backup:days", new BackupRetention().Days),
        Weeks = configuration.GetValue("backup:weeks", new BackupRetention().Weeks),
        Months = configuration.GetValue("backup:months", new BackupRetention().Months),
    }.Checked();

    /// <summary>Why the last one could not be made; null when it could.</summary>
    public string? LastProblem { get; private set; }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (Every == TimeSpan.Zero)
            return;
        using var timer = new PeriodicTimer(s_look, clock);
        do
        {
            await LookAsync(stoppingToken);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    internal async Task LookAsync(CancellationToken cancel)
    {
        try
        {
            var newest = (await desk.ListAsync(cancel)).FirstOrDefault(backup => backup.Problem is null);
            if (newest is not null && (clock.GetUtcNow() - newest.MadeAt < Every || await FactsAsync(cancel) == newest.Facts))
                return;
            if (newest is null && await FactsAsync(cancel) == 0)
                return;
            await desk.NowAsync(Retention, cancel: cancel);
            LastProblem = null;
        }
        catch (Exception problem) when (problem is LedgerProblem or EntryException)
        {
            // The bench goes on; the page and the API say that its backups do not.
            LastProblem = problem.Message;
            Failed(log, problem.Message);
        }
    }

    private async Task<long> FactsAsync(CancellationToken cancel) => bench is null ? -1
        : await bench.Database.ReadAsync(db => Task.FromResult((long)db.Facts.Count()), cancel);

    [LoggerMessage(Level = LogLevel.Error, Message = "No backup was made: {Why}")]
    private static partial void Failed(ILogger log, string why);
}
