using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>Identities: a normal posterior comes back as it was, and one that is not has the moments that integration over a fine grid gives.</summary>
public sealed class PosteriorMomentsTests
{
    private static readonly double[] s_unit = [1, 1];

    [Fact]
    public void A_normal_posterior_comes_back_as_it_was_and_readings_that_say_nothing_are_no_evidence()
    {
        var prior = new Belief([0.3, -1], [0.5, 0.1, 0.1, 0.2]);
        var precision = Spd.Inverse(prior.Covariance, 2);

        var posterior = PosteriorMoments.Of(prior, theta => 0.5 * Spd.Quadratic(precision, Spd.Sum(theta, prior.Mean, -1)));

        posterior.Mean.Zip(prior.Mean).ShouldAllBe(pair => Math.Abs(pair.First - pair.Second) < 1e-9);
        posterior.Covariance.Zip(prior.Covariance).ShouldAllBe(pair => Math.Abs(pair.First - pair.Second) < 1e-9);
        PosteriorMoments.EvidenceIn(posterior, prior, s_unit).A.ShouldAllBe(entry => Math.Abs(entry) < 1e-6);
    }

    // A logarithm read by its exponential, as salt and uptake are by EC: told well when large, hardly when small.
    [Theory]
    [InlineData(0.8, 0.3)]
    [InlineData(0.8, 0.6)]
    [InlineData(1.5, 0.6)]
    public void A_skewed_posterior_has_the_moments_of_a_fine_grid(double read, double error)
    {
        double MinusLog(double x, double y) => 0.5 * (x * x / 0.16 + y * y / 0.16) + 0.5 * Math.Pow((read - Math.Exp(x) * (1 + 0.3 * y)) / error, 2);
        var (sum, mean, squares) = (0.0, 0.0, 0.0);
        for (var x = -3.0; x <= 3; x += 0.01)
        {
            for (var y = -3.0; y <= 3; y += 0.02)
            {
                var weight = Math.Exp(-MinusLog(x, y));
                (sum, mean, squares) = (sum + weight, mean + weight * x, squares + weight * x * x);
            }
        }

        var sd = Math.Sqrt(squares / sum - Math.Pow(mean / sum, 2));

        var found = PosteriorMoments.Of(new Belief([0, 0], [0.1, 0, 0, 0.16]), theta => MinusLog(theta[0], theta[1]));

        found.Mean[0].ShouldBe(mean / sum, 0.05 * sd);
        found.Sd(0).ShouldBe(sd, 0.05 * sd);
    }

    [Fact]
    public void Where_too_few_nodes_count_the_normal_stands()
    {
        var about = new Belief([0, 0], [1, 0, 0, 1]);

        PosteriorMoments.Of(about, theta => 0.5e8 * (Math.Pow(theta[0] - 0.2, 2) + Math.Pow(theta[1] - 0.1, 2))).ShouldBe(about);
    }

    [Fact]
    public void The_surface_is_exact_where_readings_bend_to_second_order_and_goes_on_straight_beyond()
    {
        double[] Readings(double[] theta) => [2 + theta[0] - 3 * theta[1] + 0.5 * theta[0] * theta[0] + 0.7 * theta[0] * theta[1], theta[1] * theta[1] - theta[0]];
        var posterior = new Belief([0.1, -0.2], [0.04, 0.01, 0.01, 0.09]);

        var surface = ResponseSurface.Around(posterior, s_unit, Readings(posterior.Mean), Readings);

        var predicted = new double[2];
        foreach (var theta in (double[][])[[0.1, -0.2], [0.3, -0.3], [-0.1, 0.1]])
        {
            surface.Predict(theta, predicted);
            predicted.Zip(Readings(theta)).ShouldAllBe(pair => Math.Abs(pair.First - pair.Second) < 1e-9);
        }

        // Far out along one line: equal steps, equal differences.
        double[] At(double far)
        {
            surface.Predict([0.1 + far, -0.2 + far], predicted);
            return [.. predicted];
        }

        var (a, b, c) = (At(10), At(11), At(12));
        (c[0] - b[0]).ShouldBe(b[0] - a[0], 1e-9);
        (c[1] - b[1]).ShouldBe(b[1] - a[1], 1e-9);
    }
}
