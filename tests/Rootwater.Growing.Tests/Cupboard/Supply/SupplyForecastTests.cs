using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Growing.Tests.Mixing;

namespace Rootwater.Growing.Tests.Cupboard.Supply;

/// <summary>How long the cupboard lasts. Where the coming use is certain the day is counted by hand.</summary>
public sealed class SupplyForecastTests
{
    private static readonly DateOnly s_today = new(2027, 2, 1);
    private static readonly Product s_nitrate = Kitchen.PotassiumNitrate.Product;

    private static SupplyItem Stock(double grams, DateOnly? bestBefore = null, params (double Grams, DateOnly? BestBefore)[] more) =>
        new(s_nitrate, [.. more.Prepend((grams, bestBefore)).Select((lot, i) => new Lot { Id = Kitchen.Id(900 + i), ProductId = s_nitrate.Id, GramsLeft = lot.Item1, BestBefore = lot.Item2, BoughtOn = s_today.AddDays(-100 + i) })]);

    private static CanUse Can(int daysFromToday, double grams, int plants = 20) => new(s_today.AddDays(daysFromToday), new Dictionary<Guid, double> { [s_nitrate.Id] = grams }, 10, plants);

    private static SupplyRequest Weekly(SupplyItem item, double grams = 10) => new() { Cupboard = [item], Past = [.. Enumerable.Range(1, 20).Select(week => Can(-7 * week, grams))], Today = s_today };

    [Fact]
    public void Steady_use_runs_out_on_the_day_one_counts_by_hand()
    {
        // 65 g at 10 g a week, next can in a week: six cans are whole, the seventh (day 49) finds 5 g.
        var outlook = SupplyForecast.Of(Weekly(Stock(65)) with { UsualLeadDays = 12 }).Products.Single();
        outlook.RunsOut.ShouldBe((s_today.AddDays(49), s_today.AddDays(49), s_today.AddDays(49)));
        outlook.OrderBy.ShouldBe(s_today.AddDays(37));
        outlook.GramsPerMonth.Value.ShouldBe(10 * 30.44 / 7, 0.8);
        outlook.Words.ShouldContain("order by 10 March");
    }

    [Fact]
    public void Uneven_use_gives_a_band_that_holds_eight_histories_in_ten()
    {
        // Past cans of 2 to 18 g; the truth is drawn from the same, so the 10 to 90 % band should hold about 80 % of true run-outs.
        var random = new Random(5);
        double Grams() => 2 + 16 * random.NextDouble();
        var held = 0;
        for (var history = 0; history < 100; history++)
        {
            var request = Weekly(Stock(120)) with { Past = [.. Enumerable.Range(1, 40).Select(week => Can(-7 * week, Grams()))], Seed = history, Draws = 100 };
            var outlook = SupplyForecast.Of(request).Products.Single();
            var (left, day) = (120.0, 0);
            while (left >= 0)
            {
                day += 7;
                left -= Grams();
            }

            held += s_today.AddDays(day) >= outlook.RunsOut.Early && s_today.AddDays(day) <= outlook.RunsOut.Late ? 1 : 0;
        }

        held.ShouldBeInRange(70, 97);
    }

    [Fact]
    public void Planned_cans_come_before_the_habit_of_the_past()
    {
        var outlook = SupplyForecast.Of(Weekly(Stock(65)) with { Planned = [Can(3, 60), Can(5, 60)] }).Products.Single();
        outlook.RunsOut.Early.ShouldBe(s_today.AddDays(5));
    }

    [Fact]
    public void What_passes_its_date_is_not_counted_on()
    {
        var outlook = SupplyForecast.Of(Weekly(Stock(30, s_today.AddDays(-1), (65, s_today.AddDays(30))))).Products.Single();
        outlook.GramsPastDate.ShouldBe(30);
        outlook.RunsOut.Early.ShouldBe(s_today.AddDays(35), "the second lot passes its date after four cans");
        outlook.GramsLikelyWasted.ShouldBe(25, 1e-9);
        outlook.Words.ShouldContain("past their date");
    }

