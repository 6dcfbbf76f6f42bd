namespace Rootwater.Growing.Evidence.Fitting;

/// <summary>The marginal likelihood of a curve with one normal random parameter: parameters, log residual deviation, log group deviation.</summary>
internal sealed class GroupedLikelihood(CurveModel model, List<int[]> cells, int random, int p)
{
    private const int Nodes = 25;
    private static readonly (double[] X, double[] W) s_hermite = Hermite(Nodes);

    public double Evaluate(double[] at)
    {
        var sum = 0.0;
        for (var g = 0; g < cells.Count; g++)
        {
            sum += Group(at, g, out _);
        }

        return sum;
    }

    /// <summary>The likeliest deviation of each group.</summary>
    public double[] Modes(double[] at)
    {
        var modes = new double[cells.Count];
        for (var g = 0; g < cells.Count; g++)
        {
            Group(at, g, out modes[g]);
        }

        return modes;
    }

    private double Group(double[] at, int g, out double mode)
    {
        var sigma = Math.Exp(at[p]);
        var omega = Math.Exp(at[p + 1]);
        // Newton on the deviation: where the curve is linear in it the first step is exact, and the integrand is a normal density.
        mode = 0;
        var (value, slope, curvature) = Joint(at, g, mode, sigma, omega);
        var first = curvature;
        var linear = true;
        for (var step = 0; step < 100; step++)
        {
            var move = slope / curvature;
            var to = mode + move;
            var next = Joint(at, g, to, sigma, omega);
            while (!(next.Value >= value - 1e-12 * Math.Abs(value)) && Math.Abs(move) > 1e-14 * omega)
            {
                move /= 2;
                to = mode + move;
                next = Joint(at, g, to, sigma, omega);
            }

            mode = to;
            (value, slope, curvature) = next;
            linear &= Math.Abs(curvature - first) < 1e-9 * first;
            if (Math.Abs(move) < 1e-10 * omega)
            {
                break;
            }
        }

        if (linear)
        {
            return value + 0.5 * Math.Log(2 * Math.PI / curvature);
        }

        var width = 1 / Math.Sqrt(curvature);
        var total = 0.0;
        for (var k = 0; k < Nodes; k++)
        {
            var x = s_hermite.X[k];
            total += s_hermite.W[k] * Math.Exp(x * x + Joint(at, g, mode + Math.Sqrt(2) * width * x, sigma, omega).Value - value);
        }

        return value + Math.Log(Math.Sqrt(2) * width * total);
    }

    /// <summary>Log density of the values and the deviation together, its slope, and minus its curvature (Gauss–Newton) in the deviation.</summary>
    private (double Value, double Slope, double Curvature) Joint(double[] at, int g, double deviation, double sigma, double omega)
    {
        var parameters = at[..p];
        parameters[random] += deviation;
        var gradient = new double[p];
        var value = -Math.Log(omega) - 0.5 * Math.Log(2 * Math.PI) - deviation * deviation / (2 * omega * omega);
        var slope = -deviation / (omega * omega);
        var curvature = 1 / (omega * omega);
        foreach (var i in cells[g])
        {
            var e = model.Residual(i, parameters, gradient);
            value += -Math.Log(sigma) - 0.5 * Math.Log(2 * Math.PI) - e * e / (2 * sigma * sigma);
            slope += e * gradient[random] / (sigma * sigma);
            curvature += gradient[random] * gradient[random] / (sigma * sigma);
        }

        return (value, slope, curvature);
    }

    /// <summary>Nodes and weights for the weight exp(-x²), by Newton on the Hermite polynomials (Numerical Recipes, section 4.5, from memory).</summary>
    private static (double[] X, double[] W) Hermite(int n)
    {
        var x = new double[n];
        var w = new double[n];
        var z = 0.0;
        for (var i = 0; i < (n + 1) / 2; i++)
        {
            z = i switch
            {
                0 => Math.Sqrt(2.0 * n + 1) - 1.85575 * Math.Pow(2.0 * n + 1, -1.0 / 6),
                1 => z - 1.14 * Math.Pow(n, 0.426) / z,
                2 => 1.86 * z - 0.86 * x[0],
                3 => 1.91 * z - 0.91 * x[1],
                _ => 2 * z - x[i - 2],
            };
            var slope = 1.0;
            for (var round = 0; round < 100; round++)
            {
                double now = 0.7511255444649425, before = 0;
                for (var j = 0; j < n; j++)
                {
                    (before, now) = (now, z * Math.Sqrt(2.0 / (j + 1)) * now - Math.Sqrt(j / (j + 1.0)) * before);
                }

                slope = Math.Sqrt(2.0 * n) * before;
                var move = now / slope;
                z -= move;
                if (Math.Abs(move) < 1e-15)
                {
                    break;
                }
            }

            (x[i], x[n - 1 - i]) = (z, -z);
            w[i] = w[n - 1 - i] = 2 / (slope * slope);
        }

        return (x, w);
    }
}
