using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests;

/// <summary>A card followed step by step, on both databases.</summary>
public abstract class CanKeepingTests : OnADatabase
{
    private IMixingDesk Desk => Desks.Mixing;

    [Fact]
    public async Task A_saved_card_comes_back_as_it_was()
    {
        var card = await SavedAsync();

        var kept = (await Desk.GetCanAsync(card.Id, Cancel)).ShouldNotBeNull();

        FactJson.Write(kept.Card).ShouldBe(FactJson.Write(card));
        kept.Card.MolPerKgWater.ShouldBe(card.MolPerKgWater);
        kept.Card.Serves[0].Bands[0].Band.High.ShouldBe(double.PositiveInfinity);
        kept.State.ShouldBe(CanState.Mixing);
        kept.NextStep!.Number.ShouldBe(1);
        kept.MixedOn.ShouldBe(new DateOnly(2026, 3, 14));
    }

    [Fact]
    public async Task Saved_twice_it_is_kept_once_even_when_the_lots_have_moved_on()
    {
        var card = await SavedAsync();
        await Desk.TickStepAsync(card.Id, 3, cancel: Cancel);
        await Desks.Cupboard.AddLotAsync(new NewLot { ProductId = Small.SaltId, Grams = 1000, OpenedOn = new DateOnly(2020, 1, 1) }, Cancel);

        await Desk.SaveCanAsync(card, Cancel);

        (await Desk.ListCansAsync(cancel: Cancel)).Count.ShouldBe(1);
    }

    [Fact]
    public async Task A_tick_takes_from_the_lot_and_undo_gives_it_back()
    {
        var card = await SavedAsync();

        await Desk.TickStepAsync(card.Id, 2, cancel: Cancel);
        await Desk.TickStepAsync(card.Id, 3, cancel: Cancel);
        (await LeftAsync(Small.AcidLot)).ShouldBe(1250 - 2 * 1.25, 1e-9, "2 mL at 1.25 kg/L");
        (await LeftAsync(Small.SaltLot)).ShouldBe(496.5, 1e-9);

        var can = await Desk.UndoStepAsync(card.Id, 3, cancel: Cancel);
        (await LeftAsync(Small.SaltLot)).ShouldBe(500, 1e-9);
        can.DoneSteps.ShouldBe([2]);
    }

    [Fact]
    public async Task A_step_ticked_twice_is_poured_once()
    {
        var card = await SavedAsync();
        var key = Guid.CreateVersion7();

        await Desk.TickStepAsync(card.Id, 3, key, Cancel);
        await Desk.TickStepAsync(card.Id, 3, key, Cancel);
        await Desk.TickStepAsync(card.Id, 3, cancel: Cancel);
        // Two phones at once: both facts reach the ledger.
        await Log.AppendAsync(SmallBench.Fact(card.Id, new CanStepDone(card.Id, 3)), Cancel);

        (await LeftAsync(Small.SaltLot)).ShouldBe(496.5, 1e-9);
        (await Desk.ListCansAsync(cancel: Cancel)).Single().StepsDone.ShouldBe(1);
    }

    [Fact]
    public async Task A_late_repeat_of_an_undone_tick_changes_nothing()
    {
        var card = await SavedAsync();
        var key = Guid.CreateVersion7();
        await Desk.TickStepAsync(card.Id, 3, key, Cancel);
        await Desk.UndoStepAsync(card.Id, 3, cancel: Cancel);

        var can = await Desk.TickStepAsync(card.Id, 3, key, Cancel);

        can.DoneSteps.ShouldBeEmpty();
        (await LeftAsync(Small.SaltLot)).ShouldBe(500, 1e-9);
    }

    [Fact]
    public async Task What_a_step_took_before_the_lot_was_weighed_is_not_given_back()
    {
        var card = await SavedAsync();
        await Desk.TickStepAsync(card.Id, 3, cancel: Cancel);
        await Desks.Cupboard.CorrectSupplyAsync(Small.SaltLot, 480, "weighed", cancel: Cancel);

        await Desk.UndoStepAsync(card.Id, 3, cancel: Cancel);

        (await LeftAsync(Small.SaltLot)).ShouldBe(480, 1e-9);
    }

    [Fact]
    public async Task A_lot_never_holds_less_than_nothing_and_undo_returns_only_what_there_was()
    {
        var card = await SavedAsync();
        await Desks.Cupboard.CorrectSupplyAsync(Small.SaltLot, 2, cancel: Cancel);

        await Desk.TickStepAsync(card.Id, 3, cancel: Cancel);
        (await LeftAsync(Small.SaltLot)).ShouldBe(0);

        await Desk.UndoStepAsync(card.Id, 3, cancel: Cancel);
        (await LeftAsync(Small.SaltLot)).ShouldBe(2);
    }

