using CsCheck;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Facts;

public sealed class FactWhenTests
{
    [Fact]
    public void A_day_begins_at_midnight_and_ends_with_its_last_minute()
    {
        var when = FactWhen.OnDay(new DateOnly(2026, 3, 14), "UTC");

        FactWhen.ToStored(when.Earliest).ShouldBe("2026-03-14T00:00");
        FactWhen.ToStored(when.Latest).ShouldBe("2026-03-14T23:59");
    }

    [Fact]
    public void February_of_a_leap_year_has_29_days()
    {
        FactWhen.ToStored(FactWhen.InMonth(2024, 2, "UTC").Latest).ShouldBe("2024-02-29T23:59");
    }

    [Fact]
    public void A_year_lasts_from_January_to_December()
    {
        var when = FactWhen.InYear(2022, "UTC");

        (when.EarliestDay, DateOnly.FromDateTime(when.Latest)).ShouldBe((new DateOnly(2022, 1, 1), new DateOnly(2022, 12, 31)));
    }

    [Fact]
    public void A_moment_is_told_by_the_clock_on_the_benchs_wall()
    {
        // UTC+14 all year round: the farthest from UTC a wall clock can be.
        var when = BenchClock.MinuteAt(new DateTimeOffset(2026, 3, 14, 12, 34, 56, TimeSpan.Zero), "Etc/GMT-14");

        FactWhen.ToStored(when.Earliest).ShouldBe("2026-03-15T02:34");
        when.Zone.ShouldBe("Etc/GMT-14");
        BenchClock.DayAt(new DateTimeOffset(2026, 3, 14, 12, 34, 56, TimeSpan.Zero), "Etc/GMT-14").ShouldBe(new DateOnly(2026, 3, 15));
    }

    [Fact]
    public void A_zone_this_machine_does_not_know_is_named_with_the_way_out()
    {
        Should.Throw<LedgerProblem>(() => BenchClock.DayAt(DateTimeOffset.UnixEpoch, "Mars/Olympus")).Message.ShouldContain("Mars/Olympus");
    }

    [Fact]
    public void Stored_minutes_sort_as_text_in_the_order_of_time()
    {
        Gen.Select(Gen.DateTime[new DateTime(1900, 1, 1), new DateTime(2199, 1, 1)], Gen.DateTime[new DateTime(1900, 1, 1), new DateTime(2199, 1, 1)]).Sample((a, b) =>
        {
            var (x, y) = (FactWhen.AtMinute(a, "UTC").Earliest, FactWhen.AtMinute(b, "UTC").Earliest);
            return Math.Sign(string.CompareOrdinal(FactWhen.ToStored(x), FactWhen.ToStored(y))) == Math.Sign(x.CompareTo(y));
        });
    }

    [Fact]
    public void What_is_stored_is_read_back_whole()
    {
        Gen.DateTime[new DateTime(1900, 1, 1), new DateTime(2199, 1, 1)].Sample(moment =>
        {
            var when = FactWhen.AtMinute(moment, "UTC");
            return FactWhen.FromStored(when.Precision, FactWhen.ToStored(when.Earliest), FactWhen.ToStored(when.Latest), when.Zone) == when;
        });
    }
}
