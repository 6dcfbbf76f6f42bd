using CsCheck;
using Rootwater.Growing.Bench;

namespace Rootwater.Growing.Tests.Bench;

public sealed class LeafCountsTests
{
    private static readonly DateOnly s_start = new(2024, 1, 1);

    [Fact]
    public void The_count_after_a_day_is_the_number_of_leaves_alive_on_it() =>
        Gen.Select(Gen.Int[0, 900], Gen.Nullable(Gen.Int[0, 500])).List[0, 12].Sample(lives =>
        {
            var growth = Growth([.. lives.Select((life, i) => Leaf(i + 1, life.Item1, life.Item2 is { } days ? life.Item1 + days : null))]);

            var counts = LeafCounts.OverTime([growth]);

            foreach (var probe in Enumerable.Range(0, 30).Select(i => s_start.AddDays(i * 50)))
            {
                var alive = growth.Leaves.Count(leaf => leaf.FirstSeen.Earliest <= probe && (leaf.Lost is null || leaf.Lost.When.Latest > probe));
                counts.LastOrDefault(count => count.From <= probe).Leaves.ShouldBe(alive);
            }

            counts.Select(count => count.From).ShouldBe(counts.Select(count => count.From).Order());
        });

    [Fact]
    public void A_growth_that_died_took_its_leaves_along()
    {
        var growth = Growth([Leaf(1, 0, null), Leaf(2, 10, null)]) with { Ended = DaySpan.On(s_start.AddDays(20)) };

        LeafCounts.OverTime([growth]).ShouldBe([(s_start, 1), (s_start.AddDays(10), 2), (s_start.AddDays(20), 0)]);
    }

    [Theory]
    [InlineData("deciduous Dendrobium", 11, LeafLoss.Shed, LeafAlarm.None)]
    [InlineData("deciduous Dendrobium", 9, LeafLoss.Unknown, LeafAlarm.None)] // a month before the rest
    [InlineData("deciduous Dendrobium", 6, LeafLoss.Unknown, LeafAlarm.Look)]
    [InlineData("deciduous Dendrobium", 11, LeafLoss.Rot, LeafAlarm.Urgent)]
    [InlineData("Phalaenopsis", 11, LeafLoss.Shed, LeafAlarm.Look)]
    [InlineData("Phalaenopsis", 11, LeafLoss.Unknown, LeafAlarm.Look)]
    [InlineData("Phalaenopsis", 11, LeafLoss.Broken, LeafAlarm.None)]
    public void A_leaf_off_the_middle_of_a_growth_calls_for_a_look_unless_its_kind_sheds_then(string kind, int month, LeafLoss cause, LeafAlarm alarm)
    {
        var lost = Leaf(2, 0, null) with { Lost = new LeafEnd(DaySpan.On(new DateOnly(2025, month, 15)), cause, null) };

        LeafCounts.Judge(Kinds.Find(kind), Growth([Leaf(1, 0, null), lost, Leaf(3, 0, null)]), lost, newerGrowth: false).ShouldBe(alarm);
    }

    [Fact]
    public void The_oldest_leaf_may_go_without_alarm()
    {
        var oldest = Leaf(2, 0, 300) with { Lost = new LeafEnd(DaySpan.On(new DateOnly(2025, 6, 1)), LeafLoss.Unknown, null) };

        LeafCounts.Judge(Kinds.Find("Phalaenopsis"), Growth([Leaf(1, 0, 100), oldest, Leaf(3, 0, null)]), oldest, newerGrowth: false).ShouldBe(LeafAlarm.None);
    }

    [Fact]
    public void An_old_soft_cane_sheds_at_any_time_once_its_successor_stands()
    {
        var lost = Leaf(2, 0, null) with { Lost = new LeafEnd(DaySpan.On(new DateOnly(2025, 6, 15)), LeafLoss.Unknown, null) };
        var cane = Growth([Leaf(1, 0, null), lost]);

        LeafCounts.Judge(Kinds.Find("soft-caned Dendrobium"), cane, lost, newerGrowth: true).ShouldBe(LeafAlarm.None);
        LeafCounts.Judge(Kinds.Find("soft-caned Dendrobium"), cane, lost, newerGrowth: false).ShouldBe(LeafAlarm.Look);
    }

    [Theory]
    [InlineData("deciduous Dendrobium", LeafSign.Yellowing, 11, true)]
    [InlineData("deciduous Dendrobium", LeafSign.Yellowing, 6, false)]
    [InlineData("deciduous Dendrobium", LeafSign.WaterSoaked, 11, false)]
    [InlineData("Phalaenopsis", LeafSign.Yellowing, 11, false)]
    public void Yellow_in_its_season_is_how_a_deciduous_leaf_falls(string kind, LeafSign sign, int month, bool sheds) =>
        LeafCounts.IsShedding(Kinds.Find(kind), new LeafMark(DaySpan.On(new DateOnly(2025, month, 15)), sign, LeafPart.Whole, null), newerGrowth: false).ShouldBe(sheds);

    private static Growth Growth(IReadOnlyList<Leaf> leaves) => new() { Id = Guid.NewGuid(), Number = 1, Form = GrowthForm.Cane, Begun = null, Leaves = leaves, Spikes = [] };

    private static Leaf Leaf(int position, int seen, int? lost) => new()
    {
        Id = Guid.NewGuid(),
        GrowthId = Guid.Empty,
        Position = position,
        FirstSeen = DaySpan.On(s_start.AddDays(seen)),
        ThereOnArrival = false,
        Lost = lost is { } day ? new LeafEnd(DaySpan.On(s_start.AddDays(day)), LeafLoss.Unknown, null) : null,
    };
}
