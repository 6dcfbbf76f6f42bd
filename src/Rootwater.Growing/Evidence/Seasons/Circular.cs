using MathNet.Numerics;
using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>Angles summed up: when in the year, and how closely together.</summary>
public sealed record CircularSummary
{
    public required double N { get; init; }

    public double CosineSum { get; init; }

    public double SineSum { get; init; }

    /// <summary>Mean direction, 0 to 2π; null where the angles cancel and there is none.</summary>
    public double? MeanRadians { get; init; }

    /// <summary>Length of the mean vector: 1 all at once, 0 all round.</summary>
    public double MeanLength { get; init; }

    /// <summary><see cref="MeanLength"/> corrected for grouping; null where the angles were not grouped.</summary>
    public double? CorrectedLength { get; init; }

    public double RayleighZ { get; init; }

    public double RayleighFirstOrder { get; init; }

    /// <summary>Series of Fisher 1993, eq. 4.17, held within 0 and 1.</summary>
    public double RayleighSeries { get; init; }

    /// <summary>Closed form of Zar, Biostatistical Analysis, after Greenwood and Durand.</summary>
    public double RayleighZar { get; init; }

    /// <summary>Fisher 1993, eq. 2.28; null for grouped angles.</summary>
    public double? Dispersion { get; init; }

    /// <summary>Circular standard error of the mean direction.</summary>
    public double? MeanStandardError { get; init; }

    /// <summary>Maximum likelihood concentration of a von Mises distribution; null where all angles are one.</summary>
    public double? Kappa { get; init; }

    public double CircularVariance => 1 - MeanLength;

    /// <summary>Batschelet's 2(1 - R).</summary>
    public double AngularVariance => 2 * (1 - MeanLength);

    public double? CircularStandardDeviation => MeanLength > 0 ? Math.Sqrt(-2 * Math.Log(MeanLength)) : null;

    public double AngularDeviation => Math.Sqrt(AngularVariance);

    /// <summary>Half the width of the band of the mean direction, radians: asin(z × standard error); null where it is so wide that there is no band.</summary>
    public double? Reach(double level = 0.95) => MeanStandardError is { } error && Tails.ZFor(level) * error is var sine && sine <= 1 ? Math.Asin(sine) : null;
}

/// <summary>Statistics of directions and times of the year. Fisher, Statistical Analysis of Circular Data (1993); Batschelet 1981; Mardia.</summary>
public static class Circular
{
    /// <summary>Sums up angles in radians.</summary>
    /// <param name="radians">The angles.</param>
    /// <param name="weights">How often each occurred; null for once.</param>
    /// <param name="groupWidth">Width of the groups the angles are the middles of, radians; null for exact angles.</param>
    public static CircularSummary Summarise(IReadOnlyList<double> radians, IReadOnlyList<double>? weights = null, double? groupWidth = null)
    {
        if (radians.Count == 0)
        {
            throw new EvidenceInputException("angle", null, "at least one date or angle");
        }

        double n = 0, cosine = 0, sine = 0;
        for (var i = 0; i < radians.Count; i++)
        {
            var w = weights?[i] ?? 1;
            if (!(w >= 0) || !double.IsFinite(radians[i]))
            {
                throw new EvidenceInputException(w >= 0 ? "angle" : "weight", w >= 0 ? radians[i] : w, w >= 0 ? "a finite angle" : "a count of 0 or more");
            }

            n += w;
            cosine += w * Math.Cos(radians[i]);
            sine += w * Math.Sin(radians[i]);
        }

        if (!(n > 0))
        {
            throw new EvidenceInputException("weight", n, "counts that are not all 0");
        }

        var length = Math.Min(1, Math.Sqrt(cosine * cosine + sine * sine) / n);
        double? mean = length > 1e-12 ? (Math.Atan2(sine, cosine) + 2 * Math.PI) % (2 * Math.PI) : null;
        var z = n * length * length;
        var result = new CircularSummary
        {
            N = n,
            CosineSum = cosine,
            SineSum = sine,
            MeanRadians = mean,
            MeanLength = length,
            CorrectedLength = groupWidth is { } width ? length * (width / 2) / Math.Sin(width / 2) : null,
            RayleighZ = z,
            RayleighFirstOrder = Math.Exp(-z),
            RayleighSeries = Math.Clamp(Math.Exp(-z) * (1 + (2 * z - z * z) / (4 * n) - (24 * z - 132 * z * z + 76 * z * z * z - 9 * z * z * z * z) / (288 * n * n)), 0, 1),
            RayleighZar = Zar(n, length),
        };
        if (groupWidth is not null || mean is not { } direction)
        {
            return result;
        }

        var second = 0.0;
        for (var i = 0; i < radians.Count; i++)
        {
            second += (weights?[i] ?? 1) * Math.Cos(2 * (radians[i] - direction));
        }

        var dispersion = Math.Max(0, (1 - second / n) / (2 * length * length));
        return result with { Dispersion = dispersion, MeanStandardError = Math.Sqrt(dispersion / n), Kappa = Kappa(length) };
    }

    // exp(sqrt(1 + 4n + 4(n² - (nR)²)) - (1 + 2n)) with the difference of the two large numbers taken as a quotient.
    private static double Zar(double n, double length)
    {
        var r = n * length;
        var root = Math.Sqrt(Math.Max(0, 1 + 4 * n + 4 * (n * n - r * r)));
        return Math.Exp(-4 * r * r / (root + 1 + 2 * n));
    }

    /// <summary>The kappa with I1(kappa)/I0(kappa) = length.</summary>
    private static double? Kappa(double length)
    {
        if (length < 1e-12)
        {
            return 0;
        }

        if (length > 1 - 1e-9)
        {
            return null;
        }

        double Ratio(double kappa) => kappa > 500 ? 1 - 1 / (2 * kappa) - 1 / (8 * kappa * kappa) : SpecialFunctions.BesselI1(kappa) / SpecialFunctions.BesselI0(kappa);
        // MathNet's rational approximations hold to 8 digits or so; the series does better where it converges quickly.
        return Roots.Bisect(kappa => (kappa < 30 ? SeriesRatio(kappa) : Ratio(kappa)) - length, 1e-9, 1e10);
    }

    private static double SeriesRatio(double kappa)
    {
        double zero = 1, one = 1, termZero = 1, termOne = 1;
        var q = kappa * kappa / 4;
        for (var k = 1; k < 200; k++)
        {
            termZero *= q / (k * (double)k);
            termOne *= q / (k * (k + 1.0));
            zero += termZero;
            one += termOne;
            if (termZero < zero * 1e-17)
            {
                break;
            }
        }

        return kappa / 2 * one / zero;
    }
}
