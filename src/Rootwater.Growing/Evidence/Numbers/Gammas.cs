using MathNet.Numerics;

namespace Rootwater.Growing.Evidence.Numbers;

/// <summary>Logarithms of discrete probabilities, and the derivatives of log Γ.</summary>
internal static class Gammas
{
    public static double LogBinomial(int x, int n, double p)
    {
        if (p <= 0)
        {
            return x == 0 ? 0 : double.NegativeInfinity;
        }

        if (p >= 1)
        {
            return x == n ? 0 : double.NegativeInfinity;
        }

        return SpecialFunctions.BinomialLn(n, x) + x * Math.Log(p) + (n - x) * Math.Log(1 - p);
    }

    public static double LogPoisson(int x, double mean) =>
        mean <= 0 ? x == 0 ? 0 : double.NegativeInfinity : x * Math.Log(mean) - mean - SpecialFunctions.FactorialLn(x);

    /// <summary>The second derivative of log Γ: recurrence up to 15, then the asymptotic series (Abramowitz and Stegun 6.4.12, from memory).</summary>
    public static double Trigamma(double x)
    {
        var sum = 0.0;
        while (x < 15)
        {
            sum += 1 / (x * x);
            x++;
        }

        var y = 1 / (x * x);
        return sum + 1 / x + y / 2 + y / x * (1.0 / 6 - y * (1.0 / 30 - y * (1.0 / 42 - y * (1.0 / 30 - y * 5.0 / 66))));
    }
}
