using MathNet.Numerics.LinearAlgebra;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>
/// What the readings of a stretch should have been for traits about the mode, to second order in the principal axes of the posterior. Asked of the simulator once; then any number of
/// traits can be tried without a run.
/// </summary>
/// <remarks>
/// Second order is what Laplace leaves out and what does not average out over siblings: where a reading tells more of a trait the larger it is (ln of the salt, of the uptake) or the smaller
/// (the resting pH), errors and weights go together. That is in the products of two axes, one told and one not, so all pairs are asked: n(n+3)/2 runs for n axes.
/// </remarks>
internal sealed class ResponseSurface
{
    // Where the axes are asked, in posterior standard deviations: near the ends of a 90 % interval, so that the surface is right where intervals end. Pairs are asked as far out, on the diagonal.
    private const double Reach = 1.9;
    private static readonly double s_pairReach = Reach / Math.Sqrt(2);

    private readonly double[] _mode;
    private readonly double[] _toAxes;
    private readonly double[] _atMode;
    private readonly List<Axis> _axes = [];
    private readonly List<(int First, int Second, double[] Bend)> _pairs = [];

    private ResponseSurface(double[] mode, double[] toAxes, double[] atMode) => (_mode, _toAxes, _atMode) = (mode, toAxes, atMode);

    /// <summary>Asks the simulator.</summary>
    /// <param name="posterior">Mode and Laplace covariance.</param>
    /// <param name="scale">Sizes that make the traits comparable, for the choice of axes.</param>
    /// <param name="atMode">What the readings should have been at the mode.</param>
    /// <param name="predict">The same for other traits; asked on several processors at once.</param>
    public static ResponseSurface Around(Belief posterior, double[] scale, double[] atMode, Func<double[], double[]> predict)
    {
        var n = posterior.Size;
        var axes = Matrix<double>.Build.Dense(n, n, (i, j) => posterior.Covariance[i * n + j] / (scale[i] * scale[j])).Evd(Symmetricity.Symmetric);
        var lengths = axes.EigenValues.Select(value => Math.Sqrt(Math.Max(1e-12, value.Real))).ToArray();
        double[] Along(int k, double by) => [.. Enumerable.Range(0, n).Select(i => by * axes.EigenVectors[i, k] * lengths[k] * scale[i])];
        var toAxes = new double[n * n];
        for (var k = 0; k < n; k++)
        {
            for (var i = 0; i < n; i++)
            {
                toAxes[k * n + i] = axes.EigenVectors[i, k] / (lengths[k] * scale[i]);
            }
        }

        var surface = new ResponseSurface([.. posterior.Mean], toAxes, [.. atMode]);
        var sides = Asked(2 * n, i => predict(Spd.Sum(posterior.Mean, Along(i / 2, i % 2 == 0 ? Reach : -Reach))));
        for (var k = 0; k < n; k++)
        {
            var (up, down) = (sides[2 * k], sides[2 * k + 1]);
            var axis = new Axis(k, new double[atMode.Length], new double[atMode.Length]);
            for (var i = 0; i < atMode.Length; i++)
            {
                axis.Slope[i] = (up[i] - down[i]) / (2 * Reach);
                axis.Bend[i] = (up[i] + down[i] - 2 * atMode[i]) / (Reach * Reach);
            }

            // Along an axis that moves nothing (algae in the dark) there is nothing to be asked.
            if (axis.Slope.Any(slope => slope != 0) || axis.Bend.Any(bend => bend != 0))
            {
                surface._axes.Add(axis);
            }
        }

        var pairs = surface._axes.SelectMany((first, index) => surface._axes.Skip(index + 1).Select(second => (First: first, Second: second))).ToList();
        var bends = Asked(pairs.Count, i =>
        {
            var (first, second) = pairs[i];
            var both = predict(Spd.Sum(Spd.Sum(posterior.Mean, Along(first.Index, s_pairReach)), Along(second.Index, s_pairReach)));
            return [.. both.Select((value, r) => (value - atMode[r] - first.At(s_pairReach, r) - second.At(s_pairReach, r)) / (s_pairReach * s_pairReach))];
        });
        surface._pairs.AddRange(pairs.Select((pair, i) => (pair.First.Index, pair.Second.Index, bends[i])));
        return surface;
    }

    /// <summary>What the readings should have been; beyond the reach it goes on straight.</summary>
    public void Predict(ReadOnlySpan<double> theta, Span<double> predicted)
    {
        var n = _mode.Length;
        Span<double> along = stackalloc double[n];
        for (var k = 0; k < n; k++)
        {
            for (var i = 0; i < n; i++)
            {
                along[k] += _toAxes[k * n + i] * (theta[i] - _mode[i]);
            }
        }

        _atMode.CopyTo(predicted);
        foreach (var axis in _axes)
        {
            var (by, within) = (along[axis.Index], Within(along[axis.Index]));
            var bent = within * (by - 0.5 * within);
            for (var i = 0; i < predicted.Length; i++)
            {
                predicted[i] += axis.Slope[i] * by + axis.Bend[i] * bent;
            }
        }

        foreach (var (first, second, bend) in _pairs)
        {
            var product = Within(along[first]) * Within(along[second]);
            for (var i = 0; i < predicted.Length; i++)
            {
                predicted[i] += bend[i] * product;
            }
        }
    }

    // On all processors: after one reading more a grower waits for this pot alone.
    private static double[][] Asked(int count, Func<int, double[]> ask)
    {
        var answers = new double[count][];
        Parallel.For(0, count, i => answers[i] = ask(i));
        return answers;
    }

    private static double Within(double along) => Math.Clamp(along, -Reach, Reach);

    private sealed record Axis(int Index, double[] Slope, double[] Bend)
    {
        public double At(double by, int i) => by * Slope[i] + 0.5 * by * by * Bend[i];
    }
}
