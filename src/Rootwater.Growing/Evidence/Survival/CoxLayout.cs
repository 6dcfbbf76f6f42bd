namespace Rootwater.Growing.Evidence.Survival;

/// <summary>An interval of a life that comes under watch or leaves it, as age falls.</summary>
/// <param name="Time">Age.</param>
/// <param name="Profile">Covariates of the interval.</param>
/// <param name="Leaves">True where it leaves: it began at this age or later.</param>
/// <param name="Ended">True for one that ended here in a loss.</param>
internal readonly record struct CoxChange(double Time, int Profile, bool Leaves, bool Ended);

/// <summary>One interval of a life.</summary>
/// <param name="Entry">Start.</param>
/// <param name="Exit">End.</param>
/// <param name="Ended">It ended in a loss.</param>
/// <param name="Profile">Its covariates.</param>
/// <param name="Cluster">Whose it is.</param>
internal readonly record struct CoxRow(double Entry, double Exit, bool Ended, int Profile, int Cluster);

/// <summary>The intervals of a Cox model as its sums meet them, stratum by stratum; those with the same covariates share a profile.</summary>
internal abstract class CoxLayout
{
    private double[]? _eta, _weight;

    /// <summary>Covariates.</summary>
    public required int P { get; init; }

    /// <summary>Centred and scaled covariates, P per profile.</summary>
    public required double[] Z { get; init; }

    public required double[] Scale { get; init; }

    public int Profiles => Z.Length / P;

    public abstract int Strata { get; }

    /// <summary>First profile of those among which a stratum's are, and one past the last.</summary>
    public abstract (int From, int To) ProfilesOf(int stratum);

    /// <summary>All that comes and goes by falling age: at each age first what ends there, in any order with what leaves.</summary>
    public abstract IEnumerable<CoxChange> Falling(int stratum);

    public abstract IEnumerable<CoxRow> RowsOf(int stratum);

    /// <summary>Linear predictor of every profile of a stratum less the largest among them, and its exponential. Both are written over when it is asked again.</summary>
    public (double[] Eta, double[] Weight) Weigh(int stratum, double[] beta)
    {
        var (eta, weight) = (_eta ??= new double[Profiles], _weight ??= new double[Profiles]);
        var (from, to) = ProfilesOf(stratum);
        var top = double.NegativeInfinity;
        for (var i = from; i < to; i++)
        {
            var sum = 0.0;
            for (var j = 0; j < P; j++)
            {
                sum += beta[j] * Z[i * P + j];
            }

            eta[i] = sum;
            top = Math.Max(top, sum);
        }

        for (var i = from; i < to; i++)
        {
            eta[i] -= top;
            weight[i] = Math.Exp(eta[i]);
        }

        return (eta, weight);
    }

    /// <summary>Values about their mean over rows, in mean absolute deviations.</summary>
    /// <param name="columns">One array per covariate, a value per profile; not a number stands at the mean.</param>
    /// <param name="rows">How many rows share each profile; null for one each.</param>
    protected static (double[] Z, double[] Scale) Scaled(IReadOnlyList<double[]> columns, int[]? rows)
    {
        var (n, p) = (columns[0].Length, columns.Count);
        var all = rows is null ? n : rows.Sum(count => (double)count);
        var (z, scale) = (new double[n * p], new double[p]);
        for (var j = 0; j < p; j++)
        {
            var column = columns[j];
            var (known, mean, spread) = (0.0, 0.0, 0.0);
            for (var i = 0; i < n; i++)
            {
                if (!double.IsNaN(column[i]))
                {
                    var count = rows is null ? 1 : rows[i];
                    (known, mean) = (known + count, mean + count * column[i]);
                }
            }

            mean /= known;
            for (var i = 0; i < n; i++)
            {
                if (!double.IsNaN(column[i]))
                {
                    spread += (rows is null ? 1 : rows[i]) * Math.Abs(column[i] - mean);
                }
            }

            scale[j] = spread / all is var s && s > 0 ? s : 1;
            for (var i = 0; i < n; i++)
            {
                z[i * p + j] = double.IsNaN(column[i]) ? 0 : (column[i] - mean) / scale[j];
            }
        }

        return (z, scale);
    }
}