    [Fact]
    public async Task A_corrected_reading_counts_and_the_slip_stays_in_the_ledger()
    {
        var card = await SavedAsync();
        var slip = new NewCanReading { CanId = card.Id, EcMicrosiemensPerCm = 62, PH = 5.8 };
        await Desk.SaveReadingAsync(slip, Cancel);

        var can = await Desk.SaveReadingAsync(new NewCanReading { CanId = card.Id, EcMicrosiemensPerCm = 620, PH = 5.8, Corrects = slip.Id }, Cancel);

        can.Readings.Single().EcMicrosiemensPerCm.ShouldBe(620);
        (await Desk.ListCansAsync(cancel: Cancel)).Single().ReadEcMicrosiemensPerCm.ShouldBe(620);
        (await Desks.Database.ReadAsync(db => db.Facts.CountAsync(fact => fact.Kind == "can.read", Cancel), Cancel)).ShouldBe(2);
    }

    [Theory]
    [InlineData(-1.0, null, null, null, "EC")]
    [InlineData(25_000.0, null, null, null, "EC")]
    [InlineData(double.NaN, null, null, null, "EC")]
    [InlineData(null, 14.5, null, null, "pH")]
    [InlineData(null, null, 60.0, null, "temperature")]
    [InlineData(null, null, null, null, "reading")]
    [InlineData(600.0, null, null, 9, "after step")]
    public async Task A_reading_no_pen_can_show_is_refused_by_field_and_nothing_is_saved(double? ec, double? ph, double? celsius, int? step, string field)
    {
        var card = await SavedAsync();

        var refused = await Should.ThrowAsync<EntryException>(() => Desk.SaveReadingAsync(
            new NewCanReading { CanId = card.Id, EcMicrosiemensPerCm = ec, PH = ph, TemperatureCelsius = celsius, AfterStep = step }, Cancel));

        refused.Problems.Single().Field.ShouldBe(field);
        refused.Problems.Single().Accepted.ShouldNotBeNullOrWhiteSpace();
        (await Desk.GetCanAsync(card.Id, Cancel))!.Readings.ShouldBeEmpty();
    }

    [Fact]
    public async Task Once_poured_its_plants_are_no_longer_due_until_their_days_have_passed()
    {
        var card = await SavedAsync();
        (await DueAsync(null)).ShouldBe(2, "never fed");

        var can = await Desk.PourAsync(card.Id, cancel: Cancel);

        can.State.ShouldBe(CanState.Poured);
        can.LitresLeft.ShouldBe(4.5, 1e-9);
        (await DueAsync(null)).ShouldBe(0);
        (await DueAsync(new DateOnly(2026, 3, 20))).ShouldBe(0);
        (await DueAsync(new DateOnly(2026, 3, 21))).ShouldBe(2);
        (await Desk.GetBenchTodayAsync(null, Cancel)).Leftovers.Single().Litres.ShouldBe(4.5, 1e-9);
    }

    [Fact]
    public async Task A_topped_can_takes_what_was_left_and_gives_it_back_when_undone()
    {
        var first = await SavedAsync();
        await Desk.PourAsync(first.Id, cancel: Cancel);
        var plain = Small.Card();
        var topped = plain with { Steps = [plain.Steps[0] with { Kind = Growing.Mixing.MixStepKind.Leftover, Amount = 1.5, WaterId = null, FromCanId = first.Id }, .. plain.Steps.Skip(1)] };
        await Desk.SaveCanAsync(topped, Cancel);

        await Desk.TickStepAsync(topped.Id, 1, cancel: Cancel);
        (await Desk.GetCanAsync(first.Id, Cancel))!.LitresLeft.ShouldBe(3, 1e-9);

        await Desk.UndoStepAsync(topped.Id, 1, cancel: Cancel);
        (await Desk.GetCanAsync(first.Id, Cancel))!.LitresLeft.ShouldBe(4.5, 1e-9);
    }

    [Fact]
    public async Task A_dose_of_concentrate_draws_on_every_lot_in_its_bottle()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var plain = Small.Card();
        var card = plain with
        {
            Steps = [plain.Steps[0], plain.Steps[2] with { Number = 2, What = "concentrate A", ProductId = Guid.CreateVersion7(), Amount = 10, Unit = "mL" }],
            Concentrates =
            [
                new Growing.Mixing.ConcentrateRecipe
                {
                    Name = "A",
                    Litres = 0.5,
                    Weigh = [(Small.SaltId, "potassium nitrate", 25), (Small.AcidId, "pH-down", 5)],
                    WorstSaturationIndex = null,
                    Reason = "made up for a test",
                    Cautions = [],
                },
            ],
        };
        await Desk.SaveCanAsync(card, Cancel);

        await Desk.TickStepAsync(card.Id, 2, cancel: Cancel);

