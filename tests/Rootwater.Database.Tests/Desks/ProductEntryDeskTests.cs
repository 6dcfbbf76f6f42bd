using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Desks;

/// <summary>A new product's way into the cupboard, as facts, on both databases.</summary>
public abstract class ProductEntryDeskTests : OnADatabase
{
    private static readonly NewProduct s_feed = new()
    {
        Name = "house feed 15-5-15",
        LabelText = "Total nitrogen (N) 15 %\nnitrate nitrogen 12 %\nammoniacal nitrogen 1 %\nurea nitrogen 2 %\nP2O5 5 %\nK2O 15 %\nCaO 10 %\nMgO 3 %",
        PricePerKg = 9,
    };

    private async Task<ProductEntrySheet> BegunAsync(NewProduct? entry = null)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        return await Desks.Entries.BeginAsync(entry ?? s_feed with { Id = Guid.CreateVersion7() }, Cancel);
    }

    private async Task<ProductEntrySheet> TestedAsync(double ecShare = 1)
    {
        var begun = await BegunAsync();
        var planned = await Desks.Entries.PlanTestAsync(begun.Id, new TestCanChoice(Small.WaterId), cancel: Cancel);
        return await Desks.Entries.ReadTestAsync(begun.Id, planned.Test!.Ec.Value * ecShare, planned.Test.PH.Value, cancel: Cancel);
    }

    private async Task<ProductEntrySheet> OnTrialAsync(double ecShare = 1)
    {
        var tested = await TestedAsync(ecShare);
        Clock.Advance(TimeSpan.FromHours(25));
        await Desks.Entries.LookAsync(tested.Id, clear: true, cancel: Cancel);
        var third = await ArriveAsync(3);
        var fourth = await ArriveAsync(4);
        return await Desks.Entries.BeginTrialAsync(tested.Id, [new TrialPair(Small.FirstPlant, Small.SecondPlant), new TrialPair(third, fourth)], "new leaves by August", cancel: Cancel);
    }

    private async Task<Guid> ArriveAsync(int number)
    {
        var plant = Guid.CreateVersion7();
        foreach (var fact in Small.Facts().Where(fact => fact.SubjectId == Small.SecondPlant))
        {
            var payload = fact.Payload switch
            {
                Ledger.Facts.PlantArrived said => said with { PlantId = plant, Number = number },
                Ledger.Facts.PlantStatesSeen said => said with { PlantId = plant },
                Ledger.Facts.PlantMoved said => said with { PlantId = plant },
                Ledger.Facts.PlantWantChosen said => said with { PlantId = plant },
                Ledger.Facts.PlantPotted said => said with { PlantId = plant, Pot = said.Pot with { Id = Guid.CreateVersion7() } },
                _ => fact.Payload,
            };
            await Log.AppendAsync(SmallBench.Fact(plant, payload, fact.When), Cancel);
        }

        return plant;
    }

    [Fact]
    public async Task It_is_taken_up_where_it_was_left_and_says_what_comes_next()
    {
        var begun = await BegunAsync();
        begun.Stage.ShouldBe(EntryStage.LabelRead);
        begun.MadeOf.ShouldNotBeEmpty();
        begun.Unseen[0].ShouldContain("urea nitrogen, which no EC pen sees");

        await Desks.Entries.PlanTestAsync(begun.Id, new TestCanChoice(Small.WaterId, GramsPerLitre: 1, Litres: 2), cancel: Cancel);
        await using var again = await BenchDesks.OpenAsync(Host.Options, clock: Clock, cancel: Cancel);
        var resumed = (await again.Entries.GetAsync(begun.Id, Cancel)).ShouldNotBeNull();

        resumed.Stage.ShouldBe(EntryStage.TestPlanned);
        resumed.Test.ShouldNotBeNull().Grams.ShouldBe(2);
        resumed.Next.ShouldNotBeNull().ShouldContain("would be fine");
        (await Desks.Cupboard.GetAsync(begun.Id, Cancel)).ShouldBeNull("it is not in the cupboard before a plant gets it");
    }

    [Theory]
    [InlineData(0.83, null, "EC", "830 µS/cm, was probably meant")]
    [InlineData(null, 65.0, "pH", "6.5 was probably meant")]
    public async Task What_cannot_be_read_in_a_test_can_is_refused_with_what_was_meant(double? ec, double? ph, string field, string words)
    {
        var begun = await BegunAsync();
        await Desks.Entries.PlanTestAsync(begun.Id, new TestCanChoice(Small.WaterId), cancel: Cancel);

        var refused = (await Should.ThrowAsync<EntryException>(() => Desks.Entries.ReadTestAsync(begun.Id, ec, ph, cancel: Cancel))).Problems.Single();

        refused.Field.ShouldBe(field);
        refused.Accepted.ShouldContain(words);
    }

    [Fact]
    public async Task No_haze_is_seen_before_a_day_is_over()
    {
        var tested = await TestedAsync();

        (await Should.ThrowAsync<EntryException>(() => Desks.Entries.LookAsync(tested.Id, clear: true, cancel: Cancel))).Problems.Single().Field.ShouldBe("when");
        (await Desks.Entries.LookAsync(tested.Id, clear: false, "milky", cancel: Cancel)).Stage.ShouldBe(EntryStage.TestRead, "haze is believed at once");
    }

    [Fact]
    public async Task On_trial_it_is_in_the_cupboard_but_no_plan_uses_it_unasked()
    {
        var trial = await OnTrialAsync();

        trial.IsProvisional.ShouldBeTrue();
        trial.Pairs.Count.ShouldBe(2);
        (await Desks.Cupboard.GetAsync(trial.Id, Cancel)).ShouldNotBeNull();
        var today = await Desks.Mixing.GetBenchTodayAsync(cancel: Cancel);
        today.HeldBack.ShouldBe([trial.Id]);
        PlanRequests.From(today, new PlanChoices()).Cupboard.ShouldNotContain(item => item.Product.Id == trial.Id);
        PlanRequests.From(today, new PlanChoices { Products = [trial.Id] }).Cupboard.Single().Product.Id.ShouldBe(trial.Id);
        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task Good_news_needs_three_months_harm_none()
    {
        var trial = await OnTrialAsync();

        (await Should.ThrowAsync<EntryException>(() => Desks.Entries.JudgeTrialAsync(trial.Id, 0, 2, cancel: Cancel))).Problems.Single().Field.ShouldBe("when");
        var judged = await Desks.Entries.JudgeTrialAsync(trial.Id, 1, 0, "brown tips", cancel: Cancel);
        var rejected = await Desks.Entries.DecideAsync(judged.Id, accept: false, "brown tips", cancel: Cancel);

        rejected.Stage.ShouldBe(EntryStage.Rejected);
        (await Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).HeldBack.ShouldBe([trial.Id], "what was rejected stays out of every plan");
    }

    [Theory]
    [InlineData(1.0, 0)]
    [InlineData(0.75, 1)]
    public async Task Accepted_it_is_corrected_only_for_what_was_measured_outside_its_band(double ecShare, int corrections)
    {
        var trial = await OnTrialAsync(ecShare);
        trial.Corrections.Count.ShouldBe(corrections);
        Clock.Advance(TimeSpan.FromDays(95));
        await Desks.Entries.JudgeTrialAsync(trial.Id, 0, 1, cancel: Cancel);

        await Desks.Entries.DecideAsync(trial.Id, accept: true, "as good as the old", cancel: Cancel);

        var kept = (await Desks.Cupboard.GetAsync(trial.Id, Cancel)).ShouldNotBeNull().Product;
        var share = kept.MgPerKg[Growing.Nutrient.Potassium] / trial.Product.MgPerKg[Growing.Nutrient.Potassium];
        share.ShouldBe(corrections == 0 ? 1 : 0.75, 0.03);
        (await Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).HeldBack.ShouldBeEmpty();
    }

    [Fact]
    public async Task A_step_taken_back_is_to_be_taken_again()
    {
        var tested = await TestedAsync();

        await Desks.Facts.UndoAsync(tested.Steps[^1].FactId, Guid.CreateVersion7(), cancel: Cancel);

        (await Desks.Entries.GetAsync(tested.Id, Cancel))!.Stage.ShouldBe(EntryStage.TestPlanned);
    }

    [Fact]
    public async Task The_changed_label_of_a_known_product_is_noticed()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await Desks.Cupboard.SaveProductAsync(s_feed with { Id = Guid.CreateVersion7() }, Cancel);

        var same = await Desks.Entries.PreviewAsync(s_feed with { Id = Guid.CreateVersion7() }, Cancel);
        var other = await Desks.Entries.PreviewAsync(s_feed with { Id = Guid.CreateVersion7(), LabelText = s_feed.LabelText!.Replace("K2O 15", "K2O 12", StringComparison.Ordinal) }, Cancel);

        same.Changes.ShouldBeEmpty();
        same.Words.ShouldNotBeNull().ShouldContain("as it was");
        other.Changes.ShouldContain(change => change.Nutrient == Growing.Nutrient.Potassium && change.Now < change.Before);
        other.Words.ShouldNotBeNull().ShouldContain("has changed");
    }
}

public sealed class ProductEntryDeskOnSqlite : ProductEntryDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class ProductEntryDeskOnPostgres(PostgresServer server) : ProductEntryDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
