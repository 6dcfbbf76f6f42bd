using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Demo.SixYears;
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
        var truth = SixYearsTold.Today.AddYears(-6).AddDays((int)(365.25 * Truth.Of("potassium_switch_year")));
        Math.Abs(change.Day.DayNumber - truth.DayNumber).ShouldBeLessThan(30);
    }

    [Fact]
    public async Task What_was_planted_is_found_and_what_was_not_is_not_with_all_questions_corrected_for_being_several()
    {
        var drivers = await Desk.DriversAsync(new EvidenceQuestion(new PlantGroup()), Cancel);

        foreach (var line in drivers.Drivers)
            TestContext.Current.TestOutputHelper!.WriteLine($"{line.Name}: {line.HazardRatio:0.00} ({line.Lower:0.00} to {line.Upper:0.00}), p {line.P:0.0000}, corrected {line.PAdjusted:0.0000}");
        foreach (var say in drivers.Says)
            TestContext.Current.TestOutputHelper!.WriteLine(say);
        DriverLine Line(string name) => drivers.Drivers.Single(line => line.Name.StartsWith(name, StringComparison.Ordinal));
        var (potassium, repotted) = (Line("potassium"), Line("repotted"));
        potassium.PAdjusted!.Value.ShouldBeLessThan(0.05, "the planted effect of potassium");
        Math.Exp(-Truth.Of("potassium_leaf_loss")).ShouldBeInRange(potassium.Lower!.Value, potassium.Upper!.Value, "a doubling of what was short");
        repotted.PAdjusted!.Value.ShouldBeLessThan(0.05, "the planted effect of repotting");
        Math.Exp(Truth.Of("repotting_leaf_loss")).ShouldBeInRange(repotted.Lower!.Value, repotted.Upper!.Value);
        drivers.Drivers.Where(line => line.Strength >= Strength.Hint).Select(line => line.Name).ShouldBeSubsetOf([potassium.Name, repotted.Name, Line("season").Name], "magnesium, strength, light, warmth, rest and flowers do nothing to leaves here");
        // Magnesium follows the other two wherever the cans do: asked alone it would pass for potassium.
        (drivers.Drivers.Any(line => line.Name.StartsWith("magnesium", StringComparison.Ordinal)) || drivers.Says.Any(say => say.StartsWith("magnesium", StringComparison.Ordinal))).ShouldBeTrue();
    }

    [Fact]
    public async Task Too_early_is_said_where_too_little_was_watched_before()
    {
        var kinds = await Desk.KindsAsync(new DateOnly(2022, 10, 29), Cancel);
        var lives = await Desk.LivesAsync(new EvidenceQuestion(new PlantGroup()), Cancel);

        kinds.Kinds.Count(kind => kind.StandsCorrected).ShouldBe(0, "a handful of losses a kind before the change");
        lives.SinceProposed.ShouldBeTrue();
        lives.Verdict!.AlsoChanged.ShouldContain(words => words.Contains("leaches"), "leaching had begun not long before: read from the ledger, not asked");
        lives.Curves.ShouldContain(curve => curve.Name == "came with the plant");
    }

    [Fact]
    public async Task Rare_events_do_not_differ_before_and_since()
    {
        var rates = await Desk.RatesAsync(new EvidenceQuestion(new PlantGroup()), Cancel);

        rates.Rates.Where(rate => rate.PAdjusted <= 0.05).ShouldBeEmpty("rots, pests and blasted spikes have nothing to do with potassium here");
    }

    [Fact]
    public async Task The_next_leaf_borrows_from_its_kind_and_says_how_much()
    {
        var next = await Desk.NextLeafAsync(30, Cancel);

        next.Borrowed!.Value.ShouldBeInRange(0.02, 0.98);
        next.Says.ShouldContain(say => say.Contains("borrowed from"));
        next.Leaves.Sum(leaf => leaf.Chance).ShouldBe(1, 1e-9);
        next.EarlyDays!.Value.ShouldBeLessThan(next.LateDays!.Value);
    }
}
