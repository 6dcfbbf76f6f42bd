using MathNet.Numerics;
using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Rates;

/// <summary>Exact p-values by the conventions that differ; which one is used has to be said.</summary>
/// <param name="Less">Chance of at most so many.</param>
/// <param name="Greater">Chance of at least so many.</param>
/// <param name="Central">Twice the smaller tail, at most 1: agrees with the exact interval.</param>
/// <param name="MinimumLikelihood">All outcomes no likelier than the one seen (relative slack 1e-7).</param>
/// <param name="MidLess">As Less, with half the chance of just so many.</param>
/// <param name="MidGreater">As Greater, with half the chance of just so many.</param>
public sealed record ExactP(double Less, double Greater, double Central, double MinimumLikelihood, double MidLess, double MidGreater)
{
    /// <summary>Twice the smaller mid-p tail: less cautious than <see cref="Central"/>, right on average.</summary>
    public double MidP => Math.Min(1, 2 * Math.Min(MidLess, MidGreater));
}

/// <summary>A lower and an upper bound; infinite where there is none.</summary>
public readonly record struct Interval(double Lower, double Upper);

/// <summary>Exact statements on a share: x of n. Clopper and Pearson 1934; Wilson 1927; conventions as in the table named above each check.</summary>
public static class ExactBinomial
{
    private const double Slack = 1 + 1e-7;

    /// <summary>The chances of x of n when the true share is p.</summary>
    public static ExactP Test(int x, int n, double p)
    {
        Check(x, n);
        if (!(p is >= 0 and <= 1))
        {
            throw new EvidenceInputException("p0", p, "a share from 0 to 1");
        }

        var seen = Math.Exp(Gammas.LogBinomial(x, n, p));
        double less = 0, greater = 0, minimum = 0;
        for (var i = 0; i <= n; i++)
        {
            var here = Math.Exp(Gammas.LogBinomial(i, n, p));
            less += i <= x ? here : 0;
            greater += i >= x ? here : 0;
            minimum += here <= seen * Slack ? here : 0;
        }

        less = x == n ? 1 : Math.Min(1, less);
        greater = x == 0 ? 1 : Math.Min(1, greater);
        return new ExactP(less, greater, Math.Min(1, 2 * Math.Min(less, greater)), Math.Min(1, minimum), less - seen / 2, greater - seen / 2);
    }

    /// <summary>Clopper–Pearson: covers at least as often as it says.</summary>
    public static Interval ClopperPearson(int x, int n, double level = 0.95)
    {
        Check(x, n);
        var tail = (1 - level) / 2;
        return new Interval(
            x == 0 ? 0 : Roots.Bisect(p => AtLeast(x, n, p) - tail, 0, 1),
            x == n ? 1 : Roots.Bisect(p => AtMost(x, n, p) - tail, 0, 1));
    }

    /// <summary>The interval that agrees with the mid-p test.</summary>
    public static Interval MidP(int x, int n, double level = 0.95)
    {
        Check(x, n);
        var tail = (1 - level) / 2;
        double Half(double p) => Math.Exp(Gammas.LogBinomial(x, n, p)) / 2;
        return new Interval(
            x == 0 ? 0 : Roots.Bisect(p => AtLeast(x, n, p) - Half(p) - tail, 0, 1),
            x == n ? 1 : Roots.Bisect(p => AtMost(x, n, p) - Half(p) - tail, 0, 1));
    }

    /// <summary>Wilson's score interval: close to what it says on average.</summary>
    public static Interval Wilson(int x, int n, double level = 0.95)
    {
        Check(x, n);
        var z = Tails.ZFor(level);
        var share = x / (double)n;
        var middle = share + z * z / (2 * n);
        var reach = z * Math.Sqrt(share * (1 - share) / n + z * z / (4.0 * n * n));
        var below = 1 + z * z / n;
        return new Interval(x == 0 ? 0 : (middle - reach) / below, x == n ? 1 : (middle + reach) / below);
    }

    private static double AtLeast(int x, int n, double p) => SpecialFunctions.BetaRegularized(x, n - x + 1, p);

    private static double AtMost(int x, int n, double p) => SpecialFunctions.BetaRegularized(n - x, x + 1, 1 - p);

    private static void Check(int x, int n)
    {
        if (n < 1)
        {
            throw new EvidenceInputException("n", n, "at least 1");
        }

        if (x < 0 || x > n)
        {
            throw new EvidenceInputException("x", x, $"0 to {n}");
        }
    }
}
