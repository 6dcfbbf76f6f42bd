using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Desks;

/// <summary>Plants and their kin, what they were given by the week, and forgetting one.</summary>
public abstract class PlantDeskTests : OnADatabase
{
    private Guid Plant => Small.FirstPlant;

    [Fact]
    public async Task A_keiki_is_a_plant_of_its_own_that_keeps_its_parents_history_and_virus_status()
    {
        await StartAsync();
        var keiki = await TakenAsync(Plant, 3, Propagation.Keiki);
        var grandchild = await TakenAsync(keiki, 4, Propagation.Division);
        (await VirusAsync(grandchild)).ShouldBeNull("nothing was tested");

        await WriteAsync(Told(Plant, new VirusTested(Plant, "CymMV", VirusTestMethod.Strip, VirusTestResult.Negative, null), "2026-03-01"));
        (await VirusAsync(grandchild)).ShouldBe("negative, no clearance yet: CymMV, strip, 2026-03-01, of no. 1");
        await WriteAsync(Told(keiki, new VirusTested(keiki, "CymMV", VirusTestMethod.Pcr, VirusTestResult.Negative, null), "2026-03-05"));
        (await VirusAsync(grandchild)).ShouldBe("negative, no clearance yet: CymMV, pcr, 2026-03-05, of no. 3", "four days apart count as one");
        await WriteAsync(Told(Plant, new VirusTested(Plant, "ORSV", VirusTestMethod.Elisa, VirusTestResult.Positive, null), "2026-03-09"));
        (await VirusAsync(grandchild)).ShouldBe("doubtful, its kin is positive: ORSV, elisa, 2026-03-09, of no. 1", "the keiki was taken before the test");

        (await VirusAsync(Plant)).ShouldBe("positive: ORSV, elisa, 2026-03-09");

        var life = (await Desks.Plants.GetAsync(keiki, Cancel))!;
        life.TakenFrom!.Number.ShouldBe(1);
        life.TakenFromIt.ShouldHaveSingleItem().Number.ShouldBe(4);
        (await Desks.Plants.GetAsync(Plant, Cancel))!.TakenFromIt.ShouldHaveSingleItem().Id.ShouldBe(keiki);
    }

    [Fact]
    public async Task A_wrongly_labelled_arrival_says_what_was_ordered_what_came_and_what_was_agreed_and_is_found_by_either_name()
    {
        await StartAsync();
        (await Desks.Plants.GetAsync(Plant, Cancel))!.WrongArrival.ShouldBeNull();
        var received = (await Desks.Plants.GetAsync(Plant, Cancel))!.Card.NameAsReceived;
        await WriteAsync(
            Told(Plant, new WrongArrival(Plant, "Dendrobium loddigesii", "a plain kingianum", "half the price back"), "2026-02-20"),
            Told(Plant, new PlantDetermined(Plant, "Dendrobium kingianum", "flower"), "2026-03-02"));
        var life = (await Desks.Plants.GetAsync(Plant, Cancel))!;
        (life.WrongArrival!.Ordered, life.WrongArrival.Came, life.WrongArrival.Agreed).ShouldBe(("Dendrobium loddigesii", "a plain kingianum", "half the price back"));
        (life.Card.Name, life.Card.NameAsReceived).ShouldBe(("Dendrobium kingianum", received), "the name it came under stays on record");
        foreach (var word in new[] { "loddigesii", "kingianum" })
            (await Desks.Plants.ListAsync(new BenchQuery { Words = word }, Cancel)).Select(card => card.Id).ShouldContain(Plant, word);

        var unsaid = await Should.ThrowAsync<EntryException>(() => WriteAsync(Told(Plant, new WrongArrival(Plant, " ", "something else", null))));
        unsaid.Message.ShouldContain("ordered");
    }

    [Fact]
    public async Task A_plant_is_never_taken_from_its_own_offspring()
    {
        await StartAsync();
        var arrived = (await Desks.Facts.RecentAsync(TimeSpan.FromDays(1), 1000, Cancel)).Single(line => line.Kind == "plant.arrived" && line.SubjectId == Plant);
        var keiki = await TakenAsync(Plant, 3, Propagation.Keiki);

        var refused = await Should.ThrowAsync<EntryException>(() => WriteAsync(Told(
            Plant, new PlantArrived(Plant, 1, "x", "strap-leaved", Habit.Monopodial, new Provenance { ParentPlantId = keiki }), "2026-03", arrived.Id)));

        refused.Problems.ShouldContain(problem => problem.Field == "parent plant");
    }

