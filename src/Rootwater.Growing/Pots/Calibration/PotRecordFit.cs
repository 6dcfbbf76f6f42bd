namespace Rootwater.Growing.Pots.Calibration;

/// <summary>A change found in the readings, as the fit keeps it.</summary>
internal sealed record FoundChange(double Hours, double EarliestHours, double LatestHours, double LogEvidence, Belief Before, Belief After);

/// <summary>The fit of one pot's whole record: the stretch its readings of late lie in, and what earlier ones still say.</summary>
/// <remarks>
/// A record is cut where something changed (known or found) and else every <see cref="StretchDays"/>. Earlier stretches are not run again:
/// what they say is carried on as a quadratic, worth less by what may have changed since.
/// </remarks>
internal sealed class PotRecordFit
{
    private const int K = PotTraits.Count;
    public const double StretchDays = 120;
    private const double HoursPerYear = 24 * 365.25;

    // Odds of 20 to 1 against chance, and about one change in thirty visits to begin with: log(20) + log(30) is 6.4.
    public const double LeastLogGain = 6.4;
    private const double LeastLogEvidence = 3;
    private const int MostChanges = 4;

    // The slopes only know roughly where: fits of both sides decide among so many places, and places down to e^-4 as likely are named as the range.
    private const int PlacesTried = 4;
    private const double StillLikely = 4;

    // A good reading costs 0.53 on average, an outlier about 5.
    private const double BadObjectivePerReading = 0.8;

    private PotRecordFit(PotHistory history, Information carried, StretchFit last, IReadOnlyList<FoundChange> changes, int runs) =>
        (History, Carried, Last, Changes, Runs) = (history, carried, last, changes, runs);

    public PotHistory History { get; }

    /// <summary>What the stretches before the last still say.</summary>
    public Information Carried { get; }

    public StretchFit Last { get; }

    public IReadOnlyList<FoundChange> Changes { get; }

    public int Runs { get; private set; }

    /// <summary>All that this pot's own readings say of it as it is now.</summary>
    public Information Information => Carried.Plus(Last.Information);

    /// <summary>How far traits drift over the last stretch, variances.</summary>
    public double[] DriftInLast() => Drift((Last.Trace.To - Last.Trace.From) / HoursPerYear);

    /// <summary>Fits a record anew.</summary>
    public static PotRecordFit Of(PotHistory history, Belief pool, Scatter scatter, int iterations)
    {
        var readings = history.Readings.OrderBy(reading => reading.Hours).ToList();
        var until = Math.Max(history.UntilHours ?? 0, history.LastReadingHours);
        var cuts = history.KnownChanges.Where(change => change.Hours > 0 && change.Hours < until).OrderBy(change => change.Hours).ToList();
        var (from, start, carried, runs) = (0.0, history.Start, Information.None(K), 0);
        var theta = (double[])pool.Mean.Clone();
        while (true)
        {
            var known = cuts.FirstOrDefault(change => change.Hours > from);
            var to = known?.Hours ?? until;
            if (to - from > 1.5 * StretchDays * 24)
            {
                (to, known) = (from + StretchDays * 24, null);
            }

            var last = to >= until;
            var within = readings.Where(reading => reading.Hours >= from && (last || reading.Hours < to)).ToList();
            var fit = StretchFit.Of(new PotTrace(history, from, start, to, within), With(pool, carried), theta, scatter, iterations);
            fit = Retried(fit, With(pool, carried), scatter, iterations, ref runs);
            if (last)
            {
                return new PotRecordFit(history, carried, fit, [], runs);
            }

            carried = carried.Plus(fit.Information).After(known is null ? Drift((to - from) / HoursPerYear) : known.NewMedium ? Renewed : Squares(PotTraits.ChangeSd));
            start = known?.Start ?? fit.End!;
            (from, theta) = (to, fit.Theta);
        }
    }

    /// <summary>The same record with what was added to it since: the last stretch goes on from where its fit stood.</summary>
    public PotRecordFit WithRecord(PotHistory history, Belief pool, Scatter scatter)
    {
        var trace = Last.Trace;
        var until = Math.Max(history.UntilHours ?? 0, history.LastReadingHours);
        var sameCuts = history.KnownChanges.Count == History.KnownChanges.Count && history.Setup == History.Setup && history.Climate == History.Climate && history.Air.SequenceEqual(History.Air) && history.Start == History.Start;
        if (!sameCuts || until - trace.From > 1.5 * StretchDays * 24)
        {
            return Of(history, pool, scatter, 7).Watched(pool, scatter).Corrected(pool, scatter);
        }

        var within = history.Readings.Where(reading => reading.Hours >= trace.From).OrderBy(reading => reading.Hours).ToList();
        var fit = StretchFit.Of(new PotTrace(history, trace.From, trace.Start, until, within), With(pool, Carried), Last.Theta, scatter, 4, near: true);
        return new PotRecordFit(history, Carried, fit, Changes, fit.Runs).Watched(pool, scatter).Corrected(pool, scatter);
    }

    /// <summary>The last stretch under a new pool. One that fits badly is tried again from where its siblings stand: a pot may have been fitted into the wrong valley.</summary>
    public PotRecordFit Improved(Belief pool, Scatter scatter, int iterations)
    {
        var prior = With(pool, Carried);
        var before = Last.Runs;
        Last.Improve(prior, scatter, iterations);
        var runs = Runs - before;
        var best = Retried(Last, prior, scatter, 7, ref runs);
        Runs = runs;
        return ReferenceEquals(best, Last) ? this : new PotRecordFit(History, Carried, best, Changes, Runs);
    }

