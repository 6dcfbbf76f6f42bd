using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Growing.Tests.Mixing;

namespace Rootwater.Growing.Tests.Cupboard.Supply;

/// <summary>The coming rounds from who is due. Where the past is regular the future is counted by hand.</summary>
public sealed class ComingRoundsTests
{
    private static readonly DateOnly s_today = new(2027, 2, 1);
    private static readonly Product s_nitrate = Kitchen.PotassiumNitrate.Product;
    private static readonly Guid s_rain = Kitchen.Id(701);

    private static readonly DateOnly[] s_walks = [.. Enumerable.Range(0, 104).Select(week => s_today.AddDays(-7 * week))];

    private static FedPlant Plant(int number, string recipe, DateOnly? last, IReadOnlyList<PastGap> gaps, int every = 7, double millilitres = 500) => new(Kitchen.Id(number), recipe, last, every, millilitres, gaps);

    private static List<PastGap> Weekly() => [.. Enumerable.Range(1, 100).Select(week => new PastGap(s_today.AddDays(-7 * week), 7))];

    private static CanPattern Can(int daysAgo, string recipe, double gramsPerLitre = 1, double mixedPerPoured = 1) =>
        new(s_today.AddDays(-daysAgo), new Dictionary<Guid, double> { [s_nitrate.Id] = gramsPerLitre }, new Dictionary<Guid, double> { [s_rain] = 1 }, mixedPerPoured, new Dictionary<string, double> { [recipe] = 500 });

    private static List<ComingCan> Drawn(ComingRounds rounds, int days = 364, int seed = 1) => [.. rounds.Draw(s_today.AddDays(days), new Random(seed))];

    [Fact]
    public void A_plant_fed_each_week_is_fed_on_each_weekly_walk_to_come()
    {
        var rounds = new ComingRounds([Plant(1, "steady", s_today, Weekly())], [Can(7, "steady")], s_walks, s_today);
        var cans = Drawn(rounds);
        // The plant was fed today; the walk of today is over for it.
        cans.Select(can => can.On).ShouldBe(Enumerable.Range(1, 52).Select(week => s_today.AddDays(7 * week)));
        cans.ShouldAllBe(can => can.Litres == 0.5 && can.Plants == 1);
    }

    [Fact]
    public void Plants_of_one_recipe_share_the_can_of_a_walk_and_what_is_left_over_is_mixed_too()
    {
        var rounds = new ComingRounds([Plant(1, "steady", s_today, Weekly()), Plant(2, "steady", s_today, Weekly())], [Can(7, "steady", mixedPerPoured: 1.5)], s_walks, s_today);
        Drawn(rounds).ShouldAllBe(can => can.Plants == 2 && Math.Abs(can.Litres - 1.5) < 1e-9);
    }

    [Fact]
    public void One_that_was_lost_takes_nothing_and_one_more_takes_more()
    {
        // Of whole cans drawn from the past neither would be true.
        double Litres(params FedPlant[] plants) => Drawn(new ComingRounds(plants, [Can(7, "steady")], s_walks, s_today)).Sum(can => can.Litres);
        Litres(Plant(1, "steady", s_today, Weekly()), Plant(2, "steady", s_today, Weekly())).ShouldBe(2 * Litres(Plant(1, "steady", s_today, Weekly())), 1e-9);
    }

    [Fact]
    public void A_plant_that_rests_in_winter_is_not_fed_through_the_winter()
    {
        // Weekly from April to October, then 180 days without: once a year there is one such gap.
        var gaps = new List<PastGap>();
        for (var year = 2024; year < 2027; year++)
        {
            gaps.AddRange(Enumerable.Range(0, 26).Select(week => new PastGap(new DateOnly(year, 4, 10).AddDays(7 * week), 7)));
            gaps.Add(new PastGap(new DateOnly(year, 10, 9), 183));
        }

        var rounds = new ComingRounds([Plant(1, "steady", new DateOnly(2026, 10, 9), gaps)], [Can(120, "steady")], s_walks, s_today);
        var cans = Drawn(rounds, 365);
        cans.ShouldAllBe(can => can.On >= new DateOnly(2027, 4, 3), "the rest that is running has 115 days behind it, and only gaps longer than that are drawn");
        cans.Count.ShouldBeInRange(20, 32);
    }