    [Fact]
    public async Task Sole_specimens_are_those_with_neither_namesake_nor_division()
    {
        await StartAsync();
        (await Desks.Plants.SoleSpecimensAsync(Cancel)).Select(card => card.Number).ShouldBe([1, 2]);
        var keiki = await TakenAsync(Plant, 3, Propagation.Keiki);

        (await Desks.Plants.SoleSpecimensAsync(Cancel)).Select(card => card.Number).ShouldBe([2]);

        await WriteAsync(Told(keiki, new PlantLost(keiki, "rot")));
        (await Desks.Plants.SoleSpecimensAsync(Cancel)).Select(card => card.Number).ShouldBe([1, 2]);
    }

    [Fact]
    public async Task A_quarantine_says_its_day_and_what_it_waits_for()
    {
        await StartAsync();
        await WriteAsync(Told(Plant, new QuarantineBegun(Plant, 42, "new")), Told(Plant, new PestChecked(Plant, [], null)));

        var life = (await Desks.Plants.GetAsync(Plant, Cancel))!;
        life.Clock.ShouldBe(new QuarantineClock(1, 42, 42));
        life.QuarantineWaits.ShouldBe([QuarantineWait.ClockRuns, QuarantineWait.PestChecks, QuarantineWait.VirusTests]);
        await WriteAsync(Told(Plant, new QuarantineEnded(Plant, null)));
        (await Desks.Plants.GetAsync(Plant, Cancel))!.Clock.ShouldBeNull();
    }

    [Fact]
    public async Task A_plant_of_known_parents_shows_each_founders_share()
    {
        await StartAsync();
        var cross = Guid.CreateVersion7();
        await WriteAsync(Told(cross, new CrossSet(cross, "Cattleya Ours", "Cattleya intermedia", "Cattleya walkeriana")), Told(Plant, new PlantParentage(Plant, "C. Ours", "Cattleya mossiae")));

        (await Desks.Plants.GetAsync(Plant, Cancel))!.Ancestry.ShouldBe([new("Cattleya mossiae", 0.5), new("Cattleya intermedia", 0.25), new("Cattleya walkeriana", 0.25)]);
    }

    [Fact]
    public async Task The_bench_is_filtered_by_place_state_quarantine_and_loss()
    {
        await StartAsync();
        await WriteAsync(Told(Plant, new QuarantineBegun(Plant, 42, "new")), Told(Plant, new PlantStatesSeen(Plant, [PlantState.InSpike])));

        (await NumbersAsync(new BenchQuery { InQuarantine = true })).ShouldBe([1]);
        (await NumbersAsync(new BenchQuery { InQuarantine = false })).ShouldBe([2]);
        (await NumbersAsync(new BenchQuery { State = PlantState.InSpike })).ShouldBe([1]);
        (await NumbersAsync(new BenchQuery { PlaceId = Small.PlaceId, Words = "shelf no. 2" })).ShouldBe([2]);
        (await NumbersAsync(new BenchQuery { Due = true })).ShouldBe([1, 2], "never fed");
        await WriteAsync(Told(Plant, new QuarantineEnded(Plant, null)), Told(Plant, new PlantLost(Plant, "given away")));
        (await NumbersAsync(new BenchQuery())).ShouldBe([2]);
        (await NumbersAsync(new BenchQuery { WithLost = true })).ShouldBe([1, 2]);
    }

    [Fact]
    public async Task Pots_follow_one_another_and_a_late_memory_of_repotting_moves_the_feeds_into_the_right_pot()
    {
        await StartAsync();
        await WriteAsync(
            Told(Plant, new PlantGiven(Plant, null, Pouring.PlainWater, null, null, 100), "2026-03-01"),
            Told(Plant, new PlantGiven(Plant, null, Pouring.PlainWater, null, null, 100), "2026-03-10"));
        var pot = new Pot { Id = Guid.CreateVersion7(), Culture = Culture.Wicking, Medium = "expanded clay", MediumLitres = 2, ReservoirLitres = 0.5, FeedMillilitres = 300, FeedEveryDays = 7, LastFed = null };
        await WriteAsync(Told(Plant, new PlantPotted(Plant, pot), "2026-03-05"));

        var pots = (await Desks.Plants.GetAsync(Plant, Cancel))!.Pots;

        pots.Select(time => (time.From, time.To)).ShouldBe([(new DateOnly(2026, 3, 5), new DateOnly(2026, 3, 14)), (new DateOnly(2026, 3, 14), null)]);
        var poured = await Desks.Database.ReadAsync(db => db.Feedings.OrderBy(feeding => feeding.Day).Select(feeding => feeding.PotId).ToListAsync(Cancel), Cancel);
        poured.ShouldBe([pot.Id, pot.Id], "what was poured before the first known pot counts to that");
        await RebuiltIsTheSameAsync();
    }

