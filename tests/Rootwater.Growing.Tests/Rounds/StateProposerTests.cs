using Rootwater.Growing.Bench;
using Rootwater.Growing.Rounds;

namespace Rootwater.Growing.Tests.Rounds;

public sealed class StateProposerTests
{
    private static readonly DateOnly s_today = new(2026, 3, 14);

    private static PlantSigns Signs(params PlantState[] states) => new()
    {
        PlantId = Guid.CreateVersion7(),
        Number = 14,
        Kind = "unifoliate Cattleya",
        States = states,
        StatesOn = s_today.AddDays(-40),
        Growths = [],
    };

    private static Growth Growth(int number, DateOnly? begun, GrowthForm form = GrowthForm.Bulb, IReadOnlyList<Leaf>? leaves = null, IReadOnlyList<Spike>? spikes = null) =>
        new() { Id = Guid.CreateVersion7(), Number = number, Form = form, Begun = begun is { } day ? DaySpan.On(day) : null, Leaves = leaves ?? [], Spikes = spikes ?? [] };

    private static Leaf Leaf(DateOnly seen, bool thereOnArrival = false, DateOnly? yellow = null) => new()
    {
        Id = Guid.CreateVersion7(),
        GrowthId = Guid.CreateVersion7(),
        Position = 1,
        FirstSeen = DaySpan.On(seen),
        ThereOnArrival = thereOnArrival,
        Marks = yellow is { } day ? [new LeafMark(DaySpan.On(day), LeafSign.Yellowing, LeafPart.Whole, null)] : [],
    };

    private static Spike Spike(DateOnly seen, DateOnly? flower = null, DateOnly? over = null) => new()
    {
        Id = Guid.CreateVersion7(),
        GrowthId = Guid.CreateVersion7(),
        FirstSeen = DaySpan.On(seen),
        Measures = [new SpikeMeasure(seen, 40, null)],
        FirstFlower = flower is { } first ? DaySpan.On(first) : null,
        LastFlower = over is { } last ? DaySpan.On(last) : null,
    };

    private static List<string> Proposed(PlantSigns plant, DateOnly? today = null) =>
        [.. StateProposer.For(plant, today ?? s_today).Select(proposal => $"{(proposal.Begins ? "+" : "-")}{proposal.State}: {proposal.Why}")];

    [Fact]
    public void New_roots_begin_a_state_and_end_establishing() => Proposed(Signs(PlantState.Establishing) with { NewRootsOn = new(2026, 3, 12) })
        .ShouldBe(["+NewRoots: new roots seen on 12 March", "-Establishing: new roots seen on 12 March: it has taken hold"]);

    [Fact]
    public void What_was_seen_before_the_states_were_confirmed_proposes_nothing() =>
        Proposed(Signs() with { NewRootsOn = new(2026, 3, 12), StatesOn = new(2026, 3, 12) }).ShouldBeEmpty();

    [Fact]
    public void Roots_not_seen_for_three_months_end() =>
        Proposed(Signs(PlantState.NewRoots) with { NewRootsOn = s_today.AddDays(-120), StatesOn = s_today.AddDays(-120) }).ShouldHaveSingleItem().ShouldStartWith("-NewRoots");

    [Fact]
    public void A_spike_its_first_flower_and_its_last()
    {
        Proposed(Signs() with { Growths = [Growth(1, null, spikes: [Spike(new(2026, 3, 10))])] }).ShouldBe(["+InSpike: spike seen on 10 March, 4 cm"]);
        Proposed(Signs(PlantState.InSpike, PlantState.Sheath) with { Growths = [Growth(1, null, spikes: [Spike(new(2026, 1, 10), new(2026, 3, 11))])] })
            .ShouldBe(["-InSpike: its spike opened on 11 March", "+Flowering: first flower on 11 March", "-Sheath: first flower on 11 March"]);
        Proposed(Signs(PlantState.Flowering) with { Growths = [Growth(1, null, spikes: [Spike(new(2025, 12, 1), new(2026, 1, 20), new(2026, 3, 9))])] })
            .ShouldBe(["-Flowering: last flower over on 9 March"]);
    }

    [Fact]
    public void A_plant_can_flower_on_one_spike_and_grow_another() =>
        Proposed(Signs() with { Growths = [Growth(1, null, spikes: [Spike(new(2026, 1, 10), new(2026, 3, 11)), Spike(new(2026, 3, 12))])] })
            .Select(words => words.Split(':')[0]).ShouldBe(["+InSpike", "+Flowering"]);

    [Fact]
    public void A_bulb_that_makes_no_more_leaves_ripens() =>
        Proposed(Signs(PlantState.LeafGrowth) with { StatesOn = new(2025, 10, 1), Growths = [Growth(4, new(2025, 8, 1), leaves: [Leaf(new(2025, 12, 1))])] })
            .ShouldBe(["+BulbRipening: its newest bulb made its last leaf on 1 December", "-LeafGrowth: no new leaf since 1 December"]);

    [Fact]
    public void Leaves_that_came_with_the_plant_say_nothing_about_growth() =>
        Proposed(Signs() with { Growths = [Growth(1, null, leaves: [Leaf(s_today.AddDays(-10), thereOnArrival: true)])] }).ShouldBeEmpty();

    [Fact]
    public void Potted_without_new_roots_it_is_establishing() =>
        Proposed(Signs() with { PottedOn = new(2026, 3, 1) }).ShouldBe(["+Establishing: potted on 1 March, no new roots seen since"]);

    [Fact]
    public void A_rest_needs_its_season_and_a_sign()
    {
        var autumn = new DateOnly(2026, 11, 20);
        Growth[] yellowing = [Growth(1, null, GrowthForm.Cane, [Leaf(new(2026, 5, 1), yellow: new(2026, 11, 10)), Leaf(new(2026, 5, 20), yellow: new(2026, 11, 12))])];
        var plant = Signs() with { Kind = "deciduous Dendrobium", Growths = yellowing };
        var rest = StateProposer.For(plant, autumn).Single(proposal => proposal.State == PlantState.DryRest);
        rest.Begins.ShouldBeTrue();
        rest.Why.ShouldContain("no water, no feed");
        StateProposer.For(plant, autumn, southOfEquator: true).ShouldNotContain(proposal => proposal.State == PlantState.DryRest);
        StateProposer.For(plant with { Growths = [] }, autumn).ShouldBeEmpty("the month alone begins no rest");
    }

    [Fact]
    public void A_rest_ends_by_a_sign_or_when_its_months_are_over()
    {
        var plant = Signs(PlantState.DryRest) with { Kind = "deciduous Dendrobium", StatesOn = new(2025, 11, 20) };
        Proposed(plant with { Growths = [Growth(5, new(2026, 2, 1), GrowthForm.Cane)] }, new(2026, 2, 10)).ShouldContain("-DryRest: a new growth on 1 February: water again, feed as it grows");
        Proposed(plant, new(2026, 2, 10)).ShouldBeEmpty();
        Proposed(plant).ShouldHaveSingleItem().ShouldStartWith("-DryRest: its usual months of rest are over");
        Proposed(plant with { StatesOn = new(2026, 3, 5) }).ShouldBeEmpty("refused once it is not asked again");
    }
}
