using Microsoft.Extensions.Time.Testing;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Desks;

/// <summary>Three months of a bench, for all statements about what its pots teach.</summary>
public sealed class TaughtBench : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-pots-").FullName;

    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2026, 3, 14, 10, 0, 0, TimeSpan.Zero));
    public BenchDesks Desks { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        Desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(_folder, "bench.db") }, demo: true, clock: Clock);
        // Three wicking pots are read at three visits; the rest of the bench never is.
        var pots = (await Desks.Learning.ListAsync()).Pots.Where(pot => pot.Culture == "wicking" && pot.Medium == "expanded clay").Take(3).ToList();
        Read = [.. pots.Select(pot => pot.PlantNumber)];
        foreach (var (i, visit) in new[] { 0, 4, 9 }.Index())
        {
            foreach (var pot in pots)
            {
                await Desks.Facts.WriteAsync([Reading(pot, new DateTime(2026, 3, 4, 9, 0, 0).AddDays(visit), 620 + 40 * i, 6.2 + 0.1 * i)]);
            }
        }

        await Desks.Learning.RefreshAsync();
    }

    public IReadOnlyList<int> Read { get; private set; } = [];

    public static NewFact Reading(PotLine pot, DateTime at, double ec, double pH) => new()
    {
        Id = Guid.CreateVersion7(),
        SubjectId = pot.PlantId,
        When = FactWhen.AtMinute(at, "Etc/UTC"),
        Payload = new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = pot.PlantId, PotId = pot.PotId, EcMicrosiemensPerCm = ec, PH = pH },
    };

    public async ValueTask DisposeAsync()
    {
        await Desks.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}

