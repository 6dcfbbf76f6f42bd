namespace Rootwater.Growing.Evidence.Comparisons;

/// <summary>How several p-values are corrected for being several.</summary>
public enum Correction
{
    /// <summary>Benjamini and Hochberg 1995: of the findings claimed, so many are false on average. The default.</summary>
    BenjaminiHochberg,

    /// <summary>Benjamini and Yekutieli 2001: the same under any dependence.</summary>
    BenjaminiYekutieli,

    /// <summary>Holm 1979: no false finding at all, with that certainty.</summary>
    Holm,

    /// <summary>Each p times their number.</summary>
    Bonferroni,
}

/// <summary>Several questions asked at once.</summary>
public static class Multiplicity
{
    /// <summary>Adjusted p-values in the order given.</summary>
    public static double[] Adjust(IReadOnlyList<double> p, Correction correction = Correction.BenjaminiHochberg)
    {
        var n = p.Count;
        for (var i = 0; i < n; i++)
        {
            if (!(p[i] is >= 0 and <= 1))
            {
                throw new EvidenceInputException("p", p[i], "p-values from 0 to 1");
            }
        }

        var order = Enumerable.Range(0, n).OrderBy(i => p[i]).ToArray();
        var adjusted = new double[n];
        var harmonic = Enumerable.Range(1, n).Sum(i => 1.0 / i);
        if (correction is Correction.Bonferroni)
        {
            return [.. p.Select(value => Math.Min(1, n * value))];
        }

        if (correction is Correction.Holm)
        {
            var most = 0.0;
            for (var rank = 0; rank < n; rank++)
            {
                most = Math.Max(most, (n - rank) * p[order[rank]]);
                adjusted[order[rank]] = Math.Min(1, most);
            }

            return adjusted;
        }

        var factor = correction is Correction.BenjaminiYekutieli ? harmonic : 1;
        var least = 1.0;
        for (var rank = n - 1; rank >= 0; rank--)
        {
            least = Math.Min(least, factor * n / (rank + 1) * p[order[rank]]);
            adjusted[order[rank]] = least;
        }

        return adjusted;
    }
}
