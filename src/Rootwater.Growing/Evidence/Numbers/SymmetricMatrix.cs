namespace Rootwater.Growing.Evidence.Numbers;

/// <summary>Cholesky work on the small symmetric matrices of regression: square, row by row.</summary>
internal static class SymmetricMatrix
{
    /// <summary>The index of the first row that hangs on the ones before it (a covariate that never varies, or that repeats others), or -1. <paramref name="lower"/> is the Cholesky factor as far as it goes.</summary>
    public static int Factor(double[,] matrix, out double[,] lower, double tolerance = 1e-10)
    {
        var p = matrix.GetLength(0);
        lower = new double[p, p];
        for (var i = 0; i < p; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[i, j];
                for (var k = 0; k < j; k++)
                {
                    sum -= lower[i, k] * lower[j, k];
                }

                if (i != j)
                {
                    lower[i, j] = sum / lower[j, j];
                }
                else if (!(sum > tolerance * Math.Abs(matrix[i, i])) || sum <= 0)
                {
                    return i;
                }
                else
                {
                    lower[i, i] = Math.Sqrt(sum);
                }
            }
        }

        return -1;
    }

    /// <summary>The inverse of a positive definite matrix; null where it is not one.</summary>
    public static double[,]? Inverse(double[,] matrix, double tolerance = 1e-13)
    {
        if (Factor(matrix, out var lower, tolerance) >= 0)
        {
            return null;
        }

        var p = matrix.GetLength(0);
        var inverse = new double[p, p];
        var unit = new double[p];
        for (var c = 0; c < p; c++)
        {
            Array.Clear(unit);
            unit[c] = 1;
            var column = Solve(lower, unit);
            for (var r = 0; r < p; r++)
            {
                inverse[r, c] = column[r];
            }
        }

        return inverse;
    }

    /// <summary>Solves L L' x = b.</summary>
    public static double[] Solve(double[,] lower, double[] b)
    {
        var p = b.Length;
        var x = (double[])b.Clone();
        for (var i = 0; i < p; i++)
        {
            for (var k = 0; k < i; k++)
            {
                x[i] -= lower[i, k] * x[k];
            }

            x[i] /= lower[i, i];
        }

        for (var i = p - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < p; k++)
            {
                x[i] -= lower[k, i] * x[k];
            }

            x[i] /= lower[i, i];
        }

        return x;
    }

    /// <summary>x' A x.</summary>
    public static double Quadratic(double[,] a, double[] x)
    {
        var sum = 0.0;
        for (var i = 0; i < x.Length; i++)
        {
            for (var j = 0; j < x.Length; j++)
            {
                sum += x[i] * a[i, j] * x[j];
            }
        }

        return sum;
    }

    /// <summary>The logarithm of the determinant from the Cholesky factor.</summary>
    public static double LogDeterminant(double[,] lower)
    {
        var sum = 0.0;
        for (var i = 0; i < lower.GetLength(0); i++)
        {
            sum += 2 * Math.Log(lower[i, i]);
        }

        return sum;
    }
}
