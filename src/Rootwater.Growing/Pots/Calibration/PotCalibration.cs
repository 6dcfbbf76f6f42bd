namespace Rootwater.Growing.Pots.Calibration;

/// <summary>How far a first fit has come.</summary>
/// <param name="Share">0 to 1.</param>
/// <param name="Words">What is being done.</param>
public sealed record CalibrationProgress(double Share, string Words);

/// <summary>What all pots' readings have taught: pot by pot, medium by medium. A value; a new reading makes a new one.</summary>
/// <remarks>
/// Traits of a pot are normal about its medium's mean, media about a common mean, that about the data sheet (partial pooling); each pot by damped
/// Gauss-Newton on the simulator itself under what its siblings say, mean and spread of what they say by weighing nodes on a second-order surface of the readings, readings that went wrong weighed down by a
/// mixture. Why so: docs/science/calibration.md.
/// </remarks>
public sealed partial class PotCalibration
{
    private readonly IReadOnlyDictionary<Guid, PotRecordFit> _fits;
    private readonly IReadOnlyList<PotEvidence> _soaks;
    private readonly Pool _pool;

    private PotCalibration(IReadOnlyDictionary<Guid, PotRecordFit> fits, IReadOnlyList<PotEvidence> soaks, Pool pool) => (_fits, _soaks, _pool) = (fits, soaks, pool);

    /// <summary>Nothing read yet: data sheets and stated spreads.</summary>
    public static PotCalibration Empty { get; } = new(new Dictionary<Guid, PotRecordFit>(), [], Pool.Empty);

    /// <summary>The pots that have been fitted.</summary>
    public IEnumerable<Guid> Pots => _fits.Keys;

    internal Pool Pool => _pool;

    internal PotRecordFit? FitOf(Guid pot) => _fits.GetValueOrDefault(pot);

    /// <summary>Fits all pots from the beginning. Two processors take 500 pots with 20,000 readings in about the time docs/benchmarks.md says.</summary>
    /// <param name="pots">Records; those without readings add nothing and are left out.</param>
    /// <param name="soaks">Soak tests of bare medium.</param>
    /// <param name="pooling">False fits each pot by itself against the data sheet; for comparison.</param>
    /// <param name="progress">Told now and then.</param>
    /// <param name="cancellation">Stops it; nothing is kept.</param>
    /// <exception cref="PotInputException">A record that cannot be used; it names the field.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static PotCalibration Fit(IEnumerable<PotHistory> pots, IEnumerable<SoakTest>? soaks = null, bool pooling = true, IProgress<CalibrationProgress>? progress = null, CancellationToken cancellation = default)
    {
        var histories = pots.Where(pot => pot.Readings.Count > 0).ToList();
        var soaked = (soaks ?? []).Select(soak => soak.AsHistory()).Where(soak => soak.Readings.Count > 0).ToList();
        var all = histories.Concat(soaked).ToList();
        all.ForEach(pot => pot.Check());
        var fits = new PotRecordFit[all.Count];
        var evidence = new PotEvidence[all.Count];
        var surfaces = new ResponseSurface?[all.Count];
        var pool = Pool.Empty;
        void Each(double from, double to, string words, Action<int> what)
        {
            var done = 0;
            Parallel.For(0, all.Count, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
            {
                what(i);
                fits[i].Rest();
                var now = Interlocked.Increment(ref done);
                if (progress is not null && (now % 16 == 0 || now == all.Count))
                {
                    progress.Report(new CalibrationProgress(from + (to - from) * now / all.Count, words));
                }
            });
            if (pooling)
            {
                pool = pool.Learn(evidence, all.Count == 0 ? 0 : 10);
            }
        }

        Belief PriorOf(int i) => pool.PriorOf(all[i].MediumId, evidence[i]?.Information);
        Each(0, 0.55, "each pot against the data sheet", i =>
        {
            var prior = Pool.Empty.PriorOf(all[i].MediumId);
            fits[i] = PotRecordFit.Of(all[i], prior, Scatter.AsStated, 7);
            evidence[i] = EvidenceOf(fits[i], prior, Scatter.AsStated);
        });
        for (var round = 0; round < 2 && pooling; round++)
        {
            Each(0.55 + 0.15 * round, 0.7 + 0.15 * round, "each pot beside its siblings", i =>
            {
                var scatter = pool.ScatterOf(all[i].MediumId);
                var prior = PriorOf(i);
                fits[i] = fits[i].Improved(prior, scatter, 3);
                evidence[i] = EvidenceOf(fits[i], prior, scatter);
            });
        }

        Each(0.85, 0.96, "looking for changes", i =>
        {
            var scatter = pool.ScatterOf(all[i].MediumId);
            var prior = PriorOf(i);

            // First to where the last pool puts it: Laplace about a mode of an older pool is Laplace about no mode.
            var settled = pooling ? fits[i].Improved(prior, scatter, 3) : fits[i];
            fits[i] = settled.Watched(prior, scatter);
            surfaces[i] = fits[i].Surface(prior);
            fits[i].Weighed(surfaces[i], prior, scatter);
            evidence[i] = EvidenceOf(fits[i], prior, scatter);
        });

        // What a pot says depends a little on what is believed beside it, and that has moved with what its siblings now say.
        for (var round = 0; round < 2 && pooling; round++)
        {
            Each(0.96 + 0.02 * round, 0.98 + 0.02 * round, "weighing pots against each other", i =>
            {
                var scatter = pool.ScatterOf(all[i].MediumId);
                var prior = PriorOf(i);
                evidence[i] = EvidenceOf(fits[i].Weighed(surfaces[i], prior, scatter), prior, scatter);
            });
        }

        return new PotCalibration(fits.Take(histories.Count).ToDictionary(fit => fit.History.Id), [.. evidence.Skip(histories.Count)], pool);
    }

