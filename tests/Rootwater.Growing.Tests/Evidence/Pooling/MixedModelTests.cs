using MathNet.Numerics.LinearAlgebra;
using Rootwater.Growing.Evidence.Pooling;

namespace Rootwater.Growing.Tests.Evidence.Pooling;

public sealed class MixedModelTests
{
    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 2)]
    public void With_a_random_slope_the_fit_is_the_top_of_the_likelihood_written_out_in_full(bool restricted, int seed)
    {
        var (request, groups, x) = Draw(seed, restricted);
        var fit = MixedModel.Fit(request);
        var (a, b, r) = (fit.RandomDeviations![0], fit.RandomDeviations[1], fit.RandomCorrelations![0, 1]);
        Full(request, groups, x, a, b, r, fit.Residual).ShouldBe(fit.LogLikelihood, 1e-7 * Math.Abs(fit.LogLikelihood));
        foreach (var (da, db, dr, ds) in new (double, double, double, double)[] { (1.02, 1, 0, 1), (0.98, 1, 0, 1), (1, 1.02, 0, 1), (1, 0.98, 0, 1), (1, 1, 0.02, 1), (1, 1, -0.02, 1), (1, 1, 0, 1.02), (1, 1, 0, 0.98) })
        {
            Full(request, groups, x, a * da, b * db, Math.Clamp(r + dr, -0.999, 0.999), fit.Residual * ds).ShouldBeLessThan(fit.LogLikelihood + 1e-9);
        }
    }

    [Fact]
    public void Groups_that_differ_no_more_than_their_values_do_get_no_spread_and_no_deviation()
    {
        double[] values = [1, 2, 3, 1, 2, 3, 1, 2, 3];
        var fit = MixedModel.Fit(MixedRequest.Intercepts(values, ["a", "a", "a", "b", "b", "b", "c", "c", "c"]));
        fit.RandomDeviations![0].ShouldBe(0);
        fit.Deviations!.ShouldAllBe(deviation => deviation[0] == 0);
        fit.Residual.ShouldBe(Math.Sqrt(6 / 8.0), 1e-9);
    }

    private static (MixedRequest Request, string[] Groups, double[] X) Draw(int seed, bool restricted)
    {
        var random = new Random(seed);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        List<string> groups = [];
        List<double> x = [], y = [];
        for (var g = 0; g < 12; g++)
        {
            var (level, slope) = (20 * Normal(), 5 * Normal());
            for (var t = 0; t < 7; t++)
            {
                groups.Add("g" + g);
                x.Add(t);
                y.Add(250 + level + (10 + slope) * t + 15 * Normal());
            }
        }

        var ones = x.Select(_ => 1.0).ToArray();
        double[] times = [.. x];
        return (new MixedRequest { Values = [.. y], Groups = groups, FixedNames = ["(Intercept)", "t"], Fixed = [ones, times], RandomNames = ["(Intercept)", "t"], Random = [ones, times], Restricted = restricted }, [.. groups], times);
    }

    /// <summary>The (restricted) log-likelihood with the whole covariance matrix written out.</summary>
    private static double Full(MixedRequest request, string[] groups, double[] x, double sdIntercept, double sdSlope, double correlation, double residual)
    {
        var n = x.Length;
        var v = Matrix<double>.Build.Dense(n, n, (i, j) => (i == j ? residual * residual : 0) + (groups[i] != groups[j] ? 0
            : sdIntercept * sdIntercept + correlation * sdIntercept * sdSlope * (x[i] + x[j]) + sdSlope * sdSlope * x[i] * x[j]));
        var design = Matrix<double>.Build.Dense(n, 2, (i, j) => j == 0 ? 1 : x[i]);
        var y = Vector<double>.Build.Dense(request.Values);
        var inverse = v.Inverse();
        var information = design.Transpose() * inverse * design;
        var e = y - design * information.Solve(design.Transpose() * inverse * y);
        var log = v.Cholesky().DeterminantLn + e * inverse * e + (request.Restricted ? n - 2 : n) * Math.Log(2 * Math.PI);
        return -0.5 * (log + (request.Restricted ? Math.Log(information.Determinant()) : 0));
    }
}
