using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Waters;

/// <summary>Roof times rain against the rounds, counted by hand.</summary>
public sealed class RainBudgetTests
{
    private static readonly DateOnly s_today = new(2027, 5, 1);

    private static RainBudgetRequest Request(double today, params (int Year, int Day, double Millimetres)[] rain) => new()
    {
        RoofSquareMetres = 10,
        RunOffShare = 0.8,
        FirstFlushMillimetres = 0.5,
        BarrelLitres = 200,
        LitresToday = today,
        Today = s_today,
        RainMillimetres = new[] { 2024, 2025, 2026 }.SelectMany(year => Enumerable.Range(0, 30).Select(day => (Year: year, Day: day)))
            .ToDictionary(each => new DateOnly(each.Year, 5, 1).AddDays(each.Day), each => rain.Where(one => one.Year == each.Year && one.Day == each.Day).Sum(one => one.Millimetres)),
        Wanted = new Dictionary<DateOnly, double> { [s_today.AddDays(7)] = 60, [s_today.AddDays(14)] = 60 },
    };

    [Fact]
    public void A_millimetre_on_a_square_metre_is_a_litre_less_gutters_and_first_flush()
    {
        // 10.5 mm on day 2 of 2025: (10.5 - 0.5) × 10 m² × 0.8 = 80 L on top of 50; a dry year ends at 50 - 60 < 0.
        var outlook = RainBudget.Of(Request(50, (2025, 2, 10.5)));
        outlook.Years.ShouldBe(3);
        outlook.Levels[2].Litres.High.ShouldBe(130, 1e-9);
        outlook.Levels[7].Litres.High.ShouldBe(70, 1e-9);
        outlook.Levels[7].Litres.Low.ShouldBe(0);
        outlook.ChanceOfEmpty.ShouldBe(2.0 / 3, 1e-9);
        outlook.ShortLitres.High.ShouldBe(70, 1e-9);
        outlook.EmptyFrom.ShouldBe(s_today.AddDays(7));
    }

    [Fact]
    public void What_the_barrel_cannot_hold_is_lost() => RainBudget.Of(Request(150, (2024, 1, 100), (2025, 1, 100), (2026, 1, 100))).Levels[1].Litres.Low.ShouldBe(200);

    [Fact]
    public void A_full_barrel_that_lasts_says_so()
    {
        var outlook = RainBudget.Of(Request(200));
        outlook.ChanceOfEmpty.ShouldBe(0);
        outlook.EmptyFrom.ShouldBeNull();
        outlook.Words.ShouldContain("each of 3 years");
    }

    [Fact]
    public void A_record_that_does_not_cover_the_days_is_refused()
    {
        Should.Throw<ArgumentException>(() => RainBudget.Of(Request(50) with { Today = new DateOnly(2027, 9, 1), Wanted = new Dictionary<DateOnly, double> { [new DateOnly(2027, 9, 20)] = 10 } })).Message.ShouldContain("rain record");
        Should.Throw<ArgumentException>(() => RainBudget.Of(Request(50) with { RoofSquareMetres = 0 })).Message.ShouldContain("roofSquareMetres");
    }
}
