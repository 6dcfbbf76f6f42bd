namespace Rootwater.Growing.Evidence.Numbers;

/// <summary>The maximum of a smooth function of a few variables, to the digits that published tables print: simplex search from a start, then Newton steps on finite differences.</summary>
internal static class Maximiser
{
    public static double[] Find(Func<double[], double> f, double[] start, double[] step)
    {
        var at = Simplex(f, start, step, 1e-9);
        at = Simplex(f, at, [.. step.Select(s => s / 10)], 1e-12);
        return Polish(f, at, [.. step.Select(s => s / 10)]);
    }

    /// <summary>Nelder and Mead 1965.</summary>
    public static double[] Simplex(Func<double[], double> f, double[] start, double[] step, double tolerance)
    {
        var p = start.Length;
        var points = new double[p + 1][];
        var values = new double[p + 1];
        for (var i = 0; i <= p; i++)
        {
            points[i] = (double[])start.Clone();
            if (i > 0)
            {
                points[i][i - 1] += step[i - 1];
            }

            values[i] = Safe(f, points[i]);
        }

        for (var round = 0; round < 500 * p; round++)
        {
            Array.Sort(values, points, Comparer<double>.Create((a, b) => b.CompareTo(a)));
            if (values[0] - values[p] <= tolerance * (1 + Math.Abs(values[0])))
            {
                break;
            }

            var centre = new double[p];
            for (var i = 0; i < p; i++)
            {
                for (var j = 0; j < p; j++)
                {
                    centre[j] += points[i][j] / p;
                }
            }

            var (reflected, atReflected) = Try(1);
            if (atReflected > values[0])
            {
                var (far, atFar) = Try(2);
                (points[p], values[p]) = atFar > atReflected ? (far, atFar) : (reflected, atReflected);
            }
            else if (atReflected > values[p - 1])
            {
                (points[p], values[p]) = (reflected, atReflected);
            }
            else
            {
                var (near, atNear) = Try(atReflected > values[p] ? 0.5 : -0.5);
                if (atNear > Math.Max(values[p], atReflected))
                {
                    (points[p], values[p]) = (near, atNear);
                }
                else
                {
                    for (var i = 1; i <= p; i++)
                    {
                        points[i] = [.. points[i].Select((x, j) => (x + points[0][j]) / 2)];
                        values[i] = Safe(f, points[i]);
                    }
                }
            }

            (double[], double) Try(double reach)
            {
                double[] x = [.. centre.Select((c, j) => c + reach * (c - points[p][j]))];
                return (x, Safe(f, x));
            }
        }

        return points[Array.IndexOf(values, values.Max())];
    }

    /// <summary>Newton steps with derivatives by central differences; keeps a step only if it does not fall.</summary>
    public static double[] Polish(Func<double[], double> f, double[] at, double[] scale)
    {
        var p = at.Length;
        var value = Safe(f, at);
        for (var round = 0; round < 12; round++)
        {
            var h = scale.Select(s => Math.Abs(s) * 1e-2).ToArray();
            var gradient = new double[p];
            var curvature = new double[p, p];
            for (var i = 0; i < p; i++)
            {
                var (up, down) = (At(i, 1e-1, -1, 0), At(i, -1e-1, -1, 0));
                gradient[i] = (up - down) / (0.2 * h[i]);
                curvature[i, i] = -(At(i, 1, -1, 0) - 2 * value + At(i, -1, -1, 0)) / (h[i] * h[i]);
                for (var j = 0; j < i; j++)
                {
                    curvature[i, j] = curvature[j, i] = -(At(i, 1, j, 1) - At(i, 1, j, -1) - At(i, -1, j, 1) + At(i, -1, j, -1)) / (4 * h[i] * h[j]);
                }
            }

            if (SymmetricMatrix.Factor(curvature, out var lower) >= 0)
            {
                return at;
            }

            var move = SymmetricMatrix.Solve(lower, gradient);
            double[] to = [.. at.Select((x, j) => x + move[j])];
            var there = Safe(f, to);
            if (!(there >= value - 1e-11 * (1 + Math.Abs(value))))
            {
                return at;
            }

            (at, value) = (to, there);
            if (move.Select((m, j) => Math.Abs(m / scale[j])).Max() < 1e-8)
            {
                return at;
            }

            double At(int i, double a, int j, double b)
            {
                var x = (double[])at.Clone();
                x[i] += a * h[i];
                if (j >= 0)
                {
                    x[j] += b * h[j];
                }

                return Safe(f, x);
            }
        }

        return at;
    }

    private static double Safe(Func<double[], double> f, double[] x) => f(x) is var value && double.IsNaN(value) ? double.NegativeInfinity : value;
}
