using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Trials;

/// <summary>How the chance of a false claim is shared out over early looks.</summary>
public enum Spending
{
    /// <summary>Almost nothing early, almost all at the end (O'Brien and Fleming 1979; Lan and DeMets 1983). The default: looking early costs next to nothing.</summary>
    OBrienFleming,

    /// <summary>Alike at every look (Pocock 1977).</summary>
    Pocock,
}

/// <summary>Boundaries of planned looks. z-boundaries are two-sided: claim where |z| is at or above.</summary>
/// <remarks>Armitage, McPherson and Rowe 1969: the density of the running sum is carried from look to look over the stretch that did not stop, by Simpson's rule.</remarks>
public static class GroupSequential
{
    private const int Points = 301;

    /// <summary>Boundaries at these shares of the information, by alpha spending; looks may fall anywhere.</summary>
    public static double[] Boundaries(IReadOnlyList<double> information, Spending spending = Spending.OBrienFleming, double alpha = 0.05)
    {
        Check(information, alpha);
        var bounds = new double[information.Count];
        var state = new Density();
        var spent = 0.0;
        for (var k = 0; k < bounds.Length; k++)
        {
            var total = k == bounds.Length - 1 && information[k] >= 1 - 1e-9 ? alpha : Spent(information[k], spending, alpha);
            var here = total - spent;
            bounds[k] = here < 1e-14 ? 8 : Roots.Bisect(b => state.Exit(b, information[k]) - here, 0.5, 9);
            spent = total;
            state = state.Next(bounds[k], information[k]);
        }

        return bounds;
    }

    /// <summary>The classical boundaries at equally spaced looks: constant (Pocock), or falling with the root of the look (O'Brien–Fleming).</summary>
    public static double[] Classical(int looks, Spending kind, double alpha = 0.05)
    {
        if (looks is < 1 or > 20)
        {
            throw new EvidenceInputException("looks", looks, "1 to 20");
        }

        double[] Bounds(double c) => [.. Enumerable.Range(1, looks).Select(k => kind == Spending.Pocock ? c : c * Math.Sqrt(looks / (double)k))];
        double Total(double c)
        {
            var state = new Density();
            var total = 0.0;
            var bounds = Bounds(c);
            for (var k = 0; k < looks; k++)
            {
                var t = (k + 1) / (double)looks;
                total += state.Exit(bounds[k], t);
                state = state.Next(bounds[k], t);
            }

            return total;
        }

        return Bounds(Roots.Bisect(c => Total(c) - alpha, 1, 5));
    }

    /// <summary>The two-sided p at which a z-boundary claims.</summary>
    public static double NominalLevel(double bound) => Tails.NormalTwoSided(bound);

    /// <summary>Chance of a false claim given away by this share of the information.</summary>
    public static double Spent(double information, Spending spending, double alpha = 0.05)
    {
        var t = Math.Clamp(information, 0, 1);
        return t == 0 ? 0 : spending == Spending.Pocock
            ? alpha * Math.Log(1 + (Math.E - 1) * t)
            : 4 * Tails.NormalUpper(-Tails.NormalQuantile(alpha / 4) / Math.Sqrt(t));
    }

    private static void Check(IReadOnlyList<double> information, double alpha)
    {
        if (!(alpha is > 0 and < 0.5))
        {
            throw new EvidenceInputException("alpha", alpha, "a chance between 0 and 0.5");
        }

        for (var k = 0; k < information.Count; k++)
        {
            if (!(information[k] > (k == 0 ? 0 : information[k - 1]) && information[k] <= 1))
            {
                throw new EvidenceInputException("looks", information[k], "rising shares of the information, above 0 and at most 1");
            }
        }
    }

    /// <summary>Density of the running sum where no look has stopped yet.</summary>
    private sealed class Density
    {
        private double[] _x = [0];
        private double[] _mass = [1];
        private double _time;

        public double Exit(double bound, double time)
        {
            var reach = bound * Math.Sqrt(time);
            var sd = Math.Sqrt(time - _time);
            var sum = 0.0;
            for (var i = 0; i < _x.Length; i++)
            {
                sum += _mass[i] * (Tails.NormalUpper((reach - _x[i]) / sd) + Tails.NormalUpper((reach + _x[i]) / sd));
            }

            return sum;
        }

        public Density Next(double bound, double time)
        {
            var reach = Math.Min(bound, 8) * Math.Sqrt(time);
            var sd = Math.Sqrt(time - _time);
            var next = new Density { _time = time, _x = new double[Points], _mass = new double[Points] };
            var h = 2 * reach / (Points - 1);
            for (var j = 0; j < Points; j++)
            {
                var x = -reach + j * h;
                var density = 0.0;
                for (var i = 0; i < _x.Length; i++)
                {
                    var z = (x - _x[i]) / sd;
                    density += _mass[i] * Math.Exp(-z * z / 2);
                }

                next._x[j] = x;
                next._mass[j] = density / (sd * Math.Sqrt(2 * Math.PI)) * h / 3 * (j == 0 || j == Points - 1 ? 1 : j % 2 == 1 ? 4 : 2);
            }

            return next;
        }
    }
}
