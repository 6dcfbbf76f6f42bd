namespace Rootwater.Growing.Evidence.Survival;

/// <summary>What a sweep over the event times gives: the log partial likelihood with its gradient and information.</summary>
internal sealed class CoxSweep(int p)
{
    public double LogLikelihood { get; set; }

    public double[] Gradient { get; } = new double[p];

    public double[,] Information { get; } = new double[p, p];
}

/// <summary>The share of one event time in the likelihood: the sum over its losses of covariate minus expectation, and its information.</summary>
internal delegate void CoxEventSeen(double time, int stratum, double[] residual, double[,] information);

/// <summary>Hazard steps of one event time, for score residuals.</summary>
internal readonly record struct CoxHazardStep(double Time, int Stratum, double Hazard, double[] HazardMean, double TiedHazard, double[] TiedHazardMean, double[] Mean);

/// <summary>Efron's and Breslow's partial likelihood in one pass: rows are added by falling exit and taken out by falling entry, so the cost is rows times covariates squared, whatever the number of event times.</summary>
internal static class CoxLikelihood
{
    public static CoxSweep Sweep(CoxLayout data, double[] beta, Ties ties, CoxEventSeen? seen = null, List<CoxHazardStep>? hazards = null)
    {
        var sweep = new CoxSweep(data.P);
        for (var s = 0; s < data.Strata; s++)
        {
            var (eta, weight) = data.Weigh(s, beta);
            Stratum(data, s, eta, weight, ties, sweep, seen, hazards);
        }

        return sweep;
    }

    private static void Stratum(CoxLayout data, int stratum, double[] eta, double[] weight, Ties ties, CoxSweep sweep, CoxEventSeen? seen, List<CoxHazardStep>? hazards)
    {
        var p = data.P;
        var z = data.Z;
        var risk = new Sums(p);
        var tied = new Sums(p);
        var mean = new double[p];
        var residual = new double[p];
        var information = new double[p, p];
        var deaths = 0;
        var here = 0.0;
        var t = double.NaN;
        foreach (var change in data.Falling(stratum))
        {
            if (change.Time != t)
            {
                AgePassed();
                t = change.Time;
            }

            var at = change.Profile;
            risk.Add(z, at * p, change.Leaves ? -weight[at] : weight[at]);
            if (change.Ended)
            {
                tied.Add(z, at * p, weight[at]);
                deaths++;
                here += eta[at];
                for (var j = 0; j < p; j++)
                {
                    residual[j] += z[at * p + j];
                }
            }
        }

        AgePassed();

        void AgePassed()
        {
            if (deaths == 0)
            {
                return;
            }

            Array.Clear(information);
            var step = hazards is null ? default : new CoxHazardStep(t, stratum, 0, new double[p], 0, new double[p], new double[p]);
            for (var k = 0; k < deaths; k++)
            {
                var off = ties == Ties.Efron ? k / (double)deaths : 0;
                var total = risk.Weight - off * tied.Weight;
                here -= Math.Log(total);
                for (var j = 0; j < p; j++)
                {
                    mean[j] = (risk.First[j] - off * tied.First[j]) / total;
                    residual[j] -= mean[j];
                }

                var at2 = 0;
                for (var j = 0; j < p; j++)
                {
                    for (var l = 0; l <= j; l++, at2++)
                    {
                        information[j, l] += (risk.Second[at2] - off * tied.Second[at2]) / total - mean[j] * mean[l];
                    }
                }

                if (hazards is not null)
                {
                    var h = 1 / total;
                    step = step with { Hazard = step.Hazard + h, TiedHazard = step.TiedHazard + off * h };
                    for (var j = 0; j < p; j++)
                    {
                        step.HazardMean[j] += h * mean[j];
                        step.TiedHazardMean[j] += off * h * mean[j];
                        step.Mean[j] += mean[j] / deaths;
                    }
                }
            }

            hazards?.Add(step);
            sweep.LogLikelihood += here;
            for (var j = 0; j < p; j++)
            {
                sweep.Gradient[j] += residual[j];
                for (var l = 0; l <= j; l++)
                {
                    information[l, j] = information[j, l];
                    sweep.Information[j, l] += information[j, l];
                    if (l != j)
                    {
                        sweep.Information[l, j] += information[j, l];
                    }
                }
            }

            seen?.Invoke(t, stratum, residual, information);
            tied.Clear();
            Array.Clear(residual);
            (deaths, here) = (0, 0);
        }
    }

    /// <summary>Sums of weight, weight × z and weight × z z' (lower triangle, row by row).</summary>
    private sealed class Sums(int p)
    {
        public double Weight { get; private set; }

        public double[] First { get; } = new double[p];

        public double[] Second { get; } = new double[p * (p + 1) / 2];

        public void Clear()
        {
            Weight = 0;
            Array.Clear(First);
            Array.Clear(Second);
        }

        public void Add(double[] z, int at, double w)
        {
            Weight += w;
            var first = First;
            var second = Second;
            var row = new ReadOnlySpan<double>(z, at, first.Length);
            var s = 0;
            for (var j = 0; j < row.Length; j++)
            {
                var wz = w * row[j];
                first[j] += wz;
                for (var l = 0; l <= j; l++)
                {
                    second[s++] += wz * row[l];
                }
            }
        }
    }
}
