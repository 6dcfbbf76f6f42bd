namespace Rootwater.Growing.Pots.Calibration;

/// <summary>How much wider or narrower than stated the readings of a medium's pots scatter.</summary>
/// <param name="Ec">Factor on the error of EC.</param>
/// <param name="PH">Factor on the error of pH.</param>
/// <param name="Other">Factor on the error of levels and the rest.</param>
internal readonly record struct Scatter(double Ec, double PH, double Other)
{
    public static Scatter AsStated => new(1, 1, 1);

    public Scatter Times(double factor) => new(Ec * factor, PH * factor, Other * factor);

    public double Of(PotReading reading) => reading.IsEc ? Ec : reading.IsPH ? PH : Other;
}

/// <summary>The traits that explain one stretch of readings best, by damped Gauss-Newton under a normal prior, with what the readings by themselves say about them.</summary>
internal sealed class StretchFit
{
    private const int K = PotTraits.Count;
    private const int MostAttempts = 4;
    private static readonly double[] s_anneals = [4, 2];

    // The model's own error beside the reader's: steps, mixing, what is not modelled. From memory; the scatter factor corrects it.
    private const double ModelEcRelative = 0.005;
    private const double ModelBaseMolPerLitre = 3e-6;
    private const double ModelLevelShare = 0.01;

    private readonly PotTrace _trace;
    private readonly double[] _observed;

    private StretchFit(PotTrace trace)
    {
        _trace = trace;
        var n = trace.Readings.Count;
        (Theta, Predicted, Sigma, Jacobian) = (new double[K], new double[n], new double[n], new double[n * K]);
        CapacityGradient = new double[K];
        _observed = [.. trace.Readings.Select(reading => PotTrace.Scale(reading, reading.Value))];
    }

    public double[] Theta { get; private set; }

    /// <summary>On the fit's scale: EC as its logarithm.</summary>
    public double[] Predicted { get; private set; }

    /// <summary>Error of each reading on that scale, the model's own included, as stated; times the scatter factor it is what the fit weighs with.</summary>
    public double[] Sigma { get; }

    /// <summary>Reading by trait.</summary>
    public double[] Jacobian { get; }

    public PotTrace Trace => _trace;

    public IReadOnlyList<PotReading> Readings => _trace.Readings;

    /// <summary>What the readings say.</summary>
    public Information Information { get; private set; } = Information.None(K);

    /// <summary>What the pot holds at the end of the stretch, as the data sheet counts.</summary>
    public PotState? End { get; private set; }

    /// <summary>How the base left at the end moves with the traits, in shares of the fresh medium's.</summary>
    public double[] CapacityGradient { get; }

    /// <summary>Minus the log posterior, without constants.</summary>
    public double Objective { get; private set; }

    public int Runs => _runs;

    private int _runs;

    private bool _slopesHold;

    // Balances solved where the slopes were taken; runs near by borrow them. Null before the first slopes.
    private Lazy<GasBook>? _book;
    private double[] _slopesAt = [];

    public double Residual(int i) => _observed[i] - Predicted[i];

    public double Observed(int i) => _observed[i];

    /// <param name="trace">What is fitted.</param>
    /// <param name="prior">What is known without these readings.</param>
    /// <param name="start">Traits to start from.</param>
    /// <param name="scatter">Factors on the readings' errors.</param>
    /// <param name="mostIterations">Of Gauss-Newton.</param>
    /// <param name="near">The start is the fit of all but a reading or two: errors are not widened at first.</param>
    public static StretchFit Of(PotTrace trace, Belief prior, double[] start, Scatter scatter, int mostIterations, bool near = false)
    {
        var fit = new StretchFit(trace) { Theta = (double[])start.Clone() };
        fit.Improve(prior, scatter, mostIterations, near ? [] : s_anneals);
        return fit;
    }

    /// <summary>No fit: what these traits say, with slopes and errors.</summary>
    public static StretchFit Probe(PotTrace trace, double[] theta, bool slopes = true)
    {
        var probe = new StretchFit(trace) { Theta = (double[])theta.Clone() };
        Clamp(probe.Theta);
        if (slopes)
        {
            probe.Linearise();
        }
        else
        {
            probe.End = probe.Run(probe.Theta, probe.Predicted);
        }

        return probe;
    }

