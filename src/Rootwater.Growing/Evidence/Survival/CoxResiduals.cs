namespace Rootwater.Growing.Evidence.Survival;

/// <summary>Score residuals of a Cox model and the robust covariance made from them.</summary>
internal static class CoxResiduals
{
    /// <summary>D'D, where D holds the dfbeta residuals summed by cluster, on the scaled covariates.</summary>
    public static double[,] Robust(CoxLayout data, double[] beta, Ties ties, double[,] inverse)
    {
        var p = data.P;
        var byCluster = Scores(data, beta, ties);
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

    // Summed as they come: of a large bench there are two million rows.
    private static Dictionary<int, double[]> Scores(CoxLayout data, double[] beta, Ties ties)
    {
        var p = data.P;
        var hazards = new List<CoxHazardStep>();
        CoxLikelihood.Sweep(data, beta, ties, hazards: hazards);
        var byCluster = new Dictionary<int, double[]>();
        for (var s = 0; s < data.Strata; s++)
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

            var (_, weights) = data.Weigh(s, beta);
            foreach (var row in data.RowsOf(s))
            {
                if (!byCluster.TryGetValue(row.Cluster, out var sum))
                {
                    byCluster[row.Cluster] = sum = new double[p];
                }

                var weight = weights[row.Profile];
                var last = UpTo(times, row.Exit);
                var first = UpTo(times, row.Entry);
                for (var j = 0; j < p; j++)
                {
                    var z = data.Z[row.Profile * p + j];
                    sum[j] -= weight * (z * (cumulative[last] - cumulative[first]) - (cumulativeMean[last * p + j] - cumulativeMean[first * p + j]));
                    if (row.Ended)
                    {
                        // A loss among ties meets only the share of the hazard that Efron leaves it.
                        var step = steps[last - 1];
                        sum[j] += z - step.Mean[j] + weight * (z * step.TiedHazard - step.TiedHazardMean[j]);
                    }
                }
            }
        }

        return byCluster;
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
