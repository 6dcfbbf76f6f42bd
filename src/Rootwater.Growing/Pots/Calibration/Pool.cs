namespace Rootwater.Growing.Pots.Calibration;

/// <summary>What one pot brings to the pool: what its readings say, and how they scatter about the fit.</summary>
internal sealed record PotEvidence(string MediumId, Information Information, ScatterSums Scatter);

/// <summary>Weighed squares of residuals and how many free ones there are, by kind of reading.</summary>
internal readonly record struct ScatterSums(double EcSquares, double EcFree, double PHSquares, double PHFree, double OtherSquares, double OtherFree)
{
    public static ScatterSums operator +(ScatterSums a, ScatterSums b) =>
        new(a.EcSquares + b.EcSquares, a.EcFree + b.EcFree, a.PHSquares + b.PHSquares, a.PHFree + b.PHFree, a.OtherSquares + b.OtherSquares, a.OtherFree + b.OtherFree);
}

/// <summary>What the pots of one medium have in common.</summary>
/// <param name="PotVariances">How much its pots differ, trait by trait.</param>
/// <param name="Evidence">What its pots together say about their mean.</param>
/// <param name="Scatter">How its readings scatter.</param>
/// <param name="FreeReadings">From how many free readings that is known, of the kind read least.</param>
/// <param name="Pots">How many pots with readings it was learned from.</param>
internal sealed record MediumPool(double[] PotVariances, Information Evidence, Scatter Scatter, double FreeReadings, int Pots);

/// <summary>
/// Pots of one medium teach each other, and media do: traits of pots are normal about their medium's mean, media's means normal about a common one, that about
/// the data sheet. Exact for what the pots' readings say (each a quadratic); the pots' own spreads by expectation-maximisation with a weak prior.
/// </summary>
internal sealed class Pool
{
    private const int K = PotTraits.Count;

    // A pot fitted into a wrong valley says by its slopes that its best lies far outside of what the fit may try; believed, it would widen the spread until nothing holds it.
    // No pot is taken to differ by more than the fit goes, nor pots by more than three times what is stated.
    private const double MostSpread = 3;

    // The stated spread of pots counts as so many pots, the stated scatter as so many readings. Weak, so that thirty pots outvote it.
    private const double PriorPots = 6;
    private const double PriorReadings = 30;

    // What the model has wrong for all pots of a medium alike does not average out over them: half of what pots differ by. Pots of the model's own kind would do with less; pots of another (the
    // demo's) were held too rarely with a quarter (docs/science/calibration.md).
    private static readonly double[] s_commonError = Spd.Diagonal([.. PotTraits.PotSd.Select(sd => sd * sd / 4)]);

    private readonly Dictionary<string, MediumPool> _media;

    private Pool(Dictionary<string, MediumPool> media) => _media = media;

    /// <summary>Before any reading: data sheets and stated spreads.</summary>
    public static Pool Empty { get; } = new([]);

    public IReadOnlyDictionary<string, MediumPool> Media => _media;

    public Scatter ScatterOf(string mediumId) => _media.TryGetValue(mediumId, out var medium) ? medium.Scatter : Scatter.AsStated;

    /// <summary>Degrees of freedom of that scatter.</summary>
    public double FreedomOf(string mediumId) => PriorReadings + (_media.TryGetValue(mediumId, out var medium) ? medium.FreeReadings : 0);

    /// <summary>What is known of a pot of a medium before its own readings: from its siblings, other media and the data sheet.</summary>
    /// <param name="mediumId">Its medium.</param>
    /// <param name="without">What the pot itself brought to this pool, to be left out; null for a pot that brought nothing.</param>
    public Belief PriorOf(string mediumId, Information? without = null)
    {
        var variances = VariancesOf(mediumId);
        var mean = MeanOf(mediumId, without?.After(variances));
        return new Belief(mean.Mean, Spd.Sum(Spd.Sum(mean.Covariance, s_commonError), Spd.Diagonal(variances)));
    }

    public double[] VariancesOf(string mediumId) => _media.TryGetValue(mediumId, out var medium) ? medium.PotVariances : Squares(PotTraits.PotSd);