    [Fact]
    public void A_new_plant_borrows_the_gaps_of_those_that_get_the_same()
    {
        // Its sisters, asked for weekly, are fed every second week; asked for fortnightly, it would be fed each fourth.
        var sisters = Weekly().Where((_, i) => i % 2 == 0).Select(gap => gap with { Days = 14 }).ToList();
        var rounds = new ComingRounds([Plant(1, "steady", null, [], every: 14), Plant(2, "steady", s_today, sisters, millilitres: 0)], [Can(7, "steady")], s_walks, s_today);
        (Drawn(rounds, 364 - 1).Sum(can => can.Litres) / 0.5).ShouldBeInRange(12, 14);
    }

    [Fact]
    public void One_whose_recipe_no_can_ever_served_is_named_and_takes_nothing()
    {
        var rounds = new ComingRounds([Plant(1, "strange", s_today, Weekly())], [Can(7, "steady")], s_walks, s_today);
        rounds.HasAny.ShouldBeFalse();
        rounds.Unfed.ShouldBe([Kitchen.Id(1)]);
        Drawn(rounds).ShouldBeEmpty();
    }

    [Fact]
    public void The_cupboard_runs_out_on_the_walk_one_counts_by_hand()
    {
        // 5 g at 0.5 g a walk from next week on: ten walks are whole, the eleventh finds nothing.
        var rounds = new ComingRounds([Plant(1, "steady", s_today, Weekly())], [Can(7, "steady")], s_walks, s_today);
        var item = new SupplyItem(s_nitrate, [new Lot { Id = Kitchen.Id(900), ProductId = s_nitrate.Id, GramsLeft = 5 }]);
        var outlook = SupplyForecast.Of(new SupplyRequest { Cupboard = [item], Past = [], Rounds = rounds, Today = s_today, Draws = 20, UsualLeadDays = 7 }).Products.Single();
        outlook.RunsOut.ShouldBe((s_today.AddDays(77), s_today.AddDays(77), s_today.AddDays(77)));
        outlook.OrderBy.ShouldBe(s_today.AddDays(70));
    }

    [Fact]
    public void Bands_from_uneven_feeding_hold_about_eight_futures_in_ten()
    {
        // Each plant is fed after 7, 14 or 21 days by chance; its past is drawn from that, and so is a future the forecast has not seen.
        var held = 0;
        for (var bench = 0; bench < 100; bench++)
        {
            var random = new Random(1000 + bench);
            var plants = Enumerable.Range(1, 4).Select(number =>
            {
                var gaps = new List<PastGap>();
                for (var day = s_today.AddDays(-700); day < s_today;)
                {
                    var gap = 7 * random.Next(1, 4);
                    gaps.Add(new PastGap(day, gap));
                    day = day.AddDays(gap);
                }

                return Plant(number, "steady", s_today, gaps);
            }).ToList();
            var item = new SupplyItem(s_nitrate, [new Lot { Id = Kitchen.Id(900), ProductId = s_nitrate.Id, GramsLeft = 10 }]);
            var rounds = new ComingRounds(plants, [Can(7, "steady")], s_walks, s_today);
            var outlook = SupplyForecast.Of(new SupplyRequest { Cupboard = [item], Past = [], Rounds = rounds, Today = s_today, Draws = 60, Seed = bench, HorizonDays = 200 }).Products.Single();
            var feeds = plants.SelectMany(_ =>
            {
                var days = new List<int>();
                for (var day = 7 * random.Next(1, 4); day < 200; day += 7 * random.Next(1, 4))
                {
                    days.Add(day);
                }

                return days;
            }).Order().ToList();
            // 0.5 g each: the 21st finds nothing.
            var truth = s_today.AddDays(feeds[20]);
            held += truth >= outlook.RunsOut.Early && truth <= outlook.RunsOut.Late ? 1 : 0;
        }

        // On walks a week apart a day at the edge is held: somewhat over eighty.
        held.ShouldBeInRange(75, 98);
    }
}
