using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Series;

namespace Rootwater.Growing.Evidence.Comparisons;

/// <summary>One value of a plant, and what may go with it.</summary>
/// <param name="Plant">Which plant.</param>
/// <param name="Value">What is explained.</param>
/// <param name="X">What may explain it, one for each name.</param>
public sealed record PlantValue(string Plant, double Value, IReadOnlyList<double> X);

/// <summary>One slope.</summary>
/// <param name="Name">Of what.</param>
/// <param name="Slope">For each unit of it; null where it cannot be told.</param>
/// <param name="StandardError">Robust by plant, or that of least squares where it is larger.</param>
/// <param name="Interval">95 %.</param>
/// <param name="P">Two-sided, t with plants less one degrees of freedom.</param>
/// <param name="Plants">Plants in which it varies: no other plant says anything of it.</param>
/// <param name="Cannot">Why there is none, in a sentence.</param>
public sealed record WithinSlope(string Name, double? Slope, double? StandardError, Interval95? Interval, double? P, int Plants, string? Cannot);

/// <summary>
/// Each plant against itself: least squares about the plant's own mean (fixed effects), errors robust by plant (Liang and Zeger 1986; CR1, Cameron and Miller 2015, J. Hum. Resour. 50:317, from memory), so that
/// a large plant is no large effect and years of one plant are not many plants.
/// </summary>
public static class WithinPlants
{
    /// <summary>Fewer plants than this in which something varies cannot tell it from a plant's own history.</summary>
    public const int FewestPlants = 4;

    public static IReadOnlyList<WithinSlope> Fit(IReadOnlyList<PlantValue> values, IReadOnlyList<string> names)
    {
        var plants = values.GroupBy(value => value.Plant).Where(own => own.Count() > 1).Select(own => own.ToList()).ToList();
        var centred = plants.ConvertAll(own => (Y: Centre([.. own.Select(each => each.Value)]), X: names.Select((_, j) => Centre([.. own.Select(each => each.X[j])])).ToArray()));
        var varies = names.Select((_, j) => centred.Count(own => own.X[j].Any(x => Math.Abs(x) > 1e-9))).ToArray();
        // What varies in too few plants is left out, the rest is asked without it.
        var used = Enumerable.Range(0, names.Count).Where(j => varies[j] >= FewestPlants).ToList();
        var fit = used.Count == 0 ? null : Solve(centred.ConvertAll(own => (own.Y, X: used.ConvertAll(j => own.X[j]))), used.Count);
        return [.. names.Select((name, j) => used.IndexOf(j) is var at && at < 0
            ? new WithinSlope(name, null, null, null, null, varies[j], FormattableString.Invariant($"It varied in {varies[j]} plants of which more than one value is known; {FewestPlants} are the least that can tell it from a plant's own history."))
            : fit is null ? new WithinSlope(name, null, null, null, null, varies[j], "It hangs on the others, or nothing scatters: there is no telling them apart.")
            : Slope(name, fit.Value.Slopes[at], fit.Value.Errors[at], plants.Count, varies[j]))];
    }

    private static WithinSlope Slope(string name, double slope, double error, int plants, int varies)
    {
        // Robust errors rest on the plants in which it varies.
        var freedom = Math.Max(1, Math.Min(plants, varies) - 1);
        var reach = Tails.StudentFor(0.95, freedom) * error;
        return new WithinSlope(name, slope, error, new Interval95(slope - reach, slope + reach), error > 0 ? Tails.StudentTwoSided(slope / error, freedom) : null, varies, error > 0 ? null : "Nothing scatters.");
    }

    private static (double[] Slopes, double[] Errors)? Solve(List<(double[] Y, List<double[]> X)> plants, int p)
    {
        var (cross, with) = (new double[p, p], new double[p]);
        foreach (var (y, x) in plants)
        {
            for (var i = 0; i < p; i++)
            {
                with[i] += Dot(x[i], y);
                for (var j = 0; j < p; j++)
                {
                    cross[i, j] += Dot(x[i], x[j]);
                }
            }
        }

        if (SymmetricMatrix.Inverse(cross, 1e-8) is not { } inverse)
        {
            return null;
        }

        var slopes = new double[p];
        for (var i = 0; i < p; i++)
        {
            for (var j = 0; j < p; j++)
            {
                slopes[i] += inverse[i, j] * with[j];
            }
        }

        var (meat, squares, n) = (new double[p, p], 0.0, 0);
        foreach (var (y, x) in plants)
        {
            var residuals = y.Select((value, k) => value - Enumerable.Range(0, p).Sum(j => slopes[j] * x[j][k])).ToArray();
            var score = x.ConvertAll(column => Dot(column, residuals));
            squares += Dot(residuals, residuals);
            n += y.Length;
            for (var i = 0; i < p; i++)
            {
                for (var j = 0; j < p; j++)
                {
                    meat[i, j] += score[i] * score[j];
                }
            }
        }

        var g = plants.Count;
        var free = n - g - p;
        if (free < 1 || g < 2)
        {
            return null;
        }

        var correction = g / (g - 1.0) * (n - 1.0) / Math.Max(1, n - p);
        var errors = new double[p];
        for (var i = 0; i < p; i++)
        {
            var robust = 0.0;
            for (var a = 0; a < p; a++)
            {
                for (var b = 0; b < p; b++)
                {
                    robust += inverse[i, a] * meat[a, b] * inverse[b, i];
                }
            }

            errors[i] = Math.Sqrt(Math.Max(correction * robust, squares / free * inverse[i, i]));
        }

        return (slopes, errors);
    }

    private static double[] Centre(double[] values)
    {
        var mean = values.Average();
        return [.. values.Select(value => value - mean)];
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }
}