    /// <summary>Goes on from where the fit stands: a new prior or scatter moves it a little.</summary>
    /// <param name="prior">What is known without these readings.</param>
    /// <param name="scatter">Factors on the readings' errors.</param>
    /// <param name="mostIterations">Of Gauss-Newton, each up to seven runs for the slopes and one or more for the step.</param>
    /// <param name="anneals">Factors on all errors in the first iterations: from far off every reading looks as if it had gone wrong, and then none pulls.</param>
    public void Improve(Belief prior, Scatter scatter, int mostIterations, ReadOnlySpan<double> anneals = default)
    {
        var precision = Spd.Inverse(prior.Covariance, K);
        Clamp(Theta);
        var damping = 0.0;
        for (var iteration = 0; iteration < mostIterations; iteration++)
        {
            var last = iteration >= anneals.Length;
            var wider = last ? scatter : scatter.Times(anneals[iteration]);
            var fresh = !_slopesHold;
            if (fresh)
            {
                Linearise();
            }

            Weigh(wider);
            Objective = Loss(Theta, Predicted, prior.Mean, precision, wider);
            if (Move(prior.Mean, precision, wider, ref damping) is not { } size)
            {
                // Old slopes may be why; with new ones there is nothing better to be had.
                if (fresh && last)
                {
                    break;
                }

                _slopesHold = false;
                continue;
            }

            // A small step leaves the slopes as they are; only a further one is worth seven runs.
            _slopesHold = size < 0.3;
            if (size < 0.1 && last)
            {
                break;
            }
        }

        if (!_slopesHold)
        {
            Linearise();
        }

        Weigh(scatter);
        Objective = Loss(Theta, Predicted, prior.Mean, precision, scatter);
    }

    /// <summary>
    /// Gives back what the runs lend each other, a hundred kilobytes a pot, until the next run: a bench of fits waits while one is run. What it was then is solved again where it was solved, so
    /// that nothing comes out otherwise, for the price of five runs.
    /// </summary>
    public void Rest()
    {
        _trace.Rest();
        if (_book is { IsValueCreated: true })
        {
            _book = new Lazy<GasBook>(() => Solved(_slopesAt, new double[Predicted.Length], new double[Predicted.Length]).Book);
        }
    }

    /// <summary>What the readings should have been about the mode; null where there are none. As many runs as two fits.</summary>
    public ResponseSurface? Surface(Belief prior)
    {
        if (Predicted.Length == 0)
        {
            return null;
        }

        var covariance = Spd.Inverse(Spd.Sum(Information.A, Spd.Inverse(prior.Covariance, K)), K);
        return ResponseSurface.Around(new Belief(Theta, covariance), s_scale, Predicted, theta =>
        {
            Clamp(theta);
            var predicted = (double[])Predicted.Clone();
            if (Enumerable.Range(0, K).Any(k => theta[k] != Theta[k] && _trace.Moves((PotTrait)k)))
            {
                Run(theta, predicted);
            }

            return predicted;
        });
    }

    /// <summary>Replaces what the readings say by what they say beyond Laplace, beside this prior: it is the evidence that makes of the prior a posterior of the true mean and covariance.</summary>
    public void Weigh(ResponseSurface surface, Belief prior, Scatter scatter)
    {
        var precision = Spd.Inverse(prior.Covariance, K);
        var predicted = new double[Predicted.Length];
        var posterior = PosteriorMoments.Of(PotRecordFit.With(prior, Information), theta =>
        {
            surface.Predict(theta, predicted);
            return Loss(theta, predicted, prior.Mean, precision, scatter);
        });
        Information = PosteriorMoments.EvidenceIn(posterior, prior, s_scale);
    }

    private static readonly double[] s_scale = [.. Enumerable.Range(0, K).Select(PotTraits.SheetSd)];

    /// <summary>Minus the log of the evidence by Laplace: what the model with this prior makes of the readings as a whole.</summary>
    public double MinusLogEvidence(Belief prior)
    {
        var precision = Spd.Inverse(prior.Covariance, K);
        return Objective + 0.5 * Spd.LogDeterminant(Spd.Sum(Information.A, precision), K) - 0.5 * Spd.LogDeterminant(precision, K);
    }

    /// <summary>One step of Gauss-Newton, damped until it is one down (Levenberg and Marquardt).</summary>
    /// <returns>Its length in posterior standard deviations; null when none was found.</returns>
    private double? Move(double[] mean, double[] precision, Scatter scatter, ref double damping)
    {
        var curvature = Spd.Sum(Information.A, precision);
        var gradient = Spd.Sum(Spd.Sum(Information.B, Spd.Times(Information.A, Theta), -1), Spd.Times(precision, Spd.Sum(mean, Theta, -1)));
        for (var attempt = 0; attempt < MostAttempts; attempt++)
        {
            var damped = (double[])curvature.Clone();
            for (var k = 0; k < K; k++)
            {
                damped[k * K + k] *= 1 + damping;
            }

            var theta = Spd.Sum(Theta, Spd.Times(Spd.Inverse(damped, K), gradient));
            Clamp(theta);
            var step = Spd.Sum(theta, Theta, -1);
            var predicted = new double[Predicted.Length];
            var end = Run(theta, predicted);
            var loss = Loss(theta, predicted, mean, precision, scatter);
            if (loss < Objective + 1e-6)
            {
                (Theta, Predicted, Objective, End) = (theta, predicted, loss, end);
                damping = damping < 0.05 ? 0 : damping / 5;
                return Math.Sqrt(Spd.Quadratic(curvature, step));
            }

            damping = Math.Max(0.2, damping * 6);
        }

        return null;
    }

