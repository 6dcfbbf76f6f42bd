using CsCheck;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>Lawson and Hanson's conditions, and a slow obvious method as oracle.</summary>
public sealed class NonNegativeLeastSquaresLaws
{
    private static readonly Gen<(double[,] A, double[] B)> s_problems =
        from rows in Gen.Int[3, 7]
        from columns in Gen.Int[1, 6]
        from a in Gen.Int[-20, 20].Select(tenths => tenths / 10.0).Array2D[rows, columns]
        from b in Gen.Int[-20, 20].Select(tenths => tenths / 10.0).Array[rows]
        select (a, b);

    [Fact]
    public void The_answer_meets_the_conditions_of_Karush_Kuhn_and_Tucker() => s_problems.Sample((a, b) =>
    {
        var x = Solve(a, b);
        for (var j = 0; j < x.Length; j++)
        {
            x[j].ShouldBeGreaterThanOrEqualTo(0);
            var gradient = 0.0;
            for (var i = 0; i < b.Length; i++)
            {
                gradient += a[i, j] * (Value(a, x, i) - b[i]);
            }

            // The ridge leaves a gradient of 1e-9 |column|² x. Uphill in every direction that is allowed: zero where the unknown is free, not negative where it lies on its bound.
            var left = 1e-6 * (1 + x.Max());
            gradient.ShouldBeGreaterThan(-left);
            if (x[j] > 0)
            {
                Math.Abs(gradient).ShouldBeLessThan(left);
            }
        }
    }, iter: 2000);

    [Fact]
    public void No_choice_of_unknowns_does_better() => s_problems.Sample((a, b) =>
    {
        var columns = a.GetLength(1);
        var best = Cost(a, new double[columns], b);
        for (var set = 1; set < 1 << columns; set++)
        {
            var allowed = Enumerable.Range(0, columns).Select(j => (set >> j & 1) == 1).ToArray();
            best = Math.Min(best, Cost(a, Unconstrained(a, b, allowed), b));
        }

        Cost(a, Solve(a, b), b).ShouldBeLessThanOrEqualTo(best + 1e-7);
    }, iter: 600);

    private static double[] Solve(double[,] a, double[] b)
    {
        var allowed = new bool[a.GetLength(1)];
        Array.Fill(allowed, true);
        return new NonNegativeLeastSquares(a, b).Solve(allowed);
    }

    /// <summary>Plain least squares on a set of columns; where it goes negative it is no candidate and zero stands in.</summary>
    private static double[] Unconstrained(double[,] a, double[] b, bool[] allowed)
    {
        var index = Enumerable.Range(0, allowed.Length).Where(j => allowed[j]).ToArray();
        var matrix = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(b.Length, index.Length, (i, j) => a[i, index[j]]);
        var x = new double[allowed.Length];
        if (index.Length > b.Length)
        {
            return x;
        }

        var solution = matrix.Svd().Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(b));
        if (solution.All(value => value >= 0 && double.IsFinite(value)))
        {
            for (var j = 0; j < index.Length; j++)
            {
                x[index[j]] = solution[j];
            }
        }

        return x;
    }

    private static double Value(double[,] a, double[] x, int row) => x.Select((value, j) => value * a[row, j]).Sum();

    /// <summary>What is minimised: the squares left over, and the ridge of 1e-9 on each unknown times its column's length.</summary>
    private static double Cost(double[,] a, double[] x, double[] b)
    {
        var left = b.Select((value, i) => (Value(a, x, i) - value) * (Value(a, x, i) - value)).Sum();
        return left + 1e-9 * x.Select((value, j) => value * value * Enumerable.Range(0, b.Length).Sum(i => a[i, j] * a[i, j])).Sum();
    }
}