    /// <summary>With what was added to one pot's record: that pot is fitted again, the pool and with it every sibling moves along.</summary>
    /// <remarks>
    /// The other pots' readings enter by what they said at their last fit, so this costs a few dozen runs of one pot however many there are. Their traits follow the
    /// pool at once (both are combined when asked).
    /// </remarks>
    /// <param name="pot">The record.</param>
    /// <param name="anew">Something long ago was put right or taken back: the whole of the record is fitted, not its last stretch.</param>
    public PotCalibration With(PotHistory pot, bool anew = false)
    {
        pot.Check();
        if (pot.Readings.Count == 0)
        {
            return this;
        }

        var old = FitOf(pot.Id);
        var prior = _pool.PriorOf(pot.MediumId, old is null ? null : old.Information);
        var scatter = _pool.ScatterOf(pot.MediumId);
        var fit = old is null || anew ? PotRecordFit.Of(pot, prior, scatter, 7).Watched(prior, scatter).Corrected(prior, scatter) : old.WithRecord(pot, prior, scatter);
        fit.Rest();
        var fits = new Dictionary<Guid, PotRecordFit>(_fits) { [pot.Id] = fit };
        var evidence = fits.Values.Select(each => EvidenceOf(each, _pool.PriorOf(each.History.MediumId, ReferenceEquals(each, fit) ? old?.Information : each.Information), _pool.ScatterOf(each.History.MediumId)));
        return new PotCalibration(fits, _soaks, _pool.Learn([.. evidence, .. _soaks], 1));
    }

    private static PotEvidence EvidenceOf(PotRecordFit fit, Belief prior, Scatter scatter) =>
        new(fit.History.MediumId, fit.Information, fit.ScatterSums(PotRecordFit.With(prior, fit.Information), scatter));

    /// <summary>What is known of a pot before its own readings.</summary>
    internal Belief PriorOf(PotHistory pot) => _pool.PriorOf(pot.MediumId, FitOf(pot.Id)?.Information);

    /// <summary>
    /// The same of what it will do from now on. A stretch's traits are its mean; what drifts as a random walk is off that mean, at the stretch's end, by a third of the stretch's drift (variance).
    /// </summary>
    internal Belief BeliefNow(Guid pot)
    {
        var belief = BeliefOf(pot);
        return new Belief(belief.Mean, Spd.Sum(belief.Covariance, Spd.Diagonal([.. FitOf(pot)!.DriftInLast().Select(variance => variance / 3)])));
    }

    /// <summary>What is known of it with them.</summary>
    internal Belief BeliefOf(Guid pot) => FitOf(pot) is { } fit ? PotRecordFit.With(PriorOf(fit.History), fit.Information) : throw new KeyNotFoundException("This pot has no readings.");
}
