using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Desks;

/// <summary>Cans read by pens with logs of their own, on both real databases.</summary>
public abstract class CanHistoryDeskTests : OnADatabase
{
    private ICanHistoryDesk History => Desks.CanHistory;

    private static readonly Pen s_ec = new() { Id = Guid.Parse("01a2156a-7ca5-778e-adaf-5182c61d4001"), Name = "yellow pen", Kind = PenKind.Ec };

    [Fact]
    public async Task A_kept_can_stands_in_the_history_before_and_after_it_was_read()
    {
        await StartAsync();
        var can = await SavedAsync();
        var line = (await History.ListAsync(cancel: Cancel)).Lines.Single();
        line.Mark.ShouldBe(CanMark.NotRead);
        line.EcByCard.Value.ShouldBeInRange(line.EcByCard.Low, line.EcByCard.High);
        line.MeasuredEc.ShouldBeNull();

        await ReadAsync(can, line.EcByCard.Value, line.PHByCard.Value);
        var view = await History.ListAsync(cancel: Cancel);
        (view.Cans, view.Read).ShouldBe((1, 1));
        view.Lines[0].Mark.ShouldBe(CanMark.Quiet);
        view.Lines[0].MeasuredEc!.Value.ShouldBe(line.EcByCard.Value, 0.01);
        Math.Abs(view.Lines[0].EcDeviation!.Value).ShouldBeLessThan(0.1);
        (await History.GetAsync(can, Cancel))!.Words.ShouldBe("The pens agree with what was expected.");
        (await History.GetAsync(Guid.CreateVersion7(), Cancel)).ShouldBeNull();
    }

    [Fact]
    public async Task A_can_far_off_is_explained_with_a_cheap_check_first_and_its_mixing_card_says_the_same()
    {
        await StartAsync();
        var (ec, ph) = await QuietAsync(4);
        var can = await SavedAsync();
        await ReadAsync(can, 0.86 * ec, ph);

        var explained = (await History.GetAsync(can, Cancel))!;
        explained.Line.Mark.ShouldBe(CanMark.Out);
        explained.ReadBefore.ShouldBe(4);
        explained.Explanations.Select(each => each.Chance).ShouldBeInOrder(SortDirection.Descending);
        explained.Explanations.ShouldContain(each => each.What.Contains("L in place of 5.0 L", StringComparison.Ordinal));
        explained.CheckFirst[0].ChancePerMinute.ShouldBe(explained.Explanations.Max(each => each.ChancePerMinute));

        var verdict = await Desks.Mixing.JudgeAsync(can, Cancel);
        verdict.Explanations.Select(each => each.What).ShouldBe(explained.Explanations.Select(each => each.What));
        verdict.CheckFirst[0].ShouldStartWith(explained.CheckFirst[0].Check);
        verdict.ByHistory!.ShouldContain("4 cans read before");
    }

    [Fact]
    public async Task A_reading_put_right_or_taken_back_moves_the_history_with_it()
    {
        await StartAsync();
        var (ec, ph) = await QuietAsync(2);
        var can = await SavedAsync();
        var slip = await ReadAsync(can, 0.7 * ec, ph);
        (await History.GetAsync(can, Cancel))!.Line.Mark.ShouldBe(CanMark.Out);
        await Desks.Mixing.SaveReadingAsync(new NewCanReading { CanId = can, EcMicrosiemensPerCm = ec, PH = ph, Corrects = slip }, Cancel);
        (await History.GetAsync(can, Cancel))!.Line.Mark.ShouldBe(CanMark.Quiet);

        // What is kept in hand is what a desk that begins anew would find.
        using var anew = new CanHistoryDesk(Desks.Database, Clock);
        (await anew.ListAsync(cancel: Cancel)).Lines.ShouldBe((await History.ListAsync(cancel: Cancel)).Lines);
        (await anew.CorrectionsAsync(Cancel)).ShouldBe(await History.CorrectionsAsync(Cancel));
    }

    [Fact]
    public async Task A_pen_that_reads_high_in_its_standard_is_expected_to_read_high_in_the_can_and_set_to_it_no_more()
    {
        await StartAsync();
        await Desks.Pens.SaveAsync(s_ec, cancel: Cancel);
        (await Desks.Pens.ListAsync(Cancel)).Single().ShouldSatisfyAllConditions(view => view.IsDue.ShouldBeTrue(), view => view.Log.ShouldBeEmpty());
        for (var i = 0; i < 4; i++)
        {
            await CalibrateAsync(1.06);
            Clock.Advance(TimeSpan.FromDays(20));
        }

        var view = (await Desks.Pens.ListAsync(Cancel)).Single();
        view.Off!.Value.Low.ShouldBeGreaterThan(0.01);
        view.Effect.ShouldContain("too high");
        view.Log.Count.ShouldBe(4);
        view.Log[0].Standards[0].Off.ShouldBe(0.06, 0.002);
        view.Log[0].DriftPerMonth!.Value.ShouldBe(0, 1e-9);
        var can = await SavedAsync();
        var line = (await History.ListAsync(cancel: Cancel)).Lines[0];
        line.EcAsLearned.Value.ShouldBeGreaterThan(line.EcByCard.Value * 1.02);
        (await History.GetAsync(can, Cancel))!.KnownAlready.ShouldContain(words => words.StartsWith("yellow pen reads", StringComparison.Ordinal));

        var set = await CalibrateAsync(1.06, adjusted: true);
        (await Desks.Pens.ListAsync(Cancel)).Single().Off!.Value.Value.ShouldBe(0, 1e-9);
        await Desks.Pens.UndoAsync(set, Cancel);
        (await Desks.Pens.ListAsync(Cancel)).Single().ShouldSatisfyAllConditions(after => after.Log.Count.ShouldBe(4), after => after.Off!.Value.Low.ShouldBeGreaterThan(0.01));
    }

