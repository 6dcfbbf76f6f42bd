using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Rootwater.Growing.Pots.Calibration;

/// <content>What a page asks of a calibration.</content>
public sealed partial class PotCalibration
{
    private const int K = PotTraits.Count;

    /// <summary>Standard deviations of a 90 % interval.</summary>
    private const double Interval = 1.6448536269514722;

    // A trait counts as told when its interval is at most half of what the data sheet left open: what pots of a medium are stated to differ by is 0.50 to 0.64 of that, so that a medium's mean alone does not tell a
    // pot. As told by its own readings when they took at least three tenths off.
    private const double Told = 0.5;
    private const double OwnTold = 0.7;

    /// <summary>What is known of a pot that has readings.</summary>
    /// <exception cref="KeyNotFoundException">It has none: ask <see cref="OfUnread"/>.</exception>
    public FittedPot Of(Guid pot)
    {
        var fit = FitOf(pot) ?? throw new KeyNotFoundException("This pot has no readings.");
        var belief = BeliefOf(pot);
        var medium = fit.History.MediumId;
        var scatter = _pool.ScatterOf(medium);
        var readings = new List<FittedReading>();
        for (var i = 0; i < fit.Last.Readings.Count; i++)
        {
            readings.Add(Judge(fit.Last.Readings[i], fit.Last.Predicted[i] + Spd.Dot(fit.Last.Jacobian.AsSpan(i * K, K), Spd.Sum(belief.Mean, fit.Last.Theta, -1)),
                Spd.Quadratic(belief.Covariance, fit.Last.Jacobian.AsSpan(i * K, K)), fit.Last.Sigma[i] * scatter.Of(fit.Last.Readings[i])));
        }

        var left = fit.Last.CapacityLeft(fit.Last.End!);
        var leftSd = Math.Sqrt(Spd.Quadratic(belief.Covariance, fit.Last.CapacityGradient));
        return Known(fit.History, belief, PriorOf(fit.History), fit.History.Readings.Count, fit.Last.End!, fit.Last.Trace.To,
            new Expected(Math.Max(0, left - Interval * leftSd), left, Math.Min(1 + 1e-9, left + Interval * leftSd)), readings, [.. fit.Changes.Select(change => ToChange(change, fit.History))]);
    }

    /// <summary>A pot with no reading: its siblings' forecast, and it says so.</summary>
    public FittedPot OfUnread(PotHistory pot)
    {
        var prior = _pool.PriorOf(pot.MediumId);
        var until = Math.Max(pot.UntilHours ?? 0, pot.Events.Count == 0 ? 0 : pot.Events.Max(what => what.Hour));
        var end = new PotTrace(pot, 0, pot.Start, until, []).Predict(prior.Mean, []);
        var fresh = pot.Setup.Medium.BaseMeqPerLitre * pot.Setup.MediumLitres;
        var left = fresh > 0 ? end.BaseHeldMeq / fresh : 1;
        return Known(pot, prior, prior, 0, end, until, new Expected(0, left, 1), [], []);
    }

    /// <summary>
    /// What pens and eyes should read at some moments after the last change: middle and 90 % band, the reader's error included. The readings' own values
    /// are not looked at. For the score of forecasts and for readings held back.
    /// </summary>
    /// <param name="pot">The record, with the events up to then.</param>
    /// <param name="asked">When and what.</param>
    public IReadOnlyList<(PotReading Asked, Expected Band)> Forecast(PotHistory pot, IReadOnlyList<PotReading> asked)
    {
        var fit = FitOf(pot.Id);
        var belief = fit is null ? _pool.PriorOf(pot.MediumId) : BeliefOf(pot.Id);
        var (from, start) = fit is null ? (0, pot.Start) : (fit.Last.Trace.From, fit.Last.Trace.Start);
        var moments = asked.Where(reading => reading.Hours >= from).OrderBy(reading => reading.Hours).ToList();
        if (moments.Count == 0)
        {
            return [];
        }

        var scatter = _pool.ScatterOf(pot.MediumId);

        // About the best fit, and on along its slopes to the mean: where rate and rest trade off along a bend, the mean lies beside the bend and a run from there is far off.
        var probe = StretchFit.Probe(new PotTrace(pot, from, start, moments[^1].Hours, moments), fit is null ? belief.Mean : fit.Last.Theta);
        var onward = Spd.Sum(belief.Mean, probe.Theta, -1);
        return [.. moments.Select((reading, i) =>
        {
            var row = probe.Jacobian.AsSpan(i * K, K);
            var sd = Math.Sqrt(Spd.Quadratic(belief.Covariance, row) + Math.Pow(probe.Sigma[i] * scatter.Of(reading), 2));
            return (reading, Unscale(reading, probe.Predicted[i] + Spd.Dot(row, onward), sd));
        })];
    }

