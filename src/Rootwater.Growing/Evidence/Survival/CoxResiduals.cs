namespace Rootwater.Growing.Evidence.Survival;

/// <summary>Score residuals of a Cox model and the robust covariance made from them.</summary>
internal static class CoxResiduals
{
    /// <summary>D'D, where D holds the dfbeta residuals summed by cluster, on the scaled covariates.</summary>
    public static double[,] Robust(CoxData data, double[] beta, Ties ties, double[,] inverse, int[] clusters)
    {
        var p = data.P;
        var scores = Scores(data, beta, ties);
        var byCluster = new Dictionary<int, double[]>();
        for (var i = 0; i < data.Rows; i++)
        {
            var cluster = clusters[data.Source[i]];
            if (!byCluster.TryGetValue(cluster, out var sum))
            {
                byCluster[cluster] = sum = new double[p];
            }

            for (var j = 0; j < p; j++)
            {
                sum[j] += scores[i * p + j];
            }
        }

        var result = new double[p, p];
        var dfbeta = new double[p];
        foreach (var sum in byCluster.Values)
        {
            for (var j = 0; j < p; j++)
            {
                dfbeta[j] = 0;
                for (var l = 0; l < p; l++)
                {
                    dfbeta[j] += inverse[j, l] * sum[l];
                }
            }

            for (var j = 0; j < p; j++)
            {
                for (var l = 0; l < p; l++)
                {
                    result[j, l] += dfbeta[j] * dfbeta[l];
                }
            }
        }

        return result;
    }

    private static double[] Scores(CoxData data, double[] beta, Ties ties)
    {
        var p = data.P;
        var hazards = new List<CoxHazardStep>();
        CoxLikelihood.Sweep(data, beta, ties, hazards: hazards);
        var scores = new double[data.Rows * p];
        for (var s = 0; s + 1 < data.StratumStarts.Length; s++)
        {
            var steps = hazards.Where(step => step.Stratum == s).OrderBy(step => step.Time).ToArray();
            var times = steps.Select(step => step.Time).ToArray();
            var cumulative = new double[steps.Length + 1];
            var cumulativeMean = new double[(steps.Length + 1) * p];
            for (var k = 0; k < steps.Length; k++)
            {
                cumulative[k + 1] = cumulative[k] + steps[k].Hazard;
                for (var j = 0; j < p; j++)
                {
                    cumulativeMean[(k + 1) * p + j] = cumulativeMean[k * p + j] + steps[k].HazardMean[j];
                }
            }

            var from = data.StratumStarts[s];
            var to = data.StratumStarts[s + 1];
            var top = double.NegativeInfinity;
            for (var i = from; i < to; i++)
            {
                top = Math.Max(top, Eta(data, beta, i));
            }

            for (var i = from; i < to; i++)
            {
                var weight = Math.Exp(Eta(data, beta, i) - top);
                var last = UpTo(times, data.Exit[i]);
                var first = UpTo(times, data.Entry[i]);
                for (var j = 0; j < p; j++)
                {
                    var z = data.Z[i * p + j];
                    var score = -weight * (z * (cumulative[last] - cumulative[first]) - (cumulativeMean[last * p + j] - cumulativeMean[first * p + j]));
                    if (data.Ended[i])
                    {
                        // A loss among ties meets only the share of the hazard that Efron leaves it.
                        var step = steps[last - 1];
                        score += z - step.Mean[j] + weight * (z * step.TiedHazard - step.TiedHazardMean[j]);
                    }

                    scores[i * p + j] = score;
                }
            }
        }

        return scores;
    }

    private static double Eta(CoxData data, double[] beta, int i)
    {
        var sum = 0.0;
        for (var j = 0; j < data.P; j++)
        {
            sum += beta[j] * data.Z[i * data.P + j];
        }

        return sum;
    }

    /// <summary>How many of the sorted times are at or before t.</summary>
    private static int UpTo(double[] times, double t)
    {
        int low = 0, high = times.Length;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (times[middle] <= t)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low;
    }
}
