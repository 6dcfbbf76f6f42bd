namespace Rootwater.Growing.Evidence.Numbers;

/// <summary>Roots and maxima of one variable, for functions that are monotone or have one top.</summary>
internal static class Roots
{
    /// <summary>The x between low and high where f changes sign, to the last digits: bisection, which no flat stretch can upset.</summary>
    public static double Bisect(Func<double, double> f, double low, double high)
    {
        var atLow = f(low);
        for (var i = 0; i < 200; i++)
        {
            var middle = low + (high - low) / 2;
            if (middle <= low || middle >= high)
            {
                break;
            }

            var here = f(middle);
            if (here == 0)
            {
                return middle;
            }

            if (here > 0 == atLow > 0)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return low + (high - low) / 2;
    }

    /// <summary>Where f is largest between low and high: a coarse look along the whole, then golden section, then one parabola.</summary>
    public static double Maximise(Func<double, double> f, double low, double high, int looks = 40)
    {
        var best = 0;
        var top = double.NegativeInfinity;
        for (var i = 0; i <= looks; i++)
        {
            var here = f(low + (high - low) * i / looks);
            if (here > top)
            {
                (best, top) = (i, here);
            }
        }

        var a = low + (high - low) * Math.Max(0, best - 1) / looks;
        var b = low + (high - low) * Math.Min(looks, best + 1) / looks;
        const double golden = 0.6180339887498949;
        var c = b - golden * (b - a);
        var d = a + golden * (b - a);
        var (atC, atD) = (f(c), f(d));
        while (b - a > 1e-6 * (1 + Math.Abs(a)))
        {
            if (atC > atD)
            {
                (b, d, atD) = (d, c, atC);
                c = b - golden * (b - a);
                atC = f(c);
            }
            else
            {
                (a, c, atC) = (c, d, atD);
                d = a + golden * (b - a);
                atD = f(d);
            }
        }

        // At the top golden section cannot see beyond the root of the rounding error; a parabola over a wider stretch can.
        var x = (a + b) / 2;
        var h = Math.Min(1e-3 * (1 + Math.Abs(x)), Math.Min(x - low, high - x));
        if (h < 1e-9)
        {
            return x;
        }

        var (left, middle, right) = (f(x - h), f(x), f(x + h));
        var curvature = left - 2 * middle + right;
        return curvature < 0 ? x + h * (left - right) / (2 * curvature) : x;
    }
}
