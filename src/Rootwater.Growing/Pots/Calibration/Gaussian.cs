namespace Rootwater.Growing.Pots.Calibration;

/// <summary>A handful of numbers known with their spread: mean and covariance, row by row.</summary>
internal sealed record Belief(double[] Mean, double[] Covariance)
{
    public int Size => Mean.Length;

    public double Sd(int i) => Math.Sqrt(Covariance[i * Size + i]);
}

/// <summary>What readings say about a handful of numbers, as a quadratic: -½ θ'Aθ + b'θ. Two such pieces of evidence add up.</summary>
internal sealed record Information(double[] A, double[] B)
{
    public int Size => B.Length;

    public static Information None(int size) => new(new double[size * size], new double[size]);

    public static Information Of(Belief belief)
    {
        var precision = Spd.Inverse(belief.Covariance, belief.Size);
        return new Information(precision, Spd.Times(precision, belief.Mean));
    }

    public Information Plus(Information other) => new(Spd.Sum(A, other.A), Spd.Sum(B, other.B));

    public Information Minus(Information other) => new(Spd.Sum(A, other.A, -1), Spd.Sum(B, other.B, -1));

    public Belief ToBelief()
    {
        var covariance = Spd.Inverse(A, Size);
        return new Belief(Spd.Times(covariance, B), covariance);
    }

    /// <summary>The same evidence about numbers that have since moved by something unknown with these variances: it is worth less, and none where it was none.</summary>
    public Information After(ReadOnlySpan<double> variances)
    {
        // θ' = θ + q: A' = A - A (A + Q⁻¹)⁻¹ A and b' = b - A (A + Q⁻¹)⁻¹ b.
        var sum = (double[])A.Clone();
        for (var i = 0; i < Size; i++)
        {
            sum[i * Size + i] += 1 / variances[i];
        }

        var inverse = Spd.Inverse(sum, Size);
        var moved = Spd.Product(A, inverse, Size);
        return new Information(Spd.Symmetric(Spd.Sum(A, Spd.Product(moved, A, Size), -1), Size), Spd.Sum(B, Spd.Times(moved, B), -1));
    }
}

/// <summary>Algebra of small symmetric positive definite matrices, row by row in one array: six by six, ten thousand times a fit.</summary>
internal static class Spd
{
    /// <summary>Lower factor of Cholesky.</summary>
    /// <exception cref="ArithmeticException">Not positive definite.</exception>
    public static double[] Factor(ReadOnlySpan<double> matrix, int n)
    {
        var lower = new double[n * n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[i * n + j];
                for (var k = 0; k < j; k++)
                {
                    sum -= lower[i * n + k] * lower[j * n + k];
                }

                if (i != j)
                {
                    lower[i * n + j] = sum / lower[j * n + j];
                }
                else if (sum > 0)
                {
                    lower[i * n + i] = Math.Sqrt(sum);
                }
                else
                {
                    throw new ArithmeticException("A covariance is not positive definite.");
                }
            }
        }

        return lower;
    }

    public static double LogDeterminant(ReadOnlySpan<double> matrix, int n)
    {
        var lower = Factor(matrix, n);
        var sum = 0.0;
        for (var i = 0; i < n; i++)
        {
            sum += 2 * Math.Log(lower[i * n + i]);
        }

        return sum;
    }

    public static double[] Inverse(ReadOnlySpan<double> matrix, int n)
    {
        var lower = Factor(matrix, n);
        var inverse = new double[n * n];
        Span<double> column = stackalloc double[n];
        for (var j = 0; j < n; j++)
        {
            for (var i = j; i < n; i++)
            {
                var sum = i == j ? 1.0 : 0;
                for (var k = j; k < i; k++)
                {
                    sum -= lower[i * n + k] * column[k];
                }

                column[i] = sum / lower[i * n + i];
            }

            for (var i = n - 1; i >= j; i--)
            {
                var sum = column[i];
                for (var k = i + 1; k < n; k++)
                {
                    sum -= lower[k * n + i] * column[k];
                }

                column[i] = sum / lower[i * n + i];
                inverse[i * n + j] = inverse[j * n + i] = column[i];
            }
        }

        return inverse;
    }

    public static double[] Times(ReadOnlySpan<double> matrix, ReadOnlySpan<double> vector)
    {
        var n = vector.Length;
        var result = new double[n];
        for (var i = 0; i < n; i++)
        {
            result[i] = Dot(matrix.Slice(i * n, n), vector);
        }

        return result;
    }

    public static double[] Product(ReadOnlySpan<double> a, ReadOnlySpan<double> b, int n)
    {
        var result = new double[n * n];
        for (var i = 0; i < n; i++)
        {
            for (var k = 0; k < n; k++)
            {
                var factor = a[i * n + k];
                for (var j = 0; j < n; j++)
                {
                    result[i * n + j] += factor * b[k * n + j];
                }
            }
        }

        return result;
    }

    public static double[] Transposed(ReadOnlySpan<double> matrix, int n)
    {
        var result = new double[n * n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++)
            {
                result[j * n + i] = matrix[i * n + j];
            }
        }

        return result;
    }

    /// <summary>The x of Lx = v for a lower factor.</summary>
    public static double[] Solved(ReadOnlySpan<double> lower, ReadOnlySpan<double> vector)
    {
        var n = vector.Length;
        var result = new double[n];
        for (var i = 0; i < n; i++)
        {
            result[i] = (vector[i] - Dot(lower.Slice(i * n, i), result.AsSpan(0, i))) / lower[i * n + i];
        }

        return result;
    }

    public static double[] Sum(ReadOnlySpan<double> a, ReadOnlySpan<double> b, double factor = 1)
    {
        var result = new double[a.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = a[i] + factor * b[i];
        }

        return result;
    }

    public static double[] Symmetric(double[] matrix, int n)
    {
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < i; j++)
            {
                matrix[i * n + j] = matrix[j * n + i] = (matrix[i * n + j] + matrix[j * n + i]) / 2;
            }
        }

        return matrix;
    }

    public static double[] Diagonal(ReadOnlySpan<double> values)
    {
        var result = new double[values.Length * values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            result[i * values.Length + i] = values[i];
        }

        return result;
    }

    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }

    /// <summary>v' M v.</summary>
    public static double Quadratic(ReadOnlySpan<double> matrix, ReadOnlySpan<double> vector) => Dot(Times(matrix, vector), vector);
}