    [Fact]
    public async Task A_week_of_a_plant_is_what_its_cans_held_by_the_litre_with_the_ec_that_was_measured()
    {
        await StartAsync();
        var can = (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        await WriteAsync(
            Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can, null, 300), "2026-03-02"),
            Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can, null, 100), "2026-03-08"),
            Told(Plant, new PlantGiven(Plant, null, Pouring.PlainWater, null, Small.WaterId, 500), "2026-03-04"),
            Told(Plant, new PlantGiven(Plant, null, Pouring.Leach, null, Small.WaterId, 2000), "2026-03-09"),
            Told(Plant, new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = Plant, PH = 6.4 }, "2026-03-06"));

        var weeks = await Desks.Nutrients.OfPlantAsync(Plant, cancel: Cancel);

        // The card: K 270, nitrate N 97 mg/L, EC 620 expected. The rain: calcium 0.1 mmol/kg, 4.008 mg (atomic weight 40.078).
        weeks.Select(week => week.Monday).ShouldBe([new DateOnly(2026, 3, 2), new DateOnly(2026, 3, 9)]);
        weeks[0].Milligrams[Nutrient.Potassium].ShouldBe(0.4 * 270, 1e-9);
        weeks[0].Milligrams[Nutrient.NitrateNitrogen].ShouldBe(0.4 * 97, 1e-9);
        weeks[0].Milligrams[Nutrient.Calcium].ShouldBe(0.5 * 4.0078, 1e-9);
        (weeks[0].FeedMillilitres, weeks[0].WaterMillilitres, weeks[0].MeanEcMicrosiemensPerCm, weeks[0].MeasuredRootPH).ShouldBe((400, 500, 620, 6.4));
        weeks[1].Milligrams.ShouldBe(NutrientAmounts.Zero, "a leach runs out again");
        weeks[1].MeanEcMicrosiemensPerCm.ShouldBeNull();

        await Desks.Mixing.SaveReadingAsync(new NewCanReading { CanId = can, EcMicrosiemensPerCm = 700 }, Cancel);
        (await Desks.Nutrients.OfPlantAsync(Plant, cancel: Cancel))[0].MeanEcMicrosiemensPerCm.ShouldBe(700);
        var bench = await Desks.Nutrients.OfBenchAsync(cancel: Cancel);
        bench.Keys.ShouldBe([Plant]);
        bench[Plant][0].Milligrams.ShouldBe(weeks[0].Milligrams);
    }

    [Fact]
    public async Task A_forgotten_plant_leaves_empty_places_and_nothing_else()
    {
        await StartAsync();
        var can = (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        var keiki = await TakenAsync(Plant, 3, Propagation.Keiki);
        var note = Told(Plant, new PlantNoted(Plant, "a secret under the third sheath"));
        await WriteAsync(
            note,
            Told(Plant, new PlantGiven(Plant, null, Pouring.Feed, can, null, 300.1)),
            Told(Small.SecondPlant, new PlantGiven(Small.SecondPlant, null, Pouring.Feed, can, null, 200.7)),
            Told(Plant, new PhotoAdded(Guid.CreateVersion7(), Plant, new string('a', 64), 800, 600, 1000, null)),
            Told(keiki, new PhotoAdded(Guid.CreateVersion7(), keiki, new string('b', 64), 800, 600, 1000, null)),
            Told(Plant, new PhotoAdded(Guid.CreateVersion7(), Plant, new string('b', 64), 800, 600, 1000, null)));
        await Desks.Mixing.PourAsync(can, cancel: Cancel);
        List<string> removed = [];
        ((PlantDesk)Desks.Plants).RemovePictures = (hashes, _) =>
        {
            removed.AddRange(hashes);
            return Task.CompletedTask;
        };

        var preview = await Desks.Plants.ForgetPreviewAsync(Plant, Cancel);
        (await Desks.Plants.GetAsync(Plant, Cancel)).ShouldNotBeNull("a preview removes nothing");
        (await Desks.Plants.ForgetAsync(Plant, Cancel)).ShouldBeEquivalentTo(preview);

        preview.Photos.ShouldBe(2);
        preview.Words.ShouldContain(words => words.Contains("Backups", StringComparison.Ordinal));
        preview.Words.ShouldContain(words => words.Contains("no. 3", StringComparison.Ordinal), "its keiki is told of");
        removed.ShouldBe([new string('a', 64)], "the other picture is the keiki's too");
        (await Desks.Plants.GetAsync(Plant, Cancel)).ShouldBeNull();
        (await Desks.Plants.GetAsync(keiki, Cancel))!.TakenFrom.ShouldBeNull();
        (await Desks.Database.ReadAsync(db => db.Facts.CountAsync(fact => fact.Kind == "fact.emptied", Cancel), Cancel)).ShouldBe(preview.Facts);
        (await Desks.Database.ReadAsync(db => db.Facts.CountAsync(fact => fact.SubjectId == Plant || fact.Payload.Contains("a secret"), Cancel), Cancel)).ShouldBe(0);
        (await Desks.Plants.NextNumberAsync(Cancel)).ShouldBe(4);
        await RebuiltIsTheSameAsync();

        // A phone that still holds the note in its queue sends it once more.
        (await Desks.Facts.WriteAsync([note], cancel: Cancel)).ShouldBe(new WriteReceipt(0, 1));
        (await Desks.Plants.GetAsync(Plant, Cancel)).ShouldBeNull();
    }

    [Fact]
    public async Task The_number_of_a_forgotten_plant_is_not_given_again()
    {
        await StartAsync();
        await Desks.Plants.ForgetAsync(Small.SecondPlant, Cancel);

        (await Desks.Plants.NextNumberAsync(Cancel)).ShouldBe(3);
        var id = Guid.CreateVersion7();
        var refused = await Should.ThrowAsync<EntryException>(() => WriteAsync(Told(id, new PlantArrived(id, 2, "x", "y", Habit.Sympodial))));
        refused.Problems.ShouldContain(problem => problem.Field == "number");
    }

    [Theory]
    [InlineData("UPDATE facts SET kind = 'fact.emptied', payload = '{\"a\":1}'")]
    [InlineData("UPDATE facts SET kind = 'fact.emptied', payload = '{}', position = position + 1000")]
    public async Task Emptying_is_the_only_change_the_database_lets_through(string tampering)
    {
        await StartAsync();
        (await Should.ThrowAsync<System.Data.Common.DbException>(() => Host.ExecuteAsync(tampering))).Message.ShouldContain("add one that corrects it");
    }

    protected Task StartAsync() => Log.AppendAsync(Small.Facts(), Cancel);

    protected Task<WriteReceipt> WriteAsync(params NewFact[] facts) => Desks.Facts.WriteAsync(facts, cancel: Cancel);

    private async Task<Guid> TakenAsync(Guid parent, int number, Propagation how)
    {
        var id = Guid.CreateVersion7();
        await WriteAsync(Told(id, new PlantArrived(id, number, $"Plant no. {number}", "strap-leaved", Habit.Monopodial, new Provenance { RaisedAs = how, ParentPlantId = parent }), "2026-02"));
        return id;
    }

    private async Task<string?> VirusAsync(Guid plant) => (await Desks.Plants.ListAsync(cancel: Cancel)).Single(card => card.Id == plant).VirusStatus;

    private async Task<IEnumerable<int>> NumbersAsync(BenchQuery query) => (await Desks.Plants.ListAsync(query, Cancel)).Select(card => card.Number);

    private async Task RebuiltIsTheSameAsync() => (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
}

public sealed class PlantDeskOnSqlite : PlantDeskTests
{
    [Fact]
    public async Task What_was_forgotten_is_not_in_the_file_any_more()
    {
        await StartAsync();
        await WriteAsync(Told(Small.FirstPlant, new PlantNoted(Small.FirstPlant, "Brittle-root-7713")));
        await Desks.Plants.ForgetAsync(Small.FirstPlant, Cancel);

        var file = ((SqliteHost)Host).File;
        foreach (var part in new[] { file, file + "-wal" }.Where(File.Exists))
        {
            await using var stream = new FileStream(part, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            using var reader = new StreamReader(stream, System.Text.Encoding.Latin1);
            (await reader.ReadToEndAsync(Cancel)).ShouldNotContain("rittle-root-7713", Case.Insensitive, part);
        }
    }

    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class PlantDeskOnPostgres(PostgresServer server) : PlantDeskTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