    /// <summary>The mean of a medium's pots.</summary>
    public Belief MeanOf(string mediumId, Information? without = null)
    {
        var common = new Information(Spd.Diagonal(Inverses(Squares(PotTraits.CommonSd))), new double[K]);
        foreach (var (id, medium) in _media)
        {
            common = id == mediumId ? common : common.Plus(medium.Evidence.After(Squares(PotTraits.MediumSd)));
        }

        var prior = common.ToBelief();
        var information = Information.Of(prior with { Covariance = Spd.Sum(prior.Covariance, Spd.Diagonal(Squares(PotTraits.MediumSd))) });
        if (_media.TryGetValue(mediumId, out var own))
        {
            information = information.Plus(own.Evidence);
            information = without is null ? information : information.Minus(without);
        }

        return information.ToBelief();
    }

    /// <summary>Learns from all pots.</summary>
    /// <param name="pots">What each brings.</param>
    /// <param name="iterations">Of expectation-maximisation, from where this pool stands.</param>
    public Pool Learn(IReadOnlyList<PotEvidence> pots, int iterations)
    {
        var pool = this;
        for (var i = 0; i <= iterations; i++)
        {
            var media = new Dictionary<string, MediumPool>();
            foreach (var group in pots.GroupBy(pot => pot.MediumId))
            {
                var members = group.ToList();
                var variances = i == 0 ? pool.VariancesOf(group.Key) : pool.Maximise(group.Key, members);
                var evidence = members.Aggregate(Information.None(K), (sum, pot) => sum.Plus(pot.Information.After(variances)));
                var scatter = members.Aggregate(default(ScatterSums), (sum, pot) => sum + pot.Scatter);
                media[group.Key] = new MediumPool(variances, evidence, ScatterOf(scatter), Math.Max(0, Math.Min(scatter.EcFree, Math.Min(scatter.PHFree, scatter.OtherFree))), members.Count);
            }

            pool = new Pool(media);
        }

        return pool;
    }

    /// <summary>The spread of a medium's pots that makes what is believed of them most likely.</summary>
    private double[] Maximise(string mediumId, List<PotEvidence> members)
    {
        var variances = VariancesOf(mediumId);
        var mean = MeanOf(mediumId, null);
        var precision = Spd.Diagonal(Inverses(variances));
        var sums = new double[K];
        foreach (var pot in members)
        {
            var covariance = Spd.Inverse(Spd.Sum(pot.Information.A, precision), K);

            // u = θ - μ: mean P⁻¹b + Cμ and covariance P⁻¹ + C M⁻¹ C', C = P⁻¹D⁻¹ - 1.
            var c = Spd.Product(covariance, precision, K);
            for (var k = 0; k < K; k++)
            {
                c[k * K + k] -= 1;
            }

            var u = Spd.Sum(Spd.Times(covariance, pot.Information.B), Spd.Times(c, mean.Mean));
            for (var k = 0; k < K; k++)
            {
                u[k] = Math.Clamp(u[k], -PotTraits.Bound(k), PotTraits.Bound(k));
                sums[k] += u[k] * u[k] + covariance[k * K + k] + Spd.Quadratic(mean.Covariance, c.AsSpan(k * K, K));
            }
        }

        return [.. sums.Select((sum, k) => Math.Min(Math.Pow(MostSpread * PotTraits.PotSd[k], 2), (sum + PriorPots * PotTraits.PotSd[k] * PotTraits.PotSd[k]) / (members.Count + PriorPots)))];
    }

    private static Scatter ScatterOf(ScatterSums sums)
    {
        static double Factor(double squares, double free) => Math.Sqrt((squares + PriorReadings) / (Math.Max(0, free) + PriorReadings));
        return new Scatter(Factor(sums.EcSquares, sums.EcFree), Factor(sums.PHSquares, sums.PHFree), Factor(sums.OtherSquares, sums.OtherFree));
    }

    private static double[] Squares(double[] values) => [.. values.Select(value => value * value)];

    private static double[] Inverses(double[] values) => [.. values.Select(value => 1 / value)];
}
