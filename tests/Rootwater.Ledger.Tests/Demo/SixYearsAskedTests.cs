using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>What the evidence desk finds in the six years.</summary>
public sealed class SixYearsAskedTests(SixYearsBench bench) : IClassFixture<SixYearsBench>
{
    private IEvidenceDesk Desk => bench.Desks.Evidence;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_day_potassium_nitrate_joined_the_can_is_read_from_what_was_poured()
    {
        var changes = await Desk.FeedChangesAsync(new PlantGroup(), Cancel);

        var change = changes.ShouldHaveSingleItem();
        change.Words.ShouldStartWith("potassium");
        var truth = SixYearsTold.Today.AddYears(-6).AddDays((int)(365.25 * Ledger.Demo.SixYears.Truth.Of("potassium_switch_year")));
        Math.Abs(change.Day.DayNumber - truth.DayNumber).ShouldBeLessThan(30);
    }
}
