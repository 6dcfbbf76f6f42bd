using Rootwater.Growing.Bench;

namespace Rootwater.Growing.Tests.Bench;

public sealed class FeedDueTests
{
    private static readonly DateOnly s_fed = new(2026, 3, 1);

    private static Pot Pot(DateOnly? lastFed) => new()
    {
        Id = Guid.CreateVersion7(),
        Culture = Culture.Wicking,
        Medium = "expanded clay",
        MediumLitres = 1,
        ReservoirLitres = 0.3,
        FeedMillilitres = 250,
        FeedEveryDays = 7,
        LastFed = lastFed,
    };

    [Theory]
    [InlineData(0, null)]
    [InlineData(6, null)]
    [InlineData(7, 0)]
    [InlineData(10, 3)]
    public void A_pot_is_due_when_its_days_have_passed(int daysLater, int? over)
    {
        FeedDue.DaysOver(Pot(s_fed), [PlantState.LeafGrowth], s_fed.AddDays(daysLater)).ShouldBe(over);
    }

    [Fact]
    public void A_pot_that_was_never_fed_is_due_at_once()
    {
        FeedDue.DaysOver(Pot(null), [], s_fed).ShouldBe(0);
    }

    [Fact]
    public void A_plant_at_dry_rest_is_never_due()
    {
        FeedDue.DaysOver(Pot(s_fed), [PlantState.DryRest], s_fed.AddDays(60)).ShouldBeNull();
        FeedDue.DaysOver(Pot(null), [PlantState.DryRest, PlantState.InSpike], s_fed).ShouldBeNull();
    }
}
