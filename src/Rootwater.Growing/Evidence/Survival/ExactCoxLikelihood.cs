namespace Rootwater.Growing.Evidence.Survival;

/// <summary>
/// The exact conditional (discrete) likelihood: at each event time, the chance that just these d of the n at risk were lost.
/// The sum over all choices of d is built up one life at a time with its derivatives (Gail, Lubin and Rubinstein 1981): n × d × covariates squared.
/// </summary>
internal static class ExactCoxLikelihood
{
    public static CoxSweep Sweep(CoxData data, double[] beta)
    {
        var p = data.P;
        var sweep = new CoxSweep(p);
        var atRisk = new List<int>();
        for (var s = 0; s + 1 < data.StratumStarts.Length; s++)
        {
            var to = data.StratumStarts[s + 1];
            for (var at = data.StratumStarts[s]; at < to;)
            {
                var t = data.Exit[at];
                var first = at;
                var deaths = 0;
                for (; at < to && data.Exit[at] == t; at++)
                {
                    deaths += data.Ended[at] ? 1 : 0;
                }

                if (deaths == 0)
                {
                    continue;
                }

                atRisk.Clear();
                for (var i = data.StratumStarts[s]; i < at; i++)
                {
                    if (data.Entry[i] < t)
                    {
                        atRisk.Add(i);
                    }
                }

                Time(data, beta, atRisk, first, at, deaths, sweep);
            }
        }

        return sweep;
    }

    private static void Time(CoxData data, double[] beta, List<int> atRisk, int first, int end, int deaths, CoxSweep sweep)
    {
        var p = data.P;
        var z = data.Z;
        var eta = atRisk.Select(i => Dot(z, i * p, beta)).ToArray();
        var top = eta.Max();
        var sum = new double[deaths + 1];
        var one = new double[deaths + 1, p];
        var two = new double[deaths + 1, p, p];
        sum[0] = 1;
        for (var m = 0; m < atRisk.Count; m++)
        {
            var w = Math.Exp(eta[m] - top);
            var at = atRisk[m] * p;
            for (var d = Math.Min(deaths, m + 1); d >= 1; d--)
            {
                for (var j = 0; j < p; j++)
                {
                    for (var l = 0; l <= j; l++)
                    {
                        two[d, j, l] += w * (two[d - 1, j, l] + z[at + j] * one[d - 1, l] + z[at + l] * one[d - 1, j] + z[at + j] * z[at + l] * sum[d - 1]);
                    }
                }

                for (var j = 0; j < p; j++)
                {
                    one[d, j] += w * (one[d - 1, j] + z[at + j] * sum[d - 1]);
                }

                sum[d] += w * sum[d - 1];
            }
        }

        var here = -Math.Log(sum[deaths]) - deaths * top;
        for (var i = first; i < end; i++)
        {
            if (!data.Ended[i])
            {
                continue;
            }

            here += Dot(z, i * p, beta);
            for (var j = 0; j < p; j++)
            {
                sweep.Gradient[j] += z[i * p + j];
            }
        }

        sweep.LogLikelihood += here;
        for (var j = 0; j < p; j++)
        {
            var mean = one[deaths, j] / sum[deaths];
            sweep.Gradient[j] -= mean;
            for (var l = 0; l <= j; l++)
            {
                var information = two[deaths, j, l] / sum[deaths] - mean * one[deaths, l] / sum[deaths];
                sweep.Information[j, l] += information;
                if (l != j)
                {
                    sweep.Information[l, j] += information;
                }
            }
        }
    }

    private static double Dot(double[] z, int at, double[] beta)
    {
        var sum = 0.0;
        for (var j = 0; j < beta.Length; j++)
        {
            sum += beta[j] * z[at + j];
        }

        return sum;
    }
}