        // 10 mL of 500 mL: a fiftieth of what was weighed in.
        (await LeftAsync(Small.SaltLot)).ShouldBe(500 - 0.5, 1e-9);
        (await LeftAsync(Small.AcidLot)).ShouldBe(1250 - 0.1, 1e-9);
        (await Desk.GetCanAsync(card.Id, Cancel))!.Card.Concentrates.Single().Weigh[0].Grams.ShouldBe(25);
    }

    [Fact]
    public async Task Readings_are_judged_against_the_card_and_the_newest_of_each_pen_counts()
    {
        var card = await SavedAsync();
        await Should.ThrowAsync<EntryException>(() => Desk.JudgeAsync(card.Id, Cancel));
        await Desk.SaveReadingAsync(new NewCanReading { CanId = card.Id, EcMicrosiemensPerCm = 40 }, Cancel);
        var before = await Desk.JudgeAsync(card.Id, Cancel);
        before.Agrees.ShouldBeFalse();
        before.CheckFirst.ShouldNotBeEmpty();

        // Stirred, read again, then the other pen.
        var expected = before.Pens.Single().Expected.Value;
        await Desk.SaveReadingAsync(new NewCanReading { CanId = card.Id, EcMicrosiemensPerCm = expected }, Cancel);
        (await Desk.JudgeAsync(card.Id, Cancel)).Agrees.ShouldBeTrue();
        await Desk.SaveReadingAsync(new NewCanReading { CanId = card.Id, PH = 9.5 }, Cancel);

        var verdict = await Desk.JudgeAsync(card.Id, Cancel);
        verdict.Agrees.ShouldBeFalse(verdict.Words);
        verdict.Pens.Select(pen => pen.Measured).ShouldBe([expected, 9.5]);
    }

    [Fact]
    public async Task A_pouring_taken_back_makes_them_due_as_before()
    {
        var first = await SavedAsync();
        await Desk.PourAsync(first.Id, 0, cancel: Cancel);
        Clock.Advance(TimeSpan.FromDays(8));
        var second = Small.Card();
        await Desk.SaveCanAsync(second, Cancel);
        await Desk.PourAsync(second.Id, 0, cancel: Cancel);

        var can = await Desk.UndoPourAsync(second.Id, cancel: Cancel);

        can.State.ShouldBe(CanState.Mixing);
        can.LitresLeft.ShouldBe(5);
        var today = await Desk.GetBenchTodayAsync(null, Cancel);
        today.Due.Single().Plants.Select(plant => plant.LastFed).ShouldBe([new DateOnly(2026, 3, 14), new DateOnly(2026, 3, 14)]);
    }

    [Fact]
    public async Task More_cannot_be_left_than_was_mixed()
    {
        var card = await SavedAsync();

        var refused = await Should.ThrowAsync<EntryException>(() => Desk.PourAsync(card.Id, 5.2, cancel: Cancel));

        refused.Problems.Single().Field.ShouldBe("litres left");
        (await Desk.GetCanAsync(card.Id, Cancel))!.State.ShouldBe(CanState.Mixing);
    }

    [Fact]
    public async Task A_can_that_was_never_saved_is_named_in_the_refusal()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var stranger = Guid.CreateVersion7();

        (await Should.ThrowAsync<EntryException>(() => Desk.TickStepAsync(stranger, 1, cancel: Cancel))).Message.ShouldContain(stranger.ToString());
        (await Desk.GetCanAsync(stranger, Cancel)).ShouldBeNull();
    }

    [Fact]
    public async Task Every_table_follows_from_the_facts_after_all_that_can_happen_to_a_can()
    {
        var card = await SavedAsync();
        foreach (var step in card.Steps)
        {
            await Desk.TickStepAsync(card.Id, step.Number, cancel: Cancel);
        }

        await Desk.UndoStepAsync(card.Id, 4, cancel: Cancel);
        var slip = new NewCanReading { CanId = card.Id, EcMicrosiemensPerCm = 62 };
        await Desk.SaveReadingAsync(slip, Cancel);
        await Desk.SaveReadingAsync(slip with { Id = Guid.CreateVersion7(), EcMicrosiemensPerCm = 620, Corrects = slip.Id }, Cancel);
        await Desks.Cupboard.CorrectSupplyAsync(Small.AcidLot, 1000, cancel: Cancel);
        await Desk.UndoStepAsync(card.Id, 2, cancel: Cancel);
        await Desk.PourAsync(card.Id, cancel: Cancel);
        await Desk.UndoPourAsync(card.Id, cancel: Cancel);
        await Desk.PourAsync(card.Id, 0, cancel: Cancel);

        var report = await Ledger.Projections.LedgerCheck.CheckAsync(Desks.Database, Cancel);

        report.Differences.ShouldBeEmpty();
        report.Facts.ShouldBe(await Desks.Database.ReadAsync(db => db.Facts.LongCountAsync(Cancel), Cancel));
        report.Tables["feedings"].ShouldBe(2);
        report.Tables["readings"].ShouldBe(2);
    }

    private async Task<Growing.Mixing.CanPlan> SavedAsync()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var card = Small.Card();
        await Desk.SaveCanAsync(card, Cancel);
        return card;
    }

    private async Task<int> DueAsync(DateOnly? day) => (await Desk.GetBenchTodayAsync(day, Cancel)).Due.Sum(group => group.Plants.Count);

    private Task<double> LeftAsync(Guid lotId) => Desks.Database.ReadAsync(db => db.Lots.Where(lot => lot.Id == lotId).Select(lot => lot.GramsLeft).SingleAsync(Cancel), Cancel);
}

public sealed class CanKeepingOnSqlite : CanKeepingTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class CanKeepingOnPostgres(PostgresServer server) : CanKeepingTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