    private PotState Run(double[] theta, double[] predicted)
    {
        Interlocked.Increment(ref _runs);
        return _trace.Predict(theta, predicted, book: _book?.Value.Lent());
    }

    private (PotState End, GasBook Book) Solved(double[] theta, double[] predicted, double[] phPerBase)
    {
        Interlocked.Increment(ref _runs);
        var book = new GasBook();
        var end = _trace.Predict(theta, predicted, phPerBase, book);
        book.Writes = false;
        return (end, book);
    }

    /// <summary>Slopes of every reading, and the errors that go with a pH where nothing buffers.</summary>
    private void Linearise()
    {
        var n = Predicted.Length;
        var slopes = new double[n];
        (End, var book) = Solved(Theta, Predicted, slopes);
        (_book, _slopesAt, _slopesHold) = (new Lazy<GasBook>(book), Theta, true);
        for (var i = 0; i < n; i++)
        {
            Sigma[i] = SigmaOf(_trace.Readings[i], Predicted[i], slopes[i]);
        }

        Parallel.For(0, K, k =>
        {
            if (!_trace.Moves((PotTrait)k))
            {
                return;
            }

            // Towards the middle, so that the bounds are kept; a quarter of what pots differ by is far above the solver's grain.
            var h = 0.25 * PotTraits.PotSd[k] * (Theta[k] > 0 ? -1 : 1);
            var theta = (double[])Theta.Clone();
            theta[k] += h;
            var moved = new double[n];
            var end = Run(theta, moved);
            for (var i = 0; i < n; i++)
            {
                Jacobian[i * K + k] = (moved[i] - Predicted[i]) / h;
            }

            CapacityGradient[k] = (CapacityLeft(end) - CapacityLeft(End)) / h;
        });
    }

    /// <summary>Share of the fresh medium's base that a state still holds (the data sheet's counting cancels its factor).</summary>
    public double CapacityLeft(PotState state)
    {
        var fresh = _trace.FreshBaseMeq;
        return fresh > 0 ? state.BaseHeldMeq / fresh : 1;
    }

    private double SigmaOf(PotReading reading, double predicted, double phPerBase)
    {
        // By what is predicted, so that a slipped point does not come with an error to suit.
        var value = reading.IsEc ? Math.Exp(predicted) : reading.Value;
        var reader = reading.Sigma ?? PotReading.UsualSigma(reading.Kind, value, _trace.ReservoirLitres);
        if (reading.IsEc)
        {
            return Math.Sqrt(Math.Pow(reader / Math.Max(1, value), 2) + ModelEcRelative * ModelEcRelative);
        }

        var model = reading.IsPH ? phPerBase * ModelBaseMolPerLitre : reading.Kind == ReadingKind.ReservoirLitres ? ModelLevelShare * _trace.ReservoirLitres : 0;
        return Math.Sqrt(reader * reader + model * model);
    }

    private void Weigh(Scatter scatter)
    {
        var (a, b) = (new double[K * K], new double[K]);
        for (var i = 0; i < Predicted.Length; i++)
        {
            var row = Jacobian.AsSpan(i * K, K);
            var sigma = Sigma[i] * scatter.Of(_trace.Readings[i]);
            var weight = Outliers.Weight(Residual(i) / sigma) / (sigma * sigma);
            var pseudo = Residual(i) + Spd.Dot(row, Theta);
            for (var j = 0; j < K; j++)
            {
                b[j] += weight * row[j] * pseudo;
                for (var k = 0; k < K; k++)
                {
                    a[j * K + k] += weight * row[j] * row[k];
                }
            }
        }

        Information = new Information(a, b);
    }

    private double Loss(double[] theta, double[] predicted, double[] mean, double[] precision, Scatter scatter)
    {
        var loss = 0.5 * Spd.Quadratic(precision, Spd.Sum(theta, mean, -1));
        for (var i = 0; i < predicted.Length; i++)
        {
            loss += Outliers.Loss((_observed[i] - predicted[i]) / (Sigma[i] * scatter.Of(_trace.Readings[i])));
        }

        return loss;
    }

    private static void Clamp(double[] theta)
    {
        for (var k = 0; k < K; k++)
        {
            theta[k] = Math.Clamp(theta[k], -PotTraits.Bound(k), PotTraits.Bound(k));
        }
    }
}
