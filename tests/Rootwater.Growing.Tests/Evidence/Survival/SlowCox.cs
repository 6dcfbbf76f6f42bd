using MathNet.Numerics.LinearAlgebra;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Tests.Evidence.Survival;

/// <summary>A Cox model by the definitions: every event time looks at every row. Slow and plain, to check the quick one by.</summary>
internal sealed class SlowCox(CoxRequest request, double[] beta)
{
    private readonly int _p = beta.Length;
    private readonly int _n = request.Exit.Length;

    private IEnumerable<(double Time, int Stratum, int[] Risk, int[] Lost)> Events() =>
        Enumerable.Range(0, _n).Where(i => request.Ended[i]).Select(i => (Time: request.Exit[i], Stratum: Stratum(i))).Distinct().OrderBy(e => e.Time)
            .Select(e => (e.Time, e.Stratum,
                Enumerable.Range(0, _n).Where(i => Stratum(i) == e.Stratum && (request.Entry?[i] ?? double.NegativeInfinity) < e.Time && e.Time <= request.Exit[i]).ToArray(),
                Enumerable.Range(0, _n).Where(i => Stratum(i) == e.Stratum && request.Ended[i] && request.Exit[i] == e.Time).ToArray()));

    public double[] RobustErrors()
    {
        var scores = Matrix<double>.Build.Dense(_n, _p);
        var information = Matrix<double>.Build.Dense(_p, _p);
        foreach (var (_, _, risk, lost) in Events())
        {
            for (var k = 0; k < lost.Length; k++)
            {
                // Under Efron's rule the lost still count by 1 - k/d at the k-th of their losses.
                double Share(int i) => request.Ties == Ties.Efron && lost.Contains(i) ? 1 - k / (double)lost.Length : 1;
                var total = risk.Sum(i => Share(i) * Weight(i));
                var mean = risk.Aggregate(Vector<double>.Build.Dense(_p), (sum, i) => sum + Share(i) * Weight(i) / total * Z(i));
                foreach (var i in risk)
                {
                    information += Share(i) * Weight(i) / total * (Z(i) - mean).OuterProduct(Z(i) - mean);
                    scores.SetRow(i, scores.Row(i) - Share(i) * Weight(i) / total * (Z(i) - mean));
                }

                foreach (var i in lost)
                {
                    scores.SetRow(i, scores.Row(i) + (Z(i) - mean) / lost.Length);
                }
            }
        }

        var inverse = information.Inverse();
        var covariance = Matrix<double>.Build.Dense(_p, _p);
        foreach (var cluster in Enumerable.Range(0, _n).GroupBy(i => request.Clusters![i]))
        {
            var d = inverse * cluster.Aggregate(Vector<double>.Build.Dense(_p), (sum, i) => sum + scores.Row(i));
            covariance += d.OuterProduct(d);
        }

        return [.. Enumerable.Range(0, _p).Select(j => Math.Sqrt(covariance[j, j]))];
    }

    /// <summary>Score test of all covariates × g(t) added, at the fitted effects.</summary>
    public double ScoreOfTime(TimeScale scale)
    {
        var score = Vector<double>.Build.Dense(2 * _p);
        var information = Matrix<double>.Build.Dense(2 * _p, 2 * _p);
        var survival = 1.0;
        foreach (var (time, _, risk, lost) in Events())
        {
            var g = scale switch { TimeScale.KaplanMeier => 1 - survival, TimeScale.Log => Math.Log(time), _ => time };
            Vector<double> Both(int i) => Vector<double>.Build.DenseOfEnumerable(Z(i).Concat(Z(i).Multiply(g)));
            for (var k = 0; k < lost.Length; k++)
            {
                double Share(int i) => lost.Contains(i) ? 1 - k / (double)lost.Length : 1;
                var total = risk.Sum(i => Share(i) * Weight(i));
                var mean = risk.Aggregate(Vector<double>.Build.Dense(2 * _p), (sum, i) => sum + Share(i) * Weight(i) / total * Both(i));
                foreach (var i in risk)
                {
                    information += Share(i) * Weight(i) / total * (Both(i) - mean).OuterProduct(Both(i) - mean);
                }

                score += lost.Aggregate(Vector<double>.Build.Dense(2 * _p), (sum, i) => sum + (Both(i) - mean) / lost.Length);
            }

            survival *= (risk.Length - lost.Length) / (double)risk.Length;
        }

        return score * information.Inverse() * score;
    }

    private int Stratum(int i) => request.Strata?[i] ?? 0;

    private Vector<double> Z(int i) => Vector<double>.Build.Dense(_p, j => request.Covariates[j][i]);

    private double Weight(int i) => Math.Exp(Enumerable.Range(0, _p).Sum(j => beta[j] * request.Covariates[j][i]));
}
