using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging.Abstractions;
using Rootwater.Ledger;
using Rootwater.Ledger.Backup;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Exchange;
using Rootwater.Web.Hosting;

namespace Rootwater.Web.Tests;

/// <summary>When the program backs up by itself.</summary>
public sealed class BackupScheduleTests : IBackupDesk
{
    private readonly List<BackupView> _made = [];
    private readonly Later _clock = new();
    private Exception? _fault;

    [Fact]
    public async Task A_backup_is_made_when_the_newest_is_old_enough_and_not_before()
    {
        var schedule = Schedule(("backup:hours", "12"));
        await schedule.LookAsync(TestContext.Current.CancellationToken);
        await schedule.LookAsync(TestContext.Current.CancellationToken);
        _made.Count.ShouldBe(1);
        _clock.Now += TimeSpan.FromHours(11);
        await schedule.LookAsync(TestContext.Current.CancellationToken);
        _made.Count.ShouldBe(1);
        _clock.Now += TimeSpan.FromHours(2);
        await schedule.LookAsync(TestContext.Current.CancellationToken);
        _made.Count.ShouldBe(2);
    }

    [Fact]
    public async Task A_backup_that_fails_is_said_and_tried_again()
    {
        var schedule = Schedule();
        _fault = new LedgerProblem(LedgerFault.DiskFull, "The other disk is full.");
        await schedule.LookAsync(TestContext.Current.CancellationToken);
        schedule.LastProblem.ShouldBe("The other disk is full.");
        _fault = null;
        await schedule.LookAsync(TestContext.Current.CancellationToken);
        schedule.LastProblem.ShouldBeNull();
        _made.Count.ShouldBe(1);
    }

    [Fact]
    public void How_many_are_kept_is_a_setting_and_a_wrong_one_is_refused_by_name()
    {
        Schedule(("backup:days", "3")).Retention.ShouldBe(new BackupRetention { Days = 3 });
        Should.Throw<EntryException>(() => Schedule(("backup:weeks", "-1"))).Problems[0].Field.ShouldBe("backup weeks");
    }

    private BackupSchedule Schedule(params (string Key, string Value)[] settings) => new(
        this, new ConfigurationBuilder().AddInMemoryCollection(settings.Select(pair => new KeyValuePair<string, string?>(pair.Key, pair.Value))).Build(), _clock, NullLogger<BackupSchedule>.Instance);

    string IBackupDesk.Folder => "";

    Task<BackupView> IBackupDesk.NowAsync(BackupRetention? retention, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        if (_fault is not null)
        {
            throw _fault;
        }

        _made.Insert(0, new BackupView(_made.Count.ToString(System.Globalization.CultureInfo.InvariantCulture), _clock.Now, _made.Count, 0, 0, null));
        return Task.FromResult(_made[0]);
    }

    Task<IReadOnlyList<BackupView>> IBackupDesk.ListAsync(CancellationToken cancel) => Task.FromResult<IReadOnlyList<BackupView>>([.. _made]);

    Task<BackupVerdict> IBackupDesk.VerifyAsync(string? name, CancellationToken cancel) => throw new NotSupportedException();

    private sealed class Later : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = new(2026, 3, 14, 9, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
