using Rootwater.Growing.Bench;

namespace Rootwater.Growing.Tests.Bench;

public sealed class QuarantineRulesTests
{
    private static readonly DateOnly s_day = new(2025, 3, 1);
    private static readonly Quarantine s_quarantine = new(s_day, 42, "new", null);

    [Fact]
    public void The_clock_counts_its_first_day_as_one()
    {
        QuarantineRules.Clock(s_quarantine, s_day).ShouldBe(new QuarantineClock(1, 42, 42));
        QuarantineRules.Clock(s_quarantine, s_day.AddDays(41)).ShouldBe(new QuarantineClock(42, 42, 1));
        QuarantineRules.Clock(s_quarantine, s_day.AddDays(42)).ShouldBe(new QuarantineClock(43, 42, 0));
        QuarantineRules.Clock(s_quarantine, s_day.AddDays(-1)).ShouldBeNull();
        QuarantineRules.Clock(s_quarantine with { Ended = s_day.AddDays(10) }, s_day.AddDays(10)).ShouldBeNull();
    }

    [Fact]
    public void It_may_end_when_the_clock_is_out_the_plant_clean_twice_and_negative_twice()
    {
        var looks = new[] { Look(5), Look(12) };

        QuarantineRules.Waits(s_quarantine, looks, VirusStanding.NegativeTwice, s_day.AddDays(42)).ShouldBeEmpty();
        QuarantineRules.Waits(s_quarantine, looks, VirusStanding.NegativeOnce, s_day.AddDays(41)).ShouldBe([QuarantineWait.ClockRuns, QuarantineWait.VirusTests]);
        QuarantineRules.Waits(s_quarantine, looks, VirusStanding.Positive, s_day.AddDays(42)).ShouldBe([QuarantineWait.VirusPositive]);
    }

    [Fact]
    public void Pests_start_the_clean_looks_again()
    {
        Waits(Look(5), Look(12), Look(20, "scale")).ShouldBe([QuarantineWait.PestsFound]);
        Waits(Look(5), Look(12), Look(20, "scale"), Look(25), Look(31)).ShouldBe([QuarantineWait.PestChecks]); // six days apart
        Waits(Look(20, "scale"), Look(25), Look(32)).ShouldBeEmpty();
        Waits().ShouldBe([QuarantineWait.PestChecks]);
    }

    private static IReadOnlyList<QuarantineWait> Waits(params PestCheck[] looks) => QuarantineRules.Waits(s_quarantine, looks, VirusStanding.NegativeTwice, s_day.AddDays(60));

    private static PestCheck Look(int day, params string[] found) => new(DaySpan.On(s_day.AddDays(day)), found, null);
}
