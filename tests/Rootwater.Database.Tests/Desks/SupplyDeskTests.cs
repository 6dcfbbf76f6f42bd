using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Desks;

/// <summary>How long the cupboard lasts, from what is in the ledger, on both databases.</summary>
public abstract class SupplyDeskTests : OnADatabase
{
    private static readonly DateOnly s_today = new(2026, 3, 14);

    /// <summary>A can of 3.5 g potassium nitrate each week for ten weeks, the last today, poured to both plants.</summary>
    private async Task FeedWeeklyAsync()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        for (var week = 9; week >= 0; week--)
        {
            var day = FactWhen.OnDay(s_today.AddDays(-7 * week), "UTC");
            var card = Small.Card();
            await Log.AppendAsync(
                [
                    new NewFact { Id = card.Id, SubjectId = card.Id, When = day, Payload = new CanSaved(card, [new StepUse(3, Small.SaltLot, 3.5)]) },
                    .. card.Steps.Select(step => SmallBench.Fact(card.Id, new CanStepDone(card.Id, step.Number), day)),
                    SmallBench.Fact(Small.FirstPlant, new PlantGiven(Small.FirstPlant, null, Pouring.Feed, card.Id, null, 250), day),
                    SmallBench.Fact(Small.SecondPlant, new PlantGiven(Small.SecondPlant, null, Pouring.Feed, card.Id, null, 250), day),
                    SmallBench.Fact(card.Id, new CanPoured(card.Id, [], 0), day),
                ], Cancel);
        }
    }

    private async Task<ProductSupply> SaltAsync() => (await Desks.Supply.AheadAsync(Cancel)).Products.Single(product => product.ProductId == Small.SaltId);

    [Fact]
    public async Task A_salt_used_each_week_runs_out_when_one_counts_by_hand()
    {
        await FeedWeeklyAsync();
        await Desks.Cupboard.CorrectSupplyAsync(Small.SaltLot, 35, cancel: Cancel);

        var salt = await SaltAsync();

        // Ten cans of 3.5 g in weeks 1 to 10; the eleventh, 77 days from today, finds nothing.
        salt.OutInTheMiddle.ShouldBe(s_today.AddDays(77));
        // A bench that never looked back may be off as quarters usually are; the order goes out ten days before the early end.
        salt.OutFrom.ShouldNotBeNull().ShouldBeInRange(s_today.AddDays(49), s_today.AddDays(70));
        salt.OutBy.ShouldNotBeNull().ShouldBeInRange(s_today.AddDays(84), s_today.AddDays(112));
        salt.OrderBy.ShouldBe(salt.OutFrom.Value.AddDays(-10));
        salt.LeadIsItsOwn.ShouldBeFalse();
        (await Desks.Supply.AheadAsync(Cancel)).Basis[0].ShouldContain("from who is due: each of 2 plants");
    }

    [Fact]
    public async Task A_lead_time_moves_the_day_to_order_and_taken_back_it_moves_no_more()
    {
        await FeedWeeklyAsync();
        await Desks.Cupboard.CorrectSupplyAsync(Small.SaltLot, 35, cancel: Cancel);
        var id = Guid.CreateVersion7();

        var early = (await SaltAsync()).OutFrom.ShouldNotBeNull();
        await Desks.Supply.SetLeadAsync(Small.SaltId, 21, id, Cancel);
        await Desks.Supply.SetLeadAsync(Small.SaltId, 21, id, Cancel);
        (await SaltAsync()).OrderBy.ShouldBe(early.AddDays(-21));
        (await Desks.Supply.AheadAsync(Cancel)).Shopping.Single().OrderBy.ShouldBe(early.AddDays(-21));

        await Desks.Facts.UndoAsync(id, Guid.CreateVersion7(), cancel: Cancel);
        (await SaltAsync()).OrderBy.ShouldBe(early.AddDays(-10));
    }

    [Fact]
    public async Task What_is_spilt_leaves_its_lot_and_comes_back_when_it_was_not()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var id = Guid.CreateVersion7();

        await Desks.Supply.SpillAsync(Small.SaltLot, 120, "tipped over", id, Cancel);
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.GramsLeft.ShouldBe(380);
        (await SaltAsync()).GramsSpilt.ShouldBe(120);
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();

        await Desks.Facts.UndoAsync(id, Guid.CreateVersion7(), cancel: Cancel);
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task More_than_is_left_cannot_be_spilt()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Supply.SpillAsync(Small.SaltLot, 501, cancel: Cancel));

        refused.Problems.Single().Field.ShouldBe("grams");
        refused.Problems.Single().Accepted.ShouldContain("500 g");
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
    }

    [Fact]
    public async Task A_package_opened_twice_is_open_since_the_last_that_stands()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var second = Guid.CreateVersion7();
        await Desks.Supply.OpenLotAsync(Small.SaltLot, new DateOnly(2026, 2, 1), cancel: Cancel);
        await Desks.Supply.OpenLotAsync(Small.SaltLot, new DateOnly(2026, 3, 1), second, Cancel);
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.Lots[0].OpenedOn.ShouldBe(new DateOnly(2026, 3, 1));

        await Desks.Facts.UndoAsync(second, Guid.CreateVersion7(), cancel: Cancel);

        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.Lots[0].OpenedOn.ShouldBe(new DateOnly(2026, 2, 1));
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_bench_that_never_mixed_says_that_nothing_can_be_said()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var sheet = await Desks.Supply.AheadAsync(Cancel);

        sheet.Shopping.ShouldBeEmpty();
        sheet.Products.ShouldAllBe(product => product.OutFrom == null);
        sheet.Basis.Single().ShouldContain("nothing can be said");
    }

    [Theory]
    [InlineData(-1, 180, 65, "usual lead days")]
    [InlineData(10, 3, 65, "buy for days")]
    [InlineData(10, 180, 120, "room humidity")]
    public async Task Ways_that_cannot_be_are_refused_by_field(int lead, int buyFor, double humidity, string field)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        (await Should.ThrowAsync<EntryException>(() => Desks.Supply.SetWaysAsync(new SupplyWays(lead, buyFor, humidity), cancel: Cancel))).Problems.Single().Field.ShouldBe(field);
    }
}

public sealed class SupplyDeskOnSqlite : SupplyDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class SupplyDeskOnPostgres(PostgresServer server) : SupplyDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