    /// <summary>Draws of what a pot may be, for chances; in pairs about the middle.</summary>
    /// <param name="pot">Its record; one without readings is drawn from its siblings.</param>
    /// <param name="count">How many.</param>
    /// <param name="seed">The same seed, the same draws.</param>
    public IReadOnlyList<PotParameters> Draws(PotHistory pot, int count, int seed)
    {
        var belief = FitOf(pot.Id) is null ? _pool.PriorOf(pot.MediumId) : BeliefNow(pot.Id);
        var factor = Spd.Factor(belief.Covariance, K);
        var random = new Random(seed);
        var draws = new List<PotParameters>();
        while (draws.Count < count)
        {
            var normals = new double[K];
            Normal.Samples(random, normals, 0, 1);
            var step = Spd.Times(factor, normals);
            draws.Add(PotTraits.Apply(pot.Parameters, Bounded(Spd.Sum(belief.Mean, step))));
            draws.Add(PotTraits.Apply(pot.Parameters, Bounded(Spd.Sum(belief.Mean, step, -1))));
        }

        return draws.GetRange(0, count);
    }

    private static double[] Bounded(double[] theta) => [.. theta.Select((value, k) => Math.Clamp(value, -PotTraits.Bound(k), PotTraits.Bound(k)))];

    /// <summary>What the pots of a medium have in common; null when none of it has readings.</summary>
    public FittedMedium? OfMedium(string mediumId)
    {
        if (!_pool.Media.TryGetValue(mediumId, out var medium))
        {
            return null;
        }

        var mean = _pool.MeanOf(mediumId);
        return new FittedMedium
        {
            MediumId = mediumId,
            Pots = medium.Pots,
            Traits = [.. Enumerable.Range(0, K).Select(k => new FittedMediumTrait((PotTrait)k, Natural((PotTrait)k, mean.Mean[k], mean.Sd(k)), Natural((PotTrait)k, mean.Mean[k], Math.Sqrt(medium.PotVariances[k]))))],
            EcScatter = medium.Scatter.Ec,
            PHScatter = medium.Scatter.PH,
            LevelScatter = medium.Scatter.Other,
        };
    }

    private FittedPot Known(PotHistory pot, Belief belief, Belief prior, int readings, PotState state, double at, Expected left, List<FittedReading> fit, List<DetectedChange> changes)
    {
        // The errors' size is itself learned, from all pots of the medium: Student's quantile with as many degrees of freedom. What else few readings leave open, the nodes have weighed.
        var quantile = readings == 0 ? Interval : StudentT.InvCDF(0, 1, _pool.FreedomOf(pot.MediumId), 0.95);
        var traits = new FittedTrait[K];
        for (var k = 0; k < K; k++)
        {
            var width = belief.Sd(k) / PotTraits.SheetSd(k);
            var known = width > Told ? Knowledge.Untold : readings > 0 && belief.Sd(k) <= OwnTold * prior.Sd(k) ? Knowledge.Own : Knowledge.Siblings;
            traits[k] = new FittedTrait((PotTrait)k, Natural((PotTrait)k, belief.Mean[k], belief.Sd(k), quantile), Natural((PotTrait)k, prior.Mean[k], prior.Sd(k)), known, width);
        }

        var fitted = new FittedPot
        {
            PotId = pot.Id,
            Readings = readings,
            Siblings = _pool.Media.TryGetValue(pot.MediumId, out var medium) ? medium.Pots : 0,
            Traits = traits,
            Parameters = PotTraits.Apply(pot.Parameters, belief.Mean),
            StateNow = state,
            AtHours = at,
            CapacityLeft = left,
            Fit = fit,
            Changes = changes,
            Spreads = SpreadsOf(readings == 0 ? belief : BeliefNow(pot.Id)),
            Words = [],
        };
        return fitted with { Words = CalibrationWords.Of(fitted, pot.Setup.Medium.Name, pot.HasAlgae) };
    }

    /// <summary>What no reading is asked about and a forecast still depends on; spreads from memory.</summary>
    private static readonly Uncertain[] s_unfitted =
    [
        // The resting pH takes up its mean, not its swings.
        new("carbon dioxide in the pot", p => p with { Log10PCO2Shift = p.Log10PCO2Shift - 0.15 }, p => p with { Log10PCO2Shift = p.Log10PCO2Shift + 0.15 }, "÷1.4 to ×1.4"),
        new("how much of a pour meets the water of the medium", p => p with { PourThroughEfficiency = p.PourThroughEfficiency / 2 }, p => p with { PourThroughEfficiency = Math.Min(1, p.PourThroughEfficiency * 2) }, "half to double, at most all of it"),

        // By what roots leave of base: charge is conserved, so it is nitrate less cations.
        new("cations taken up with nitrogen", p => Cations(p, 1 / 1.2), p => Cations(p, 1.2), "÷1.2 to ×1.2"),
    ];

