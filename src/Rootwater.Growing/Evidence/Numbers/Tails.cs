using MathNet.Numerics;

namespace Rootwater.Growing.Evidence.Numbers;

/// <summary>Tails and quantiles of the normal, t, chi-square and F distributions. Tails are computed as tails, not as one minus the rest, so that small p-values keep their digits.</summary>
public static class Tails
{
    /// <summary>The 97.5 % point of the normal distribution.</summary>
    public const double Z975 = 1.959963984540054;

    /// <summary>P(Z &gt; z).</summary>
    public static double NormalUpper(double z) => 0.5 * SpecialFunctions.Erfc(z / Math.Sqrt(2));

    /// <summary>P(|Z| &gt; |z|).</summary>
    public static double NormalTwoSided(double z) => SpecialFunctions.Erfc(Math.Abs(z) / Math.Sqrt(2));

    /// <summary>The z that P(Z &lt;= z) = p belongs to.</summary>
    public static double NormalQuantile(double p) => -Math.Sqrt(2) * SpecialFunctions.ErfcInv(2 * p);

    /// <summary>The z of a two-sided interval of this level: 1.96 for 0.95.</summary>
    public static double ZFor(double level) => level == 0.95 ? Z975 : NormalQuantile(0.5 + level / 2);

    /// <summary>P(|T| &gt; |t|) with df degrees of freedom.</summary>
    public static double StudentTwoSided(double t, double df) => SpecialFunctions.BetaRegularized(df / 2, 0.5, df / (df + t * t));

    /// <summary>The t of a two-sided interval of this level.</summary>
    public static double StudentFor(double level, double df) => MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, df, 0.5 + level / 2);

    /// <summary>P(X &gt; x) of a chi-square with df degrees of freedom.</summary>
    public static double ChiSquareUpper(double x, double df) => x <= 0 ? 1 : GammaUpper(df / 2, x / 2);

    /// <summary>P(F &gt; f).</summary>
    public static double FUpper(double f, double df1, double df2) => SpecialFunctions.BetaRegularized(df2 / 2, df1 / 2, df2 / (df2 + df1 * f));

    /// <summary>The regularised upper incomplete gamma function Q(a, x).</summary>
    public static double GammaUpper(double a, double x)
    {
        if (x < a + 1)
        {
            return 1 - SpecialFunctions.GammaLowerRegularized(a, x);
        }

        // Lentz's continued fraction (Numerical Recipes, section 6.2, from memory): keeps the digits of a far tail.
        const double tiny = 1e-300;
        var b = x + 1 - a;
        var c = 1 / tiny;
        var d = 1 / b;
        var h = d;
        for (var i = 1; i < 10_000; i++)
        {
            var an = -i * (i - a);
            b += 2;
            d = an * d + b;
            d = Math.Abs(d) < tiny ? tiny : d;
            c = b + an / c;
            c = Math.Abs(c) < tiny ? tiny : c;
            d = 1 / d;
            var step = d * c;
            h *= step;
            if (Math.Abs(step - 1) < 1e-15)
            {
                break;
            }
        }

        return Math.Exp(-x + a * Math.Log(x) - SpecialFunctions.GammaLn(a)) * h;
    }
}