    [Fact]
    public async Task A_plan_is_told_what_to_expect_only_when_asked_and_its_can_stays_as_the_labels_say()
    {
        await StartAsync();
        await Desks.Pens.SaveAsync(s_ec, cancel: Cancel);
        for (var i = 0; i < 4; i++)
        {
            await CalibrateAsync(1.06);
        }

        var card = Small.Card();
        var learned = await History.ExpectAsync(card, Cancel);
        learned.EcMicrosiemensPerCm.Value.ShouldBeGreaterThan(card.EcMicrosiemensPerCm.Value * 1.02);
        learned.Because.ShouldContain(words => words.Contains("yellow pen", StringComparison.Ordinal));

        // A card that carries it is judged by it; what is in the can is not touched.
        var kept = (await Desks.Mixing.SaveCanAsync(card with { AsLearned = learned }, Cancel)).Card;
        kept.AsLearned!.EcMicrosiemensPerCm.ShouldBe(learned.EcMicrosiemensPerCm);
        (kept.MgPerLitre, kept.EcMicrosiemensPerCm).ShouldBe((card.MgPerLitre, card.EcMicrosiemensPerCm));
    }

    [Theory]
    [InlineData(0.83, null, "EC", "830 µS/cm")]
    [InlineData(null, 65.0, "pH", "6.5")]
    [InlineData(null, 655.0, "pH", "6.55")]
    public async Task A_can_reading_that_cannot_be_comes_back_with_what_was_meant(double? ec, double? ph, string field, string meant)
    {
        await StartAsync();
        var can = await SavedAsync();
        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Mixing.SaveReadingAsync(new NewCanReading { CanId = can, EcMicrosiemensPerCm = ec, PH = ph }, Cancel));
        refused.Problems.Single().Field.ShouldBe(field);
        refused.Problems.Single().Accepted.ShouldContain(meant);
    }

    [Theory]
    [InlineData(1413, 1.41, 25, "reading", "1410 µS/cm")]
    [InlineData(1413, 707, 25, "reading", "0.5 scale")]
    [InlineData(1.413, 1413, 25, "standard", "1413 µS/cm")]
    [InlineData(1413, 1413, 77, "temperature", "25 °C")]
    public async Task A_calibration_that_cannot_be_comes_back_with_what_was_meant(double standard, double reading, double celsius, string field, string meant)
    {
        await StartAsync();
        await Desks.Pens.SaveAsync(s_ec, cancel: Cancel);
        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Pens.CalibrateAsync(new NewPenCalibration { PenId = s_ec.Id, Standards = [new StandardRead(standard, reading, celsius)] }, Cancel));
        refused.Problems[0].Field.ShouldBe(field);
        refused.Problems[0].Accepted.ShouldContain(meant);
        (await Desks.Pens.ListAsync(Cancel)).Single().Log.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_pen_nobody_keeps_can_neither_be_calibrated_nor_have_read_a_can()
    {
        await StartAsync();
        (await Should.ThrowAsync<EntryException>(() => Desks.Pens.CalibrateAsync(new NewPenCalibration { PenId = Guid.CreateVersion7(), Standards = [new StandardRead(1413, 1413, 25)] }, Cancel))).Problems.Single().Field.ShouldBe("pen");
        var can = await SavedAsync();
        (await Should.ThrowAsync<EntryException>(() => Desks.Mixing.SaveReadingAsync(new NewCanReading { CanId = can, EcMicrosiemensPerCm = 600, EcPenId = Guid.CreateVersion7() }, Cancel))).Problems.Single().Field.ShouldBe("EC pen");
    }

    private Task StartAsync() => Log.AppendAsync(Small.Facts(), Cancel);

    private async Task<Guid> SavedAsync() => (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;

    private async Task<Guid> ReadAsync(Guid can, double ec, double ph)
    {
        var reading = new NewCanReading { CanId = can, EcMicrosiemensPerCm = ec, PH = ph };
        await Desks.Mixing.SaveReadingAsync(reading, Cancel);
        return reading.Id;
    }

    // Cans that read what they should, a week apart.
    private async Task<(double Ec, double PH)> QuietAsync(int cans)
    {
        var (ec, ph) = (0.0, 0.0);
        for (var i = 0; i < cans; i++)
        {
            var can = await SavedAsync();
            var line = (await History.ListAsync(cancel: Cancel)).Lines[0];
            (ec, ph) = (line.EcByCard.Value, line.PHByCard.Value);
            await ReadAsync(can, ec, ph);
            Clock.Advance(TimeSpan.FromDays(7));
        }

        return (ec, ph);
    }

    private async Task<Guid> CalibrateAsync(double share, bool adjusted = false)
    {
        var calibration = new NewPenCalibration { PenId = s_ec.Id, Standards = [new StandardRead(1413, Math.Round(1413 * share), 25)], Adjusted = adjusted };
        await Desks.Pens.CalibrateAsync(calibration, Cancel);
        return calibration.Id;
    }
}

public sealed class CanHistoryDeskOnSqlite : CanHistoryDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class CanHistoryDeskOnPostgres(PostgresServer server) : CanHistoryDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
