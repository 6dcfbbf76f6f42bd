using System.Globalization;
using CsCheck;
using Rootwater.Ledger.Backup;

namespace Rootwater.Ledger.Tests.Backup;

/// <summary>Which backups are kept.</summary>
public sealed class BackupRetentionTests
{
    private static readonly DateTimeOffset s_start = new(2026, 1, 1, 3, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Two_years_of_daily_backups_come_down_to_the_last_days_weeks_and_months()
    {
        var daily = Enumerable.Range(0, 730).Select(day => s_start.AddDays(day)).ToList();
        var kept = new BackupRetention { Days = 3, Weeks = 2, Months = 4 }.Keep(daily).Order().Select(time => time.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));

        // The last day is Friday 31 December 2027: three days, the Sunday before, and the ends of three months.
        kept.ShouldBe(["2027-09-30", "2027-10-31", "2027-11-30", "2027-12-26", "2027-12-29", "2027-12-30", "2027-12-31"]);
    }

    [Fact]
    public void The_newest_is_kept_whatever_the_rule_says() =>
        new BackupRetention { Days = 0, Weeks = 0, Months = 0 }.Keep([s_start, s_start.AddHours(1)]).ShouldBe([s_start.AddHours(1)]);

    [Fact]
    public void Old_backups_outlive_a_pause() =>
        // Days count from those that have a backup, not from today: a bench left alone for a year loses nothing by its next backup.
        new BackupRetention { Days = 2, Weeks = 0, Months = 0 }.Keep([s_start, s_start.AddDays(400)]).Count.ShouldBe(2);

    [Fact]
    public void A_rule_out_of_range_is_refused_by_name() =>
        Should.Throw<EntryException>(() => new BackupRetention { Days = -1, Months = 9999 }.Checked()).Problems.Select(problem => problem.Field).ShouldBe(["backup days", "backup months"]);

    [Fact]
    public void No_more_are_kept_than_the_rule_allows_and_pruning_twice_changes_nothing() =>
        Gen.Select(Gen.Int[0, 2000].Array[0, 60], Gen.Int[0, 6], Gen.Int[0, 6], Gen.Int[0, 6]).Sample((hours, days, weeks, months) =>
        {
            var made = hours.Distinct().Select(hour => s_start.AddHours(hour)).ToList();
            var rule = new BackupRetention { Days = days, Weeks = weeks, Months = months };
            var kept = rule.Keep(made);
            kept.Count.ShouldBeLessThanOrEqualTo(Math.Max(1, days + weeks + months));
            kept.IsSubsetOf(made).ShouldBeTrue();
            if (made.Count > 0)
            {
                kept.ShouldContain(made.Max());
            }

            rule.Keep(kept).SetEquals(kept).ShouldBeTrue();
        });
}