    [Fact]
    public void Losses_go_on_as_they_went()
    {
        var quiet = SupplyForecast.Of(Weekly(Stock(400))).Products.Single();
        var spilling = SupplyForecast.Of(Weekly(Stock(400)) with { Losses = [.. Enumerable.Range(1, 10).Select(i => new Loss(s_today.AddDays(-14 * i), s_nitrate.Id, 15))] }).Products.Single();
        spilling.RunsOut.Middle.ShouldNotBeNull().ShouldBeLessThan(quiet.RunsOut.Middle!.Value);
    }

    [Fact]
    public void The_shopping_list_says_how_much_and_what_it_costs()
    {
        var list = SupplyForecast.Of(Weekly(Stock(65)) with { BuyForDays = 70, UsualLeadDays = 60 }).Shopping.ShouldHaveSingleItem();
        list.Grams.ShouldBe(100);
        list.Price.ShouldBe(0.25m);
        list.Overdue.ShouldBeTrue();
        SupplyForecast.Of(Weekly(Stock(5000))).Shopping.ShouldBeEmpty();
    }

    [Fact]
    public void Cost_is_told_by_can_litre_plant_and_month()
    {
        var cost = SupplyForecast.Of(Weekly(Stock(65))).Cost;
        cost.PerCan.ShouldBe(0.025m);
        cost.PerLitre.ShouldBe(0.0025m);
        cost.PerPlantAndFeed.ShouldBe(0.00125m);
        cost.PerMonth.Sum(month => month.Cost).ShouldBe(20 * 0.025m);
        cost.Unpriced.ShouldBeEmpty();
    }

    [Fact]
    public void A_product_not_in_use_lasts()
    {
        var outlook = SupplyForecast.Of(new SupplyRequest { Cupboard = [Stock(100)], Past = [], Today = s_today }).Products.Single();
        outlook.ChanceWithinHorizon.ShouldBe(0);
        outlook.Words.ShouldContain("not in use");
    }

    [Fact]
    public void What_cannot_be_is_refused_by_name() =>
        Should.Throw<ArgumentException>(() => SupplyForecast.Of(Weekly(Stock(10)) with { Growth = -1 })).Message.ShouldStartWith("growth");

    // Relative humidity over saturated solutions at 25 °C: magnesium nitrate 52.9 %, potassium nitrate 93.6 % (Greenspan 1977, table 2; from memory).
    [Theory]
    [InlineData("Mg(NO3)2·6H2O", 52.9)]
    [InlineData("KNO3", 93.6)]
    [InlineData("K2SO4", 97.3)]
    [InlineData("KCl", 84.3)]
    [InlineData("(NH4)2SO4", 81.0)]
    public void Salts_draw_water_above_the_air_over_their_own_brine(string formula, double percent) =>
        Hygroscopy.DrawsAbovePercent(Kitchen.Salt(950, formula, formula, 1m).Product)!.Value.ShouldBe(percent, 1);

    [Fact]
    public void An_opened_bag_of_magnesium_nitrate_thins_and_potassium_nitrate_does_not()
    {
        var year = s_today.AddDays(-365);
        var thinned = Hygroscopy.Thinned(Kitchen.MagnesiumNitrate.Product, year, s_today);
        thinned.Value.ShouldBeInRange(0.05, 0.2);
        thinned.High.ShouldBeGreaterThan(thinned.Value);
        Hygroscopy.Thinned(Kitchen.MagnesiumNitrate.Product, null, s_today).High.ShouldBe(0);
        Hygroscopy.Thinned(s_nitrate, year, s_today).High.ShouldBe(0);
        Hygroscopy.Thinned(Kitchen.MagnesiumNitrate.Product, year, s_today, roomHumidityPercent: 45).High.ShouldBe(0, "drier than its brine");
    }
}
