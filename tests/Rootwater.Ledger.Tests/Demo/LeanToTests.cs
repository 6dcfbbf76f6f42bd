using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Time.Testing;
using Rootwater.Growing.Labels;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>The demo bench on 14 March 2026, filled once for all statements about it.</summary>
public sealed class LeanToBench : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-demo-").FullName;

    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2026, 3, 14, 10, 0, 0, TimeSpan.Zero));

    public BenchDesks Desks { get; private set; } = null!;

    public LedgerOptions At(string name) => new() { Location = Path.Combine(_folder, name + ".db") };

    public async ValueTask InitializeAsync() => Desks = await BenchDesks.OpenAsync(At("bench"), demo: true, clock: Clock);

    public async ValueTask DisposeAsync()
    {
        await Desks.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}

public sealed class LeanToTests(LeanToBench bench) : IClassFixture<LeanToBench>
{
    private readonly BenchDesks _desks = bench.Desks;
    private readonly FakeTimeProvider _clock = bench.Clock;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_lean_to_has_36_plants_in_three_media_two_waters_and_twelve_products()
    {
        var pots = await _desks.Pots.ListAsync(Cancel);

        pots.Count.ShouldBe(36);
        pots.Select(pot => pot.PlantNumber).Order().ShouldBe(Enumerable.Range(1, 36));
        pots.Select(pot => pot.Medium).Distinct().Count().ShouldBe(3);
        (await _desks.Water.ListAsync(Cancel)).Select(water => water.Name).ShouldBe(["rain barrel", "tap water"]);
        (await _desks.Cupboard.ListAsync(Cancel)).Count.ShouldBe(12);
    }

    [Fact]
    public async Task Plants_came_over_six_years_each_date_as_exact_as_it_is_known()
    {
        var arrivals = await _desks.Database.ReadAsync(db => db.Plants.Select(plant => new { plant.ArrivedOn, plant.ArrivedPrecision }).ToListAsync(Cancel), Cancel);

        (arrivals.Max(arrival => arrival.ArrivedOn).DayNumber - arrivals.Min(arrival => arrival.ArrivedOn).DayNumber).ShouldBeGreaterThan(5 * 365);
        arrivals.Select(arrival => arrival.ArrivedPrecision).Distinct().Count().ShouldBe(3);
    }

    [Fact]
    public async Task The_same_day_and_seed_tell_the_same_facts()
    {
        await using var again = await BenchDesks.OpenAsync(bench.At("again"), demo: true, clock: _clock, cancel: Cancel);

        foreach (var (told, before) in (await FactsAsync(again)).Zip(await FactsAsync(_desks)))
        {
            told.ShouldBe(before);
        }
    }

    [Fact]
    public async Task Another_seed_tells_other_facts()
    {
        await using var other = await BenchDesks.OpenAsync(bench.At("other"), clock: _clock, cancel: Cancel);
        await LeanTo.FillIfEmptyAsync(other.Database, _clock, seed: 37, cancel: Cancel);

        (await FactsAsync(other)).ShouldNotBe(await FactsAsync(_desks));
    }

    [Fact]
    public async Task A_bench_that_holds_anything_is_left_as_it_is()
    {
        var before = await FactsAsync(_desks);

        (await LeanTo.FillIfEmptyAsync(_desks.Database, _clock, cancel: Cancel)).ShouldBe(0);

        (await FactsAsync(_desks)).ShouldBe(before);
    }

    [Fact]
    public async Task Everything_on_its_pages_follows_from_its_facts()
    {
        var report = await LedgerCheck.CheckAsync(_desks.Database, Cancel);

        report.Differences.ShouldBeEmpty();
        report.Tables["cans"].ShouldBeGreaterThan(40);
        report.Tables["readings"].ShouldBeGreaterThanOrEqualTo(report.Tables["cans"]);
    }

    [Fact]
    public async Task Facts_are_written_down_as_the_months_go_by()
    {
        var recorded = await _desks.Database.ReadAsync(db => db.Facts.OrderBy(fact => fact.Position).Select(fact => fact.RecordedMicroseconds).ToListAsync(Cancel), Cancel);

        recorded.ShouldBe(recorded.Order());
        TimeSpan.FromMicroseconds(recorded[^1] - recorded[0]).TotalDays.ShouldBeInRange(80, 91);
    }

    [Fact]
    public async Task Readings_mostly_agree_with_their_cards_and_never_all()
    {
        var cans = await _desks.Mixing.ListCansAsync(200, Cancel);

        var agree = cans.Count(can => can.ReadEcMicrosiemensPerCm >= can.EcMicrosiemensPerCm.Low && can.ReadEcMicrosiemensPerCm <= can.EcMicrosiemensPerCm.High);

        ((double)agree / cans.Count).ShouldBeInRange(0.5, 0.99);
    }

    [Fact]
    public async Task Somebody_is_due_in_walking_order()
    {
        var today = await _desks.Mixing.GetBenchTodayAsync(cancel: Cancel);

        var due = today.Due.Sum(group => group.Group.Portions.Count);
        due.ShouldBeInRange(10, 36);
        (due + today.NotDue).ShouldBe(36);
        foreach (var group in today.Due)
        {
            group.Group.Portions.Select(portion => portion.WalkOrder).ShouldBe(group.Group.Portions.Select(portion => portion.WalkOrder).Order());
        }
    }

    [Fact]
    public void The_labels_declare_what_the_products_hold()
    {
        var cupboard = new DemoCupboard(Guid.NewGuid, new Dice(1));
        foreach (var item in cupboard.Products.Values.Where(item => item.Entry.LabelText is not null))
        {
            var reading = LabelText.Parse(item.Entry.LabelText!);
            var declared = reading.Label.ShouldNotBeNull().Contents();
            var holds = Growing.Nutrients.MilligramsIn(DemoCupboard.TruthOf(item.Holds));
            foreach (var (nutrient, amount) in declared.Declared)
            {
                // Rounded to the label's last digit, and two of that digit for the salts chosen by hand.
                holds[nutrient].ShouldBe(amount.MgPerKg, 3 * amount.RoundingMgPerKg + 0.01 * amount.MgPerKg, $"{nutrient} of {item.Entry.Name}");
            }
        }
    }

    private static Task<List<string>> FactsAsync(BenchDesks desks) => desks.Database.ReadAsync(
        db => db.Facts.OrderBy(fact => fact.Position).Select(fact => $"{fact.Id} {fact.Kind} {fact.Earliest} {fact.RecordedMicroseconds} {fact.Payload}").ToListAsync(Cancel), Cancel);
}