/// <summary>What the pots' desk says and keeps.</summary>
public sealed class PotLearningTests(TaughtBench bench) : IClassFixture<TaughtBench>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private IPotLearningDesk Desk => bench.Desks.Learning;

    [Fact]
    public async Task A_pot_without_readings_borrows_its_siblings_forecast_and_says_so()
    {
        var sheet = await Desk.ListAsync(Cancel);

        var unread = sheet.Pots.First(pot => pot.Medium == "expanded clay" && !bench.Read.Contains(pot.PlantNumber));
        unread.ForecastOf.ShouldBe(ForecastOf.ItsSiblings);
        unread.Siblings.ShouldBe(3);
        unread.Lift.ShouldNotBeNull().ShouldContain("it has no reading of its own");
        (await Desk.GetAsync(unread.PlantNumber, Cancel)).ShouldNotBeNull().Words[0].ShouldContain("No reading of this pot yet");
    }

    [Fact]
    public async Task A_pot_that_was_read_says_what_it_does_to_a_feed_and_what_cannot_be_told()
    {
        var pot = (await Desk.GetAsync(bench.Read[0], Cancel)).ShouldNotBeNull();

        pot.Line.Readings.ShouldBe(6);
        pot.Line.ForecastOf.ShouldBe(ForecastOf.ItsReadings);
        var ph = pot.Line.RootPHAfterTwoDays.ShouldNotBeNull();
        ph.Low.ShouldBeLessThan(ph.Value);
        ph.Value.ShouldBeLessThan(ph.High);
        pot.Line.Lift.ShouldNotBeNull().ShouldStartWith("This pot lifts a 5.8 feed to ");
        // Six values cannot tell how much base clay held when it was new, years ago.
        pot.Traits.Single(trait => trait.Name == "base held when fresh").Known.ShouldNotBe(Knowledge.Own);
        pot.Words.ShouldContain(words => words.StartsWith("The readings cannot tell: "));
    }

    [Fact]
    public async Task A_plot_goes_a_week_beyond_today_and_draws_no_reading_there()
    {
        var pot = (await Desk.GetAsync(bench.Read[0], Cancel)).ShouldNotBeNull();

        var track = pot.Tracks.Single(each => each.Kind == ReadingKind.ReservoirPH);
        track.Readings.Count.ShouldBe(3);
        track.Readings.ShouldAllBe(point => point.At <= track.Now && point.Weight > 0 && point.Weight <= 1);
        (track.Band[^1].At - track.Now).TotalDays.ShouldBeInRange(5.9, 7.1);
        track.Band.ShouldAllBe(moment => moment.Band.Low < moment.Band.High);
    }

    [Theory]
    [InlineData(65.0, null, "6.5 was probably meant")]
    [InlineData(null, 0.71, "710 µS/cm, was probably meant")]
    [InlineData(655.0, null, "6.55 was probably meant")]
    public async Task A_reading_that_cannot_be_is_refused_with_what_was_probably_meant(double? pH, double? ec, string meant)
    {
        var reading = new NewPotReading { Id = Guid.CreateVersion7(), PlantNumber = bench.Read[0], PH = pH, EcMicrosiemensPerCm = ec };

        var refused = await Should.ThrowAsync<EntryException>(() => Desk.ReadAsync(reading, Cancel));

        refused.Problems.ShouldHaveSingleItem().Accepted.ShouldContain(meant);
        (await bench.Desks.Database.ReadAsync(db => Task.FromResult(db.TakenReadings.Any(row => row.Id == reading.Id)), Cancel)).ShouldBeFalse();
    }

    [Fact]
    public async Task Nothing_is_read_of_a_pot_that_holds_no_plant() =>
        (await Should.ThrowAsync<EntryException>(() => Desk.CheckAsync(new NewPotReading { Id = Guid.CreateVersion7(), PlantNumber = 9999, PH = 6 }, Cancel))).Problems[0].Field.ShouldBe("plant");

    [Fact]
    public void A_pot_that_came_after_the_fit_has_its_siblings_forecast_and_says_so()
    {
        var learned = bench.Desks.Database.Learned.ShouldNotBeNull();
        var young = new Growing.Bench.Pot { Id = Guid.CreateVersion7(), Culture = Growing.Culture.Wicking, Medium = "expanded clay", MediumLitres = 0.8, ReservoirLitres = 0.25, FeedMillilitres = 180, FeedEveryDays = 7, LastFed = null };

        var known = learned.FindTaught(young).ShouldNotBeNull();

        known.Readings.ShouldBe(0);
        known.Siblings.ShouldBe(3);
        LearnedPots.FittedTo(known).ShouldBe("A forecast, fitted to 3 pots of the same medium; this pot was never read.");
        new BelievedForecasts(learned).Of([(Guid.CreateVersion7(), young)], PotModels.NominalFeed(Growing.Mixing.DefaultWants.All[0].Want), Guid.CreateVersion7(), Guid.CreateVersion7())[0].Model.ShouldBe(BelievedForecasts.FittedModel);
    }

    [Fact]
    public async Task What_the_mixing_card_shows_and_what_is_recorded_are_the_same_widened_bands()
    {
        var learned = bench.Desks.Database.Learned.ShouldNotBeNull().With(new BandWidening(1, 1, 1, 2, 3));
        var (pot, feed) = (learned.Records.Values.Single(record => record.Plant.Number == bench.Read[0]).Pot, PotModels.NominalFeed(Growing.Mixing.DefaultWants.All[0].Want));
        IReadOnlyList<BelievedMoment> Recorded(LearnedPots from) => new BelievedForecasts(from).Of([(pot.PlantId, pot.ToPot())], feed, Guid.CreateVersion7(), Guid.CreateVersion7())[0].Moments;
        var (wide, plain) = (Recorded(learned), Recorded(learned.With(BandWidening.None)));
        foreach (var (widened, narrow) in wide.Zip(plain))
        {
            (widened.PH.High - widened.PH.Value).ShouldBe(3 * (narrow.PH.High - narrow.PH.Value), 0.005);
            Math.Log(widened.EcMicrosiemensPerCm.High / widened.EcMicrosiemensPerCm.Value).ShouldBe(2 * Math.Log(narrow.EcMicrosiemensPerCm.High / narrow.EcMicrosiemensPerCm.Value), 0.005);
            // A pen's own error of 0.1 is in it.
            (narrow.PH.High - narrow.PH.Value).ShouldBeGreaterThan(0.1);
        }

        // The card's forecast of a day on is the one that is recorded with the feed.
        var group = (await bench.Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).Due.MaxBy(due => due.Plants.Count)!;
        var can = (await bench.Desks.Mixing.PlanAsync(new PlanChoices { Groups = [group.Group.Name], MostCans = 1 }, cancel: Cancel)).Plan.ShouldNotBeNull().Cans.Single();
        var card = await bench.Desks.Pots.ForecastAsync(pot.Id, can, 14, Cancel);
        var noted = new BelievedForecasts(bench.Desks.Database.Learned).Of([(pot.PlantId, pot.ToPot())], can.MolPerKgWater, Guid.CreateVersion7(), Guid.CreateVersion7())[0].Moments.Single(moment => moment.Day == 1);
        var shown = card.Moments.MinBy(moment => Math.Abs(moment.Hours - 24))!;
        shown.RootPH.ShouldSatisfyAllConditions(ph => ph.Low.ShouldBe(noted.PH.Low, 0.001), ph => ph.Value.ShouldBe(noted.PH.Value, 0.001), ph => ph.High.ShouldBe(noted.PH.High, 0.001));
        shown.RootEcMicrosiemensPerCm.High.ShouldBe(noted.EcMicrosiemensPerCm.High, 0.1);
    }

    [Fact]
    public async Task The_walk_and_the_mixing_page_use_what_was_learned()
    {
        var learned = bench.Desks.Database.Learned.ShouldNotBeNull();
        var pot = (await Desk.GetAsync(bench.Read[0], Cancel)).ShouldNotBeNull();
        var parameters = learned.Find(pot.Line.PotId).ShouldNotBeNull().Parameters;
        parameters.ExchangeFactor.ShouldNotBe(1);

        var due = await bench.Desks.Mixing.GetBenchTodayAsync(new DateOnly(2026, 3, 14), Cancel);
        var plants = await bench.Desks.Database.ReadAsync(async db => await RoundReader.PlantsAsync(db, await BenchReader.StandingAsync(db, Cancel), due.AsOf, null, Cancel), Cancel);
        plants.Single(plant => plant.Number == bench.Read[0]).Parameters.ShouldBe(parameters);
    }
}
