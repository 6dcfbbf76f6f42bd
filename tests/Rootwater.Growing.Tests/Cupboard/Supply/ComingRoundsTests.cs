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

    private static CanPattern Can(int daysAgo, string recipe, double gramsPerLitre = 1, double litres = 0.5, double poured = 0.5) =>
        new(s_today.AddDays(-daysAgo), new Dictionary<Guid, double> { [s_nitrate.Id] = gramsPerLitre }, new Dictionary<Guid, double> { [s_rain] = 1 }, litres, poured, new Dictionary<string, double> { [recipe] = 1000 * poured });

    /// <summary>Feeds every so many days over some years up to a day, as a plant's own gaps.</summary>
    private static List<PastGap> Every(int days, DateOnly from, DateOnly to, Culture culture = Culture.Wicking, double millilitres = 500)
    {
        var gaps = new List<PastGap>();
        for (var day = from; day.AddDays(days) <= to; day = day.AddDays(days))
        {
            gaps.Add(new PastGap(day, days, culture, millilitres));
        }

        return gaps;
    }

    /// <summary>Weekly from April to October in each of three years, then without until April.</summary>
    private static List<PastGap> RestingInWinter()
    {
        var gaps = new List<PastGap>();
        for (var year = 2024; year < 2027; year++)
        {
            gaps.AddRange(Enumerable.Range(0, 26).Select(week => new PastGap(new DateOnly(year, 4, 10).AddDays(7 * week), 7)));
            gaps.Add(new PastGap(new DateOnly(year, 10, 9), 183));
        }

        return gaps;
    }

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
    public void Plants_of_one_recipe_share_the_can_of_a_walk_and_what_was_left_over_is_mixed_again()
    {
        var rounds = new ComingRounds([Plant(1, "steady", s_today, Weekly()), Plant(2, "steady", s_today, Weekly())], [Can(7, "steady", litres: 1.5, poured: 1)], s_walks, s_today);
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
        var gaps = RestingInWinter().Where(gap => gap.To <= s_today).ToList();
        var rounds = new ComingRounds([Plant(1, "steady", new DateOnly(2026, 10, 9), gaps)], [Can(120, "steady")], s_walks, s_today);
        var cans = Drawn(rounds, 365);
        cans.ShouldAllBe(can => can.On >= new DateOnly(2027, 4, 3), "the rest that is running was over on 9 or 10 April in other years");
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
    public void A_rest_that_begins_within_the_horizon_is_not_fed_through()
    {
        var summer = new DateOnly(2026, 7, 20);
        var gaps = RestingInWinter().Where(gap => gap.To <= summer).ToList();
        var rounds = new ComingRounds([Plant(1, "steady", gaps[^1].To, gaps)], [Can(250, "steady")], [.. s_walks.Where(day => day <= summer)], summer);
        for (var seed = 0; seed < 20; seed++)
        {
            List<DateOnly> days = [.. rounds.Draw(summer.AddDays(300), new Random(seed)).Select(can => can.On)];
            days.Count(day => day < new DateOnly(2026, 10, 16)).ShouldBeInRange(11, 13);
            days.ShouldNotContain(day => day >= new DateOnly(2026, 10, 20) && day < new DateOnly(2027, 4, 3));
        }
    }

    [Fact]
    public void One_that_came_this_spring_rests_as_its_kind_does_here_or_else_in_the_months_of_its_kind()
    {
        var summer = new DateOnly(2026, 7, 20);
        var (known, young) = (RestingInWinter().Where(gap => gap.To <= summer).ToList(), Every(7, new DateOnly(2026, 4, 27), summer));
        List<DateOnly> Fed(params FedPlant[] plants) => [.. new ComingRounds(plants, [Can(250, "steady")], [.. s_walks.Where(day => day <= summer)], summer).Draw(summer.AddDays(300), new Random(1)).Where(can => can.Litres > 0.3).Select(can => can.On)];
        var one = Plant(1, "steady", young[^1].To, young) with { Kind = "soft cane" };

        // The sister takes next to nothing: what is seen are the feeds of the young one.
        var bySister = Fed(one, Plant(2, "steady", known[^1].To, known, millilitres: 1) with { Kind = "soft cane" });
        bySister.ShouldNotContain(day => day >= new DateOnly(2026, 10, 20) && day < new DateOnly(2027, 4, 3));
        bySister.ShouldContain(day => day < new DateOnly(2026, 10, 16));

        var byKind = Fed(one with { KindRests = new FeedlessMonths(11, 1) });
        byKind.ShouldNotContain(day => day >= new DateOnly(2026, 11, 5) && day < new DateOnly(2027, 1, 28));
        byKind.ShouldContain(day => day >= new DateOnly(2026, 10, 20) && day < new DateOnly(2026, 11, 4));
        Fed(one).ShouldContain(day => day >= new DateOnly(2026, 11, 5) && day < new DateOnly(2027, 1, 28));
    }

    [Fact]
    public void Another_pot_a_year_ago_is_a_change_of_ways_that_is_followed()
    {
        // Weekly in an open mix for two years, each third week above a reservoir for the newest.
        var moved = s_today.AddDays(-364);
        List<PastGap> gaps = [.. Every(7, moved.AddDays(-728), moved, Culture.OpenMix), .. Every(21, moved, s_today)];
        Drawn(new ComingRounds([Plant(1, "steady", gaps[^1].To, gaps)], [Can(7, "steady")], s_walks, s_today), 365).Count.ShouldBeInRange(16, 18);
    }

    [Fact]
    public void A_first_winter_above_a_reservoir_is_like_that_of_the_others_at_its_own_pace()
    {
        // The others are fed weekly in summer and each fourth week in winter. This one, moved from an open mix in spring, was fed at half their pace since.
        var summer = new DateOnly(2026, 9, 28);
        List<PastGap> others = [.. Every(7, new DateOnly(2025, 4, 1), new DateOnly(2025, 10, 1)), .. Every(28, new DateOnly(2025, 9, 30), new DateOnly(2026, 4, 1)), .. Every(7, new DateOnly(2026, 3, 31), summer)];
        List<PastGap> gaps = [.. Every(7, new DateOnly(2025, 4, 1), new DateOnly(2026, 4, 1), Culture.OpenMix), .. Every(14, new DateOnly(2026, 3, 31), summer)];
        var moved = Plant(1, "steady", gaps[^1].To, gaps) with { MayRest = false };
        List<FedPlant> plants = [moved, .. Enumerable.Range(2, 4).Select(number => Plant(number, "steady", others[^1].To, others, millilitres: 1) with { MayRest = false })];
        var rounds = new ComingRounds(plants, [Can(150, "steady")], [.. s_walks.Where(day => day <= summer)], summer);

        // November to February: 120 days, a gap of about 56, in place of 17 weekly feeds in an open mix.
        Enumerable.Range(0, 20).Average(seed => rounds.Draw(new DateOnly(2027, 2, 28), new Random(seed)).Count(can => can.On >= new DateOnly(2026, 11, 1) && can.Litres > 0.3)).ShouldBeInRange(1.5, 3.5);
    }

    [Fact]
    public void A_new_recipe_is_mixed_on_and_the_cans_of_the_same_season_before_it_are_not()
    {
        // 1 g a litre until ten weeks ago, 3 g since.
        List<CanPattern> cans = [.. Enumerable.Range(1, 57).Select(week => Can(7 * week, "steady", week <= 10 ? 3 : 1))];
        Drawn(new ComingRounds([Plant(1, "steady", s_today, Weekly())], cans, s_walks, s_today)).ShouldAllBe(can => can.Pattern.GramsPerLitre[s_nitrate.Id] == 3);
    }

    [Fact]
    public void A_recipe_of_each_winter_comes_back_with_the_winter()
    {
        // 3 g a litre from October to March, 1 g in summer, this winter like the last.
        List<CanPattern> cans = [.. Enumerable.Range(1, 60).Select(week => Can(7 * week, "steady", s_today.AddDays(-7 * week).Month is >= 4 and <= 9 ? 1 : 3))];
        var drawn = Drawn(new ComingRounds([Plant(1, "steady", s_today, Weekly())], cans, s_walks, s_today));
        drawn.Where(can => can.On.Month is >= 6 and <= 7).ShouldAllBe(can => can.Pattern.GramsPerLitre[s_nitrate.Id] == 1);
        drawn.Where(can => can.On.Month is >= 12 or 1).ShouldAllBe(can => can.Pattern.GramsPerLitre[s_nitrate.Id] == 3);
    }

    [Fact]
    public void A_scale_that_asks_for_two_litres_at_least_does_so_for_one_plant_as_for_three()
    {
        // Half a litre, one and one and a half were poured; two litres were mixed each time.
        List<CanPattern> cans = [.. Enumerable.Range(1, 51).Select(week => Can(7 * week, "steady", litres: 2, poured: 0.5 * (week % 3 + 1)))];
        foreach (var count in new[] { 1, 2, 3 })
        {
            var plants = Enumerable.Range(1, count).Select(number => Plant(number, "steady", s_today, Weekly())).ToList();
            Drawn(new ComingRounds(plants, cans, s_walks, s_today)).ShouldAllBe(can => Math.Abs(can.Litres - 2) < 1e-9);
        }
    }

    [Fact]
    public void Where_each_walk_had_two_cans_there_will_be_two_and_recipes_that_shared_one_share_it_still()
    {
        List<CanPattern> cans =
        [
            .. Enumerable.Range(1, 51).SelectMany(week => new[]
            {
                Can(7 * week, "steady", 1, litres: 1, poured: 0.75) with { Recipes = new Dictionary<string, double> { ["steady"] = 250, ["strong"] = 500 } },
                Can(7 * week, "steady", 2, litres: 1, poured: 0.25),
            }),
        ];
        var drawn = Drawn(new ComingRounds([Plant(1, "steady", s_today, Weekly()), Plant(2, "strong", s_today, Weekly())], cans, s_walks, s_today));
        drawn.Count.ShouldBe(104);
        drawn.Sum(can => can.Plants).ShouldBe(104);
        drawn.Where(can => can.Pattern.GramsPerLitre[s_nitrate.Id] == 1).ShouldAllBe(can => can.Litres > 0.95 && can.Litres < 1.6);
    }

    [Fact]
    public void A_steady_bench_is_forecast_without_bias()
    {
        // Fed after a week, or two or three, in summer, twice as far apart in winter; the future goes on by the same rule. Feeds of 180 days against the mean of the draws, over all benches.
        var (fed, forecast) = (0.0, 0.0);
        for (var bench = 0; bench < 150; bench++)
        {
            var random = new Random(5000 + bench);
            var today = s_today.AddDays(-random.Next(365));
            var ends = today.AddDays(180);
            var plants = Enumerable.Range(1, 5).Select(number =>
            {
                var gaps = Uneven(today.AddDays(-1000 + random.Next(14)), ends, random);
                fed += gaps.Count(gap => gap.From > today && gap.From <= ends);
                var past = gaps.Where(gap => gap.To <= today).ToList();
                return Plant(number, "steady", past[^1].To, past) with { MayRest = false };
            }).ToList();
            var rounds = new ComingRounds(plants, [Can((s_today.DayNumber - today.DayNumber) + 7, "steady")], [.. Enumerable.Range(0, 300).Select(walk => today.AddDays(-3 * walk))], today);
            forecast += Enumerable.Range(0, 10).Average(seed => rounds.Draw(ends, new Random(seed)).Sum(can => can.Plants));
        }

        TestContext.Current.TestOutputHelper!.WriteLine(FormattableString.Invariant($"forecast {forecast / fed:0.000} of what was fed"));
        (forecast / fed).ShouldBeInRange(0.97, 1.03);
    }

    private static List<PastGap> Uneven(DateOnly from, DateOnly to, Random random, Func<DateOnly, double>? strength = null)
    {
        var gaps = new List<PastGap>();
        for (var day = from; day <= to;)
        {
            var winter = (1 + Math.Cos(2 * Math.PI * (day.DayOfYear - 15) / 365)) / 2;
            var days = Math.Max(1, (int)Math.Round(random.Next(4, 18) * (1 + winter) / (strength?.Invoke(day) ?? 1)));
            gaps.Add(new PastGap(day, days, Culture.Wicking, 500));
            day = day.AddDays(days);
        }

        return gaps;
    }

    [Fact]
    public void A_bench_whose_half_years_differ_is_given_a_band_that_holds_eight_in_ten()
    {
        // All plants of a bench are fed more or less often together, by a factor that changes each half-year (lognormal, a fifth).
        var held = 0;
        const int Benches = 100;
        for (var bench = 0; bench < Benches; bench++)
        {
            var random = new Random(9000 + bench);
            double[] halves = [.. Enumerable.Range(0, 8).Select(_ => Math.Exp(0.2 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())))];
            var (begin, end) = (s_today.AddDays(-1080), s_today.AddDays(180));
            var told = Enumerable.Range(1, 12).Select(_ => Uneven(begin.AddDays(random.Next(14)), end, random, day => halves[(day.DayNumber - begin.DayNumber) / 180])).ToList();
            var plants = told.Select((gaps, i) => Plant(i + 1, "steady", gaps.Last(gap => gap.From <= s_today).From, [.. gaps.Where(gap => gap.To <= s_today)]) with { MayRest = false }).ToList();
            List<CanPattern> cans = [.. told.SelectMany(gaps => gaps.Where(gap => gap.From <= s_today)).GroupBy(gap => gap.From).Select(day => Can(s_today.DayNumber - day.Key.DayNumber, "steady", litres: 0.5 * day.Count(), poured: 0.5 * day.Count()))];
            var rounds = new ComingRounds(plants, cans, [.. Enumerable.Range(0, 1080).Select(ago => s_today.AddDays(-ago))], s_today);
            var item = new SupplyItem(s_nitrate, [new Lot { Id = Kitchen.Id(900), ProductId = s_nitrate.Id, GramsLeft = 1e5 }]);
            var band = SupplyForecast.Of(new SupplyRequest { Cupboard = [item], Past = [], Rounds = rounds, Today = s_today, Draws = 60, Seed = bench, HorizonDays = 180 }).Products.Single().GramsPerMonth;
            var used = told.Sum(gaps => gaps.Count(gap => gap.From > s_today && gap.From <= end)) * 0.5 / 180 * 30.44;
            held += used >= band.Low && used <= band.High ? 1 : 0;
        }

        TestContext.Current.TestOutputHelper!.WriteLine(FormattableString.Invariant($"held {held} of {Benches}"));
        held.ShouldBeInRange(Benches * 70 / 100, Benches * 90 / 100);
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
        outlook.RunsOut.Middle.ShouldBe(s_today.AddDays(77));
        // A bench that never looked back may be off as quarters usually are: some weeks either way, and the order goes out for the early day.
        outlook.RunsOut.Early.ShouldNotBeNull().ShouldBeInRange(s_today.AddDays(49), s_today.AddDays(70));
        outlook.RunsOut.Late.ShouldNotBeNull().ShouldBeInRange(s_today.AddDays(84), s_today.AddDays(112));
        outlook.OrderBy.ShouldBe(outlook.RunsOut.Early.Value.AddDays(-7));
    }

    [Fact]
    public void Bands_from_uneven_feeding_hold_eight_futures_in_ten_or_more()
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

        // Here nothing but chance moves the feeds, and there are no looks back to say so: the usual spread of quarters makes the band wider than it had to be.
        TestContext.Current.TestOutputHelper!.WriteLine(FormattableString.Invariant($"held {held} of 100"));
        held.ShouldBeGreaterThan(80);
    }
}
