namespace Rootwater.Growing.Pots.Calibration;

/// <summary>Finds the moment after which a pot's readings are better explained by changed traits than by the old ones.</summary>
/// <remarks>
/// The readings are gone through in order with the fit's slopes (a Kalman filter over the traits). For each gap between two visits the run is repeated with the
/// traits free to jump there (<see cref="PotTraits.ChangeSd"/>); the gain in log likelihood is the evidence. Single readings that went wrong are mixed in as
/// everywhere, so that one of them is no change. The slopes count a trait over the whole stretch, so this only finds the place; whether it holds is judged by fits of both sides.
/// </remarks>
internal static class ChangeWatch
{
    private const int K = PotTraits.Count;

    // A change needs visits on both sides to be seen, and one is not enough after it.
    private const int LeastVisitsBefore = 2, LeastVisitsAfter = 2;

    /// <summary>The likeliest places, best first, with the log of how much better the readings fit; none where there are too few visits.</summary>
    public static IReadOnlyList<(double Hours, double LogGain)> Likeliest(StretchFit fit, Belief prior, Scatter scatter)
    {
        var visits = fit.Readings.Index().GroupBy(pair => pair.Item.Hours).OrderBy(group => group.Key).Select(group => (Hours: group.Key, Rows: group.Select(pair => pair.Index).ToArray())).ToList();
        if (visits.Count < LeastVisitsBefore + LeastVisitsAfter)
        {
            return [];
        }

        var none = LogLikelihood(fit, prior, scatter, visits, -1);
        var places = new List<(double Hours, double LogGain)>();
        for (var g = LeastVisitsBefore; g <= visits.Count - LeastVisitsAfter; g++)
        {
            places.Add(((visits[g - 1].Hours + visits[g].Hours) / 2, LogLikelihood(fit, prior, scatter, visits, g) - none));
        }

        return [.. places.OrderByDescending(place => place.LogGain)];
    }

    private static double LogLikelihood(StretchFit fit, Belief prior, Scatter scatter, List<(double Hours, int[] Rows)> visits, int jumpsBefore)
    {
        var mean = Spd.Sum(prior.Mean, fit.Theta, -1);
        var covariance = (double[])prior.Covariance.Clone();
        var gain = new double[K];
        var sum = 0.0;
        for (var v = 0; v < visits.Count; v++)
        {
            if (v == jumpsBefore)
            {
                for (var k = 0; k < K; k++)
                {
                    covariance[k * K + k] += PotTraits.ChangeSd[k] * PotTraits.ChangeSd[k];
                }
            }

            foreach (var i in visits[v].Rows)
            {
                var row = fit.Jacobian.AsSpan(i * K, K);
                var sigma = fit.Sigma[i] * scatter.Of(fit.Readings[i]);
                var toward = Spd.Times(covariance, row);
                var spread = Spd.Dot(toward, row) + sigma * sigma;
                var off = fit.Residual(i) - Spd.Dot(row, mean);
                var errors = off / Math.Sqrt(spread);
                sum -= Outliers.Loss(errors) + 0.5 * Math.Log(spread);
                var weighed = Spd.Dot(toward, row) + sigma * sigma / Outliers.Weight(errors);
                for (var k = 0; k < K; k++)
                {
                    gain[k] = toward[k] / weighed;
                    mean[k] += gain[k] * off;
                }

                for (var j = 0; j < K; j++)
                {
                    for (var k = 0; k < K; k++)
                    {
                        covariance[j * K + k] -= gain[j] * toward[k];
                    }
                }
            }
        }

        return sum;
    }
}