    /// <summary>
    /// A stretch that fits badly may lie in the wrong valley: where a plant uses a nutrient up there are two, and from the one every EC looks as if it had gone wrong. It is tried
    /// again from where its siblings stand, and from there with a plant that takes up a sixth; the better is kept.
    /// </summary>
    private static StretchFit Retried(StretchFit fit, Belief prior, Scatter scatter, int iterations, ref int runs)
    {
        var best = fit;
        runs += fit.Runs;
        foreach (var uptake in (ReadOnlySpan<double>)[0, -1.8])
        {
            if (best.Objective < BadObjectivePerReading * best.Readings.Count + K)
            {
                break;
            }

            var start = (double[])prior.Mean.Clone();
            start[(int)PotTrait.Uptake] += uptake;
            var again = StretchFit.Of(fit.Trace, prior, start, scatter, iterations);
            runs += again.Runs;
            best = again.Objective < best.Objective ? again : best;
        }

        return best;
    }

    /// <summary>What the last stretch says beyond Laplace; the last thing done to a fit.</summary>
    public PotRecordFit Corrected(Belief pool, Scatter scatter) => Weighed(Surface(pool), pool, scatter);

    /// <summary>The last stretch about its mode; null without readings.</summary>
    public ResponseSurface? Surface(Belief pool)
    {
        var before = Last.Runs;
        var surface = Last.Surface(With(pool, Carried));
        Runs += Last.Runs - before;
        return surface;
    }

    /// <summary>What the last stretch says beside another pool, without a run.</summary>
    public PotRecordFit Weighed(ResponseSurface? surface, Belief pool, Scatter scatter)
    {
        if (surface is not null)
        {
            Last.Weigh(surface, With(pool, Carried), scatter);
        }

        return this;
    }

    /// <summary>Gives back what only runs need; see <see cref="StretchFit.Rest"/>.</summary>
    public void Rest() => Last.Rest();

    /// <summary>Looks for changes in the last stretch and cuts it there.</summary>
    public PotRecordFit Watched(Belief pool, Scatter scatter)
    {
        var fit = this;
        while (fit.Changes.Count < MostChanges && fit.CutAtChange(pool, scatter) is { } cut)
        {
            fit = cut;
        }

        return fit;
    }

    private PotRecordFit? CutAtChange(Belief pool, Scatter scatter)
    {
        var prior = With(pool, Carried);
        var places = ChangeWatch.Likeliest(Last, prior, scatter);
        if (places.Count == 0 || places[0].LogGain < LeastLogGain)
        {
            return null;
        }

        PotRecordFit? best = null;
        foreach (var place in places.Take(PlacesTried).Where(place => place.LogGain > LeastLogGain / 2))
        {
            var cut = CutAt(place.Hours, places, prior, pool, scatter);
            best = cut.Changes[^1].LogEvidence > (best?.Changes[^1].LogEvidence ?? LeastLogEvidence) ? cut : best;
        }

        return best;
    }

    private PotRecordFit CutAt(double hours, IReadOnlyList<(double Hours, double LogGain)> places, Belief prior, Belief pool, Scatter scatter)
    {
        var trace = Last.Trace;
        var before = StretchFit.Of(new PotTrace(History, trace.From, trace.Start, hours, [.. Last.Readings.Where(reading => reading.Hours < hours)]), prior, Last.Theta, scatter, 6);
        var earlier = Carried.Plus(before.Information);
        var carried = earlier.After(Squares(PotTraits.ChangeSd));
        var after = StretchFit.Of(new PotTrace(History, hours, before.End!, trace.To, [.. Last.Readings.Where(reading => reading.Hours >= hours)]), With(pool, carried), before.Theta, scatter, 6);
        var evidence = Last.MinusLogEvidence(prior) - before.MinusLogEvidence(prior) - after.MinusLogEvidence(With(pool, carried));
        var near = places.Where(place => place.LogGain > places[0].LogGain - StillLikely).Select(place => place.Hours).Append(hours).ToList();
        var change = new FoundChange(hours, near.Min(), near.Max(), evidence, With(pool, earlier), With(pool, carried.Plus(after.Information)));
        return new PotRecordFit(History, carried, after, [.. Changes, change], Runs + before.Runs + after.Runs);
    }

    /// <summary>How the readings of the last stretch scatter, for the pool.</summary>
    public ScatterSums ScatterSums(Belief posterior, Scatter scatter)
    {
        var sums = default(ScatterSums);
        for (var i = 0; i < Last.Readings.Count; i++)
        {
            var row = Last.Jacobian.AsSpan(i * K, K);
            var reading = Last.Readings[i];
            var sigma = Last.Sigma[i] * scatter.Of(reading);
            var weight = Outliers.Weight(Last.Residual(i) / sigma);
            var square = weight * Math.Pow(Last.Residual(i) / Last.Sigma[i], 2);
            var free = 1 - weight * Spd.Quadratic(posterior.Covariance, row) / (sigma * sigma);
            sums += reading.IsEc ? new ScatterSums(square, free, 0, 0, 0, 0) : reading.IsPH ? new ScatterSums(0, 0, square, free, 0, 0) : new ScatterSums(0, 0, 0, 0, square, free);
        }

        return sums;
    }

    public static Belief With(Belief pool, Information own) => Calibration.Information.Of(pool).Plus(own).ToBelief();

    // New medium: base and salt start anew; the plant and its air go on, a little changed.
    private static readonly double[] Renewed = [1e6, 1e6, 1e6, 0.04, 0.16, 1e6, 0.25];

    private static double[] Drift(double years) => [.. PotTraits.DriftPerYear.Select(sd => sd * sd * years)];

    private static double[] Squares(double[] values) => [.. values.Select(value => value * value)];
}
