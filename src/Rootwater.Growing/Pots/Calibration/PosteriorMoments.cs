using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>Mean and covariance of a posterior that is not normal, by weighing the nodes of a rule for the normal that stands for it; and what readings must have said to make it so.</summary>
/// <remarks>
/// The nodes are a low-discrepancy lattice (the R sequence of Roberts, from memory) in pairs about the middle, drawn a fifth wider than the normal and weighed for it, then made exact for all moments of it up to the
/// third: where the posterior is that normal it comes back as it was, so that a trait of which nothing is told does not pick up evidence from the rule's own error, the same in every pot.
/// </remarks>
internal static class PosteriorMoments
{
    private const int Nodes = 512;
    private const double Wider = 1.2;

    // The second time about what the first has found.
    private const int Passes = 2;

    // Fewer nodes that count than this, and the normal stands: mean and covariance of seven traits are 35 numbers.
    private const double LeastThatCount = 40;

    private static readonly ConcurrentDictionary<int, Rule> s_rules = new();

    /// <summary>The normal with the posterior's mean and covariance.</summary>
    /// <param name="about">A normal near it.</param>
    /// <param name="minusLog">Minus the log of the posterior, without constants.</param>
    public static Belief Of(Belief about, Func<double[], double> minusLog)
    {
        var n = about.Size;
        var rule = s_rules.GetOrAdd(n, Rule.Of);
        var weights = new double[Nodes];
        for (var pass = 0; pass < Passes; pass++)
        {
            var factor = Spd.Factor(about.Covariance, n);
            for (var d = 0; d < Nodes; d++)
            {
                weights[d] = rule.LogWeights[d] + 0.5 * Spd.Dot(rule.At[d], rule.At[d]) - minusLog(Spd.Sum(about.Mean, Spd.Times(factor, rule.At[d])));
            }

            var most = weights.Max();
            var (sum, squares) = (0.0, 0.0);
            for (var d = 0; d < Nodes; d++)
            {
                weights[d] = Math.Exp(weights[d] - most);
                sum += weights[d];
                squares += weights[d] * weights[d];
            }

            if (!(sum * sum / squares >= LeastThatCount))
            {
                break;
            }

            var (mean, covariance) = Moments(rule.At, weights, sum, n);
            var turned = Spd.Product(factor, covariance, n);
            about = new Belief(Spd.Sum(about.Mean, Spd.Times(factor, mean)), Spd.Symmetric(Spd.Product(turned, Spd.Transposed(factor, n), n), n));
        }

        return about;
    }

    private static (double[] Mean, double[] Covariance) Moments(double[][] at, double[] weights, double sum, int n)
    {
        var (mean, covariance) = (new double[n], new double[n * n]);
        for (var d = 0; d < at.Length; d++)
        {
            for (var i = 0; i < n; i++)
            {
                mean[i] += weights[d] / sum * at[d][i];
            }
        }

        for (var d = 0; d < at.Length; d++)
        {
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++)
                {
                    covariance[i * n + j] += weights[d] / sum * (at[d][i] - mean[i]) * (at[d][j] - mean[j]);
                }
            }
        }

        return (mean, covariance);
    }

    /// <summary>What the readings alone say, given what they make of a prior; nothing where they seem to say less than nothing.</summary>
    public static Information EvidenceIn(Belief posterior, Belief prior, double[] scale)
    {
        var n = posterior.Size;
        var difference = Information.Of(posterior).Minus(Information.Of(prior));
        var matrix = Matrix<double>.Build.Dense(n, n, (i, j) => difference.A[i * n + j] * scale[i] * scale[j]);
        var axes = matrix.Evd(Symmetricity.Symmetric);
        var a = new double[n * n];
        for (var k = 0; k < n; k++)
        {
            var value = Math.Max(0, axes.EigenValues[k].Real);
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++)
                {
                    a[i * n + j] += value * axes.EigenVectors[i, k] * axes.EigenVectors[j, k] / (scale[i] * scale[j]);
                }
            }
        }

        // b so that prior and evidence together have the posterior's mean.
        return new Information(a, Spd.Sum(Spd.Times(a, posterior.Mean), Spd.Times(Information.Of(prior).A, Spd.Sum(posterior.Mean, prior.Mean, -1))));
    }

    /// <summary>Nodes and log weights for the standard normal in some dimensions.</summary>
    private sealed record Rule(double[][] At, double[] LogWeights)
    {
        public static Rule Of(int n)
        {
            // The root above one of x^(n+1) = x + 1, by iteration.
            var root = 2.0;
            for (var i = 0; i < 60; i++)
            {
                root = Math.Pow(1 + root, 1.0 / (n + 1));
            }

            var (at, logs) = (new double[Nodes][], new double[Nodes]);
            for (var d = 0; d < Nodes; d += 2)
            {
                at[d] = [.. Enumerable.Range(1, n).Select(k => Wider * Normal.InvCDF(0, 1, Math.Clamp((0.5 + (d / 2 + 1) * Math.Pow(root, -k)) % 1, 1e-9, 1 - 1e-9)))];
                at[d + 1] = [.. at[d].Select(z => -z)];
                logs[d] = logs[d + 1] = 0.5 * Spd.Dot(at[d], at[d]) * (1 / (Wider * Wider) - 1);
            }

            var weights = logs.Select(Math.Exp).ToArray();
            var sum = weights.Sum();
            var factor = Spd.Factor(Moments(at, weights, sum, n).Covariance, n);
            return new Rule([.. at.Select(node => Spd.Solved(factor, node))], [.. logs.Select(log => log - Math.Log(sum))]);
        }
    }
}