    private static PotParameters Cations(PotParameters p, double factor) => p with
    {
        PotassiumPerNitrogen = p.PotassiumPerNitrogen * factor,
        CalciumPerNitrogen = p.CalciumPerNitrogen * factor,
        MagnesiumPerNitrogen = p.MagnesiumPerNitrogen * factor,
    };

    /// <summary>The principal axes of the spread: varied one at a time and added in quadrature they are the whole of it, correlations included.</summary>
    private static List<Uncertain> SpreadsOf(Belief belief)
    {
        var axes = Matrix<double>.Build.DenseOfRowMajor(K, K, belief.Covariance).Evd(Symmetricity.Symmetric);
        var spreads = new List<Uncertain>();
        for (var k = 0; k < K; k++)
        {
            var axis = (axes.EigenVectors.Column(k) * Math.Sqrt(Math.Max(0, axes.EigenValues[k].Real))).ToArray();
            spreads.Add(new Uncertain("what the readings leave open", p => PotTraits.Apply(p, axis.Select(x => -x).ToArray()), p => PotTraits.Apply(p, axis), "as fitted"));
        }

        return [.. spreads, .. s_unfitted];
    }

    private static FittedReading Judge(PotReading reading, double predicted, double variance, double sigma)
    {
        var observed = PotTrace.Scale(reading, reading.Value);
        var band = Unscale(reading, predicted, Math.Sqrt(variance + sigma * sigma));
        var errors = (observed - predicted) / sigma;
        return new FittedReading(reading, band, reading.Value >= band.Low && reading.Value <= band.High, Outliers.Chance(errors), Outliers.Weight(errors));
    }

    private static Expected Unscale(PotReading reading, double middle, double sd)
    {
        var (low, high) = (middle - Interval * sd, middle + Interval * sd);
        if (reading.IsEc)
        {
            return new Expected(Math.Exp(low), Math.Exp(middle), Math.Exp(high));
        }

        return reading.Kind == ReadingKind.ReservoirLitres ? new Expected(Math.Max(0, low), middle, high) : new Expected(low, middle, high);
    }

    private static Expected Natural(PotTrait trait, double mean, double sd, double quantile = Interval) => PotTraits.IsFactor(trait)
        ? new Expected(Math.Exp(mean - quantile * sd), Math.Exp(mean), Math.Exp(mean + quantile * sd))
        : new Expected(mean - quantile * sd, mean, mean + quantile * sd);

    private static DetectedChange ToChange(FoundChange change, PotHistory history)
    {
        var moved = Enumerable.Range(0, K)
            .Select(k => (Trait: (PotTrait)k, Errors: (change.After.Mean[k] - change.Before.Mean[k]) / Math.Sqrt(change.Before.Covariance[k * K + k] + change.After.Covariance[k * K + k])))
            .OrderByDescending(pair => Math.Abs(pair.Errors)).ToList();
        var leach = history.Events.Where(what => what.Kind == PotEventKind.Leach).OrderBy(what => Math.Abs(what.Hour - change.Hours)).FirstOrDefault();
        var known = history.KnownChanges.OrderBy(each => Math.Abs(each.Hours - change.Hours)).FirstOrDefault(each => Math.Abs(each.Hours - change.Hours) < 24 * 10)?.What;
        var odds = Math.Exp(Math.Min(30, change.LogEvidence)) / 30;
        return new DetectedChange(change.Hours, change.EarliestHours, change.LatestHours, Math.Min(0.99, odds / (1 + odds)),
            [.. moved.Where(pair => Math.Abs(pair.Errors) > 1).Select(pair => (pair.Trait, Natural(pair.Trait, change.Before.Mean[(int)pair.Trait], change.Before.Sd((int)pair.Trait)), Natural(pair.Trait, change.After.Mean[(int)pair.Trait], change.After.Sd((int)pair.Trait))))],
            CalibrationWords.Explain(moved, leach, change.Hours, known));
    }
}

/// <summary>What the pots of one medium have in common.</summary>
public sealed record FittedMedium
{
    public required string MediumId { get; init; }
    public required int Pots { get; init; }
    public required IReadOnlyList<FittedMediumTrait> Traits { get; init; }

    /// <summary>How much wider than stated EC readings scatter about the fits; above 1.5 the pens, the feeds' strength or the model are worse than said.</summary>
    public required double EcScatter { get; init; }
    public required double PHScatter { get; init; }
    public required double LevelScatter { get; init; }
}

/// <summary>One trait of a medium.</summary>
/// <param name="Trait">Which.</param>
/// <param name="Mean">Mean over its pots with 90 % interval; a factor, or pH above the data sheet.</param>
/// <param name="Pots">Where 90 % of its pots lie.</param>
public sealed record FittedMediumTrait(PotTrait Trait, Expected Mean, Expected Pots);
