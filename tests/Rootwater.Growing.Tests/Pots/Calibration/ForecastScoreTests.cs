using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

public sealed class ForecastScoreTests
{
    private static List<ScoredForecast> Scored(int inside, int outside) =>
        [.. Enumerable.Range(0, inside + outside).Select(i => new ScoredForecast(new Expected(5.8, 6, 6.2), i < inside ? 6 : 7, i))];

    // Jeffreys interval for 9 of 10 at 90 %: quantiles 0.05 and 0.95 of Beta(9.5, 1.5), 0.6685 and 0.9816 (computed independently by numerical integration of the density).
    [Fact]
    public void Nine_of_ten_is_known_to_about_sixteen_points()
    {
        var score = ForecastScore.Of(Scored(9, 1));
        score.Share.Low.ShouldBe(JeffreysByIntegration(9.5, 1.5, 0.05), 0.002);
        score.Share.High.ShouldBe(JeffreysByIntegration(9.5, 1.5, 0.95), 0.002);
    }

    [Fact]
    public void Narrow_bands_are_called_narrow_only_when_that_can_be_told()
    {
        ForecastScore.Of(Scored(5, 3)).Words.ShouldContain("too few");
        ForecastScore.Of(Scored(60, 40)).Words.ShouldContain("too narrow");
        ForecastScore.Of(Scored(88, 12)).Words.ShouldContain("keep what they promise");
        ForecastScore.Of(Scored(300, 0)).Words.ShouldContain("wider than they need");
    }

    [Fact]
    public void The_running_score_forgets_what_is_long_past()
    {
        var running = ForecastScore.Running(Scored(30, 30), over: 30);
        running.Count.ShouldBe(60);
        running[29].Share.Value.ShouldBeGreaterThan(0.95);
        running[59].Share.Value.ShouldBeLessThan(0.05);
    }

    private static double JeffreysByIntegration(double a, double b, double quantile)
    {
        const int steps = 200000;
        double Density(double x) => Math.Pow(x, a - 1) * Math.Pow(1 - x, b - 1);
        var all = Enumerable.Range(0, steps).Sum(i => Density((i + 0.5) / steps));
        var sum = 0.0;
        for (var i = 0; i < steps; i++)
        {
            sum += Density((i + 0.5) / steps);
            if (sum >= quantile * all)
            {
                return (i + 0.5) / steps;
            }
        }

        return 1;
    }
}
