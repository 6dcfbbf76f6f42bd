namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>What is believed of one source of error.</summary>
/// <param name="Source">Which.</param>
/// <param name="Value">In its unit (a share, pH, meq/L), with 95 % band; above zero is more than stated, or reads too high.</param>
/// <param name="PriorSd">How wrong it might have been before anything was measured.</param>
/// <param name="Cans">In how many cans it had a part.</param>
/// <param name="LastAt">When it last had a part in a can or stood in a standard.</param>
public sealed record Correction(ErrorSource Source, Expected Value, double PriorSd, int Cans, DateTimeOffset LastAt = default)
{
    /// <summary>Told: the band leaves zero out. Only then is it worth correcting for.</summary>
    public bool IsTold => Value.Low > 0 || Value.High < 0;
}

/// <summary>One can's line of the control chart.</summary>
public sealed record CanJudgement
{
    public required Guid CanId { get; init; }
    public required DateTimeOffset MixedAt { get; init; }

    /// <summary>What the pen should have read by the card, every source of error in the 95 % band; µS/cm.</summary>
    public required Expected EcByCard { get; init; }

    /// <summary>The same with what earlier cans and pen calibrations had taught.</summary>
    public required Expected EcAsLearned { get; init; }
    public required double? MeasuredEc { get; init; }
    public required Expected PHByCard { get; init; }
    public required Expected PHAsLearned { get; init; }
    public required double? MeasuredPH { get; init; }

    /// <summary>How far off what was learned, in standard deviations; null where not read. Beyond 2 is a warning, beyond 3 out of control.</summary>
    public required double? EcDeviation { get; init; }
    public required double? PHDeviation { get; init; }

    /// <summary>Moving means of the deviations, weight 0.25 on the latest; beyond ±<see cref="Reconciler.MovingLimit"/> the process has moved, however small each step.</summary>
    public required double EcMoving { get; init; }
    public required double PHMoving { get; init; }
    public bool Warns => Math.Abs(EcDeviation ?? 0) > 2 || Math.Abs(PHDeviation ?? 0) > 2;
    public bool OutOfControl => Math.Abs(EcDeviation ?? 0) > 3 || Math.Abs(PHDeviation ?? 0) > 3 || Math.Abs(EcMoving) > Reconciler.MovingLimit || Math.Abs(PHMoving) > Reconciler.MovingLimit;

    /// <summary>What would explain it, most likely first; empty where nothing needs explaining.</summary>
    public required IReadOnlyList<Explanation> Explanations { get; init; }

    /// <summary>What was known before and is counted in already, the largest effect first.</summary>
    public IReadOnlyList<KnownShare> Known { get; init; } = [];

    /// <summary>The explanations in the order to check them: the most chance for a minute's work first; what cannot be checked but by reading again stands at its place among them.</summary>
    public IReadOnlyList<Explanation> CheckFirst => [.. Explanations.OrderByDescending(each => each.ChancePerMinute)];
}

/// <summary>What a correction that is told already does to one can's expected readings.</summary>
/// <param name="Correction">Which, as believed before this can.</param>
/// <param name="EcShare">What it does to the EC, as a share.</param>
/// <param name="PH">What it does to the pH.</param>
public sealed record KnownShare(Correction Correction, double EcShare, double PH);

/// <summary>Learns from cans and pen calibrations which lots, waters, tools and pens are off.</summary>
/// <remarks>
/// One state of many small errors, each with its prior; every can and every standard is a linear reading of some of them (slopes by the full chemistry), taken in by a
/// Kalman update; between readings each wanders. One can cannot tell a lot from a pen; several cans with other lots, and a pen in its standard, can.
/// What was believed when a can was mixed is what it is judged by, so that the chart is honest. Order matters only by the dates. After a can that is out, every suspect is opened as far
/// as its chance of having jumped makes it uncertain: a jump many spreads wide is then found within a few cans, and a slip of one can closes again with the next.
/// </remarks>
public sealed class Reconciler
{
    /// <summary>Limit of the moving means: 3 standard deviations of a mean with weight 0.25, √(0.25 / 1.75) of one deviation's.</summary>
    public const double MovingLimit = 3 * 0.3779644730092272;

    private const double MovingWeight = 0.25, OutDeviations = 3;
    private const double DaysPerMonth = 30.44;

    // A pen that stood in its standard is beyond suspicion at first and as doubtful as any after a month. From memory.
    private const double PenDays = 30, LeastUnchecked = 0.1;

    private const int ManySources = 48;
    private const double RetireAfterDays = 180;

    // What is said of a can is what a pen could show.
    private const double Noticed = 0.003, NoticedPH = 0.02;

    private readonly ErrorSpreads _spreads;
    private readonly List<ErrorSource> _sources = [];
    private readonly Dictionary<ErrorSource, int> _index = [];
    private readonly List<double> _mean = [];
    private readonly List<double> _wander = [];
    private readonly List<double> _prior = [];
    private readonly List<int> _cans = [];
    private readonly List<DateTimeOffset> _lastAt = [];
    private readonly List<CanJudgement> _judgements = [];
    private readonly Dictionary<ErrorSource, (Correction Last, double Wander)> _retired = [];
    private readonly Dictionary<string, DateTimeOffset> _standardAt = [];
    private double[,] _covariance = new double[0, 0];
    private DateTimeOffset? _now;
    private double _ecMoving, _phMoving;

    private Reconciler(ErrorSpreads spreads) => _spreads = spreads;

    private Reconciler(Reconciler from) : this(from._spreads)
    {
        _sources.AddRange(from._sources);
        _index = new Dictionary<ErrorSource, int>(from._index);
        _mean.AddRange(from._mean);
        _wander.AddRange(from._wander);
        _prior.AddRange(from._prior);
        _cans.AddRange(from._cans);
        _lastAt.AddRange(from._lastAt);
        _judgements.AddRange(from._judgements);
        _retired = new Dictionary<ErrorSource, (Correction, double)>(from._retired);
        _standardAt = new Dictionary<string, DateTimeOffset>(from._standardAt);
        _covariance = (double[,])from._covariance.Clone();
        (_now, _ecMoving, _phMoving) = (from._now, from._ecMoving, from._phMoving);
    }

    /// <summary>The chart, in order of time.</summary>
    public IReadOnlyList<CanJudgement> Cans => _judgements;

    /// <summary>What is believed of every source met so far.</summary>
    public IReadOnlyList<Correction> Corrections => [.. _sources.Select((source, i) => CorrectionOf(i)), .. _retired.Values.Select(each => each.Last)];

    /// <summary>What is believed of one; null when it was never met.</summary>
    public Correction? this[ErrorSourceKind kind, string id] => _index.TryGetValue(new ErrorSource(kind, id, ""), out var i) ? CorrectionOf(i)
        : _retired.TryGetValue(new ErrorSource(kind, id, ""), out var last) ? last.Last : null;

    /// <summary>Goes through a history.</summary>
    /// <param name="cans">Finished cans with what was read in them; in any order.</param>
    /// <param name="calibrations">Pens held into standards.</param>
    /// <param name="spreads">What may be wrong beforehand.</param>
    /// <exception cref="ArgumentException">A record that cannot be used; it names the field.</exception>
    public static Reconciler Of(IEnumerable<CanRecord> cans, IEnumerable<PenCalibration>? calibrations = null, ErrorSpreads? spreads = null)
    {
        return new Reconciler(spreads ?? new ErrorSpreads()).Going(cans, calibrations);
    }

    /// <summary>Goes on with what came later; this one stays as it is.</summary>
    /// <param name="cans">None of them before what was taken in already.</param>
    /// <param name="calibrations">Likewise.</param>
    /// <exception cref="ArgumentException">A record that cannot be used; it names the field.</exception>
    public Reconciler With(IEnumerable<CanRecord> cans, IEnumerable<PenCalibration>? calibrations = null) => new Reconciler(this).Going(cans, calibrations);

    /// <summary>What the pens should read in a can that is not mixed yet, by its doses and by what is believed now. Nothing is learned from it.</summary>
    /// <exception cref="ArgumentException">A record that cannot be used; it names the field.</exception>
    public CanJudgement Expect(CanRecord can) => new Reconciler(this).Going([can with { MeasuredEcMicrosiemensPerCm = null, MeasuredPH = null }], null)._judgements[^1];

    private Reconciler Going(IEnumerable<CanRecord> cans, IEnumerable<PenCalibration>? calibrations)
    {
        var all = cans.Select(can => (At: can.MixedAt, Can: (CanRecord?)can, Pen: (PenCalibration?)null)).Concat((calibrations ?? []).Select(pen => (pen.At, (CanRecord?)null, (PenCalibration?)pen)));
        var adjusted = new List<PenCalibration>();
        foreach (var (at, can, pen) in all.OrderBy(each => each.At))
        {
            // A pen is set once it stood in all its buffers: what was read in each was read before.
            if (adjusted.Count > 0 && (pen is null || pen.PenId != adjusted[0].PenId || at != adjusted[0].At))
            {
                Adjust(adjusted);
            }

            if (can is not null)
            {
                Take(can);
            }
            else
            {
                Take(pen!);
                adjusted.Add(pen!);
            }
        }

        Adjust(adjusted);
        return this;
    }

    private void Take(CanRecord can)
    {
        can.Check();
        Pass(can.MixedAt);
        var sensitivity = new CanSensitivity(can, _spreads, (kind, id) => _index.TryGetValue(new ErrorSource(kind, id, ""), out var i) ? _mean[i] : 0);
        var before = _mean.ToArray();
        var (ec, ph) = (new List<(int Index, double Slope)>(), new List<(int Index, double Slope)>());
        foreach (var effect in sensitivity.Effects)
        {
            var i = IndexOf(effect.Source, effect.PriorSd, effect.WanderSd);
            _cans[i]++;
            _lastAt[i] = can.MixedAt;
            ec.Add((i, effect.LnEc));
            ph.Add((i, effect.PH));
        }

        // What is this can's alone: each dose's measuring, the fill, the reading.
        var (ecOwn, phOwn) = (Square(_spreads.EcReading) + Square(_spreads.EcPenStepMicrosiemensPerCm / Math.Sqrt(12) / Math.Exp(sensitivity.BelievedLnEc)) + Square(_spreads.FillPerCan * sensitivity.FillLnEc), Square(_spreads.PHReading) + Square(_spreads.FillPerCan * sensitivity.FillPH));
        foreach (var dose in can.Doses)
        {
            var shift = sensitivity.OfDose(dose, Math.Min(1, dose.MeasuringErrorGrams / dose.Grams));
            (ecOwn, phOwn) = (ecOwn + Square(shift.LnEc), phOwn + Square(shift.PH));
        }

        double CardSd(Func<Effect, double> slope, double own) => Math.Sqrt(own + sensitivity.Effects.Sum(effect => Square(slope(effect) * effect.PriorSd)));
        var (ecVariance, phVariance) = (Predict(ec, ecOwn).Variance, Predict(ph, phOwn).Variance);
        double Pens(List<(int Index, double Slope)> row) => row.Where(each => _sources[each.Index].Kind is ErrorSourceKind.EcPen or ErrorSourceKind.PHPenOffset or ErrorSourceKind.PHPenSlope).Sum(each => each.Slope * _mean[each.Index]);
        var (lnEc, phExpected) = (sensitivity.BelievedLnEc + Pens(ec), sensitivity.BelievedPH + Pens(ph));
        var ecOff = can.MeasuredEcMicrosiemensPerCm is { } readEc ? Math.Log(readEc) - lnEc : (double?)null;
        var phOff = can.MeasuredPH is { } readPH ? readPH - phExpected : (double?)null;
        var ecDeviation = ecOff / Math.Sqrt(ecVariance);
        var phDeviation = phOff / Math.Sqrt(phVariance);
        _ecMoving = ecDeviation is { } e ? (1 - MovingWeight) * _ecMoving + MovingWeight * e : _ecMoving;
        _phMoving = phDeviation is { } p ? (1 - MovingWeight) * _phMoving + MovingWeight * p : _phMoving;
        var judgement = new CanJudgement
        {
            CanId = can.CanId,
            MixedAt = can.MixedAt,
            EcByCard = Ec(sensitivity.LnEc, CardSd(effect => effect.LnEc, ecOwn)),
            EcAsLearned = Ec(lnEc, Math.Sqrt(ecVariance)),
            MeasuredEc = can.MeasuredEcMicrosiemensPerCm,
            PHByCard = Around(sensitivity.PH, CardSd(effect => effect.PH, phOwn)),
            PHAsLearned = Around(phExpected, Math.Sqrt(phVariance)),
            MeasuredPH = can.MeasuredPH,
            EcDeviation = ecDeviation,
            PHDeviation = phDeviation,
            EcMoving = _ecMoving,
            PHMoving = _phMoving,
            Explanations = [],
            Known =
            [
                .. sensitivity.Effects.Select(effect => new KnownShare(CorrectionOf(_index[effect.Source]), Math.Exp(effect.LnEc * _mean[_index[effect.Source]]) - 1, effect.PH * _mean[_index[effect.Source]]))
                    .Where(known => known.Correction.IsTold && (Math.Abs(known.EcShare) >= Noticed || Math.Abs(known.PH) >= NoticedPH))
                    .OrderByDescending(known => Math.Abs(known.EcShare) / 0.02 + Math.Abs(known.PH) / 0.1),
            ],
        };
        if (judgement.Warns || judgement.OutOfControl)
        {
            var causes = sensitivity.Effects.Select(effect => new KnownCause(effect, CorrectionOf(_index[effect.Source]), Math.Sqrt(_covariance[_index[effect.Source], _index[effect.Source]]), Unchecked(effect.Source, can.MixedAt))).ToList();
            judgement = judgement with { Explanations = Explainer.Explain(can, sensitivity, causes, ecOff, phOff, ecVariance, phVariance, CrossCovariance(ec, ph)) };
        }

        _judgements.Add(judgement);

        var far = Math.Max(Math.Abs(ecDeviation ?? 0), Math.Abs(phDeviation ?? 0)) > OutDeviations;

        // A can that is far out teaches little: its readings are taken with the error that would make them three deviations.
        if (ecOff is { } offEc)
        {
            Update(ec, offEc, Widened(ecOwn, ecVariance, ecDeviation!.Value));
        }

        if (can.MeasuredPH is { } again)
        {
            // The EC has just moved some of what the pH depends on; along the same slopes.
            var variance = Predict(ph, phOwn).Variance;
            var off = again - phExpected - ph.Sum(each => each.Slope * (_mean[each.Index] - (each.Index < before.Length ? before[each.Index] : 0)));
            Update(ph, off, Widened(phOwn, variance, off / Math.Sqrt(variance)));
        }

        // Something has jumped: from here on each suspect is as uncertain as its chance of having done so makes it, so that the next cans can tell which.
        foreach (var suspect in far ? judgement.Explanations : [])
        {
            if (suspect.Source is { } source && _index.TryGetValue(source, out var i))
            {
                _covariance[i, i] += suspect.Chance * Square(Explainer.Jump(source.Kind, _wander[i] > 0.3 * _prior[i]));
            }
        }
    }

    private double Unchecked(ErrorSource source, DateTimeOffset at) =>
        source.Kind is ErrorSourceKind.EcPen or ErrorSourceKind.PHPenOffset or ErrorSourceKind.PHPenSlope && _standardAt.TryGetValue(source.Id, out var stood) ? Math.Clamp((at - stood).TotalDays / PenDays, LeastUnchecked, 1) : 1;

    private void Take(PenCalibration pen)
    {
        Pass(pen.At);
        _standardAt[pen.PenId] = pen.At;
        if (pen.IsEc)
        {
            if (!(pen.StandardAt25 > 0 && pen.Reading > 0))
            {
                throw new ArgumentException($"EC standard: {pen.StandardAt25} read as {pen.Reading} cannot be used; expected both above 0 µS/cm.");
            }

            var i = IndexOf(new ErrorSource(ErrorSourceKind.EcPen, pen.PenId, pen.PenName ?? pen.PenId), _spreads.EcPen, _spreads.EcPen * _spreads.WanderPerMonth(ErrorSourceKind.EcPen, false));
            var rows = new List<(int, double)> { (i, 1) };
            Update(rows, Math.Log(pen.Reading / pen.StandardAt25) - _mean[i], Square(PenStandards.EcRelative));
            _lastAt[i] = pen.At;
            return;
        }

        if (!(pen.StandardAt25 is >= 1 and <= 13 && pen.Reading is >= 1 and <= 13))
        {
            throw new ArgumentException($"buffer: {pen.StandardAt25} read as {pen.Reading} cannot be used; expected both from pH 1 to 13.");
        }

        var standard = PenStandards.BufferPH(pen.StandardAt25, pen.Celsius);
        var offset = IndexOf(new ErrorSource(ErrorSourceKind.PHPenOffset, pen.PenId, pen.PenName ?? pen.PenId), _spreads.PHPenOffset, _spreads.PHPenOffset * _spreads.WanderPerMonth(ErrorSourceKind.PHPenOffset, false));
        var slope = IndexOf(new ErrorSource(ErrorSourceKind.PHPenSlope, pen.PenId, pen.PenName ?? pen.PenId), _spreads.PHPenSlope, _spreads.PHPenSlope * _spreads.WanderPerMonth(ErrorSourceKind.PHPenSlope, false));
        (_lastAt[offset], _lastAt[slope]) = (pen.At, pen.At);
        var ph = new List<(int, double)> { (offset, 1), (slope, standard - 7) };
        Update(ph, pen.Reading - standard - Predict(ph, 0).Mean, Square(PenStandards.PH));
    }

    private void Adjust(List<PenCalibration> standards)
    {
        foreach (var pen in standards.Where(pen => pen.Adjusted))
        {
            var (kind, sd) = pen.IsEc ? (ErrorSourceKind.EcPen, PenStandards.EcRelative)
                : Math.Abs(pen.StandardAt25 - 7) < 1 ? (ErrorSourceKind.PHPenOffset, PenStandards.PH) : (ErrorSourceKind.PHPenSlope, PenStandards.PH / 3);
            Reset(_index[new ErrorSource(kind, pen.PenId, "")], sd);
        }

        standards.Clear();
    }

    // A pen set to its standard reads right there, as far as the standard is right.
    private void Reset(int i, double sd)
    {
        _mean[i] = 0;
        for (var j = 0; j < _sources.Count; j++)
        {
            _covariance[i, j] = _covariance[j, i] = 0;
        }

        _covariance[i, i] = sd * sd;
    }

    private void Pass(DateTimeOffset to)
    {
        var months = _now is { } now ? Math.Max(0, (to - now).TotalDays / DaysPerMonth) : 0;
        _now = to;
        if (_sources.Count > ManySources)
        {
            Retire(to);
        }

        for (var i = 0; i < _sources.Count && months > 0; i++)
        {
            var share = _wander[i] * _wander[i] / (_prior[i] * _prior[i]);
            if (!ComesBack(_sources[i].Kind) || share is not (> 0 and < 1))
            {
                _covariance[i, i] += _wander[i] * _wander[i] * months;
                continue;
            }

            // What wanders about where it belongs: what was known of it fades, and it is never further off than it may be beforehand.
            var stays = Math.Pow(1 - share, months / 2);
            _mean[i] *= stays;
            for (var j = 0; j < _sources.Count; j++)
            {
                _covariance[i, j] *= stays;
                _covariance[j, i] *= stays;
            }

            _covariance[i, i] += (1 - stays * stays) * _prior[i] * _prior[i];
        }
    }

    // A lot that drew water does not dry again, a mark does not move back; pens and waters come and go about what they should be.
    private static bool ComesBack(ErrorSourceKind kind) => kind is ErrorSourceKind.EcPen or ErrorSourceKind.PHPenOffset or ErrorSourceKind.PHPenSlope or ErrorSourceKind.WaterStrength or ErrorSourceKind.WaterAlkalinity;

    // Lots that have long been empty would make every can dearer: what was last known of them is kept, how it hangs together with the rest is let go.
    private void Retire(DateTimeOffset now)
    {
        var stay = Enumerable.Range(0, _sources.Count).Where(i => (now - _lastAt[i]).TotalDays < RetireAfterDays || !IsOfALot(_sources[i])).ToList();
        if (stay.Count == _sources.Count)
        {
            return;
        }

        foreach (var i in Enumerable.Range(0, _sources.Count).Except(stay))
        {
            _retired[_sources[i]] = (CorrectionOf(i), _wander[i]);
        }

        var smaller = new double[stay.Count, stay.Count];
        for (var i = 0; i < stay.Count; i++)
        {
            for (var j = 0; j < stay.Count; j++)
            {
                smaller[i, j] = _covariance[stay[i], stay[j]];
            }
        }

        _covariance = smaller;
        Keep(_sources, stay);
        Keep(_mean, stay);
        Keep(_wander, stay);
        Keep(_prior, stay);
        Keep(_cans, stay);
        Keep(_lastAt, stay);
        _index.Clear();
        for (var i = 0; i < _sources.Count; i++)
        {
            _index[_sources[i]] = i;
        }

        static void Keep<T>(List<T> list, List<int> stay)
        {
            T[] kept = [.. stay.Select(i => list[i])];
            list.Clear();
            list.AddRange(kept);
        }
    }

    private static bool IsOfALot(ErrorSource source) => source.Kind is ErrorSourceKind.LotStrength or ErrorSourceKind.LotAcidity;

    private int IndexOf(ErrorSource source, double priorSd, double wanderSd)
    {
        if (_index.TryGetValue(source, out var known))
        {
            return known;
        }

        var n = _sources.Count;
        var larger = new double[n + 1, n + 1];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++)
            {
                larger[i, j] = _covariance[i, j];
            }
        }

        larger[n, n] = priorSd * priorSd;
        _covariance = larger;
        _sources.Add(source);
        _index[source] = n;
        _wander.Add(wanderSd);
        _prior.Add(priorSd);
        _lastAt.Add(_now ?? default);
        if (_retired.Remove(source, out var again))
        {
            var (was, wander) = again;
            larger[n, n] = Square((was.Value.High - was.Value.Low) / 2 / 1.96) + wander * wander * Math.Max(0, ((_now ?? was.LastAt) - was.LastAt).TotalDays / DaysPerMonth);
            _mean.Add(was.Value.Value);
            _cans.Add(was.Cans);
        }
        else
        {
            _mean.Add(0);
            _cans.Add(0);
        }

        return n;
    }

    private (double Mean, double Variance) Predict(List<(int Index, double Slope)> row, double own)
    {
        var (mean, variance) = (0.0, own);
        foreach (var (i, a) in row)
        {
            mean += a * _mean[i];
            foreach (var (j, b) in row)
            {
                variance += a * b * _covariance[i, j];
            }
        }

        return (mean, variance);
    }

    private double CrossCovariance(List<(int Index, double Slope)> one, List<(int Index, double Slope)> other) =>
        one.Sum(a => other.Sum(b => a.Slope * b.Slope * _covariance[a.Index, b.Index]));

    private void Update(List<(int Index, double Slope)> row, double off, double own)
    {
        var n = _sources.Count;
        var toward = new double[n];
        foreach (var (j, slope) in row)
        {
            for (var i = 0; i < n; i++)
            {
                toward[i] += _covariance[i, j] * slope;
            }
        }

        var variance = own + row.Sum(each => each.Slope * toward[each.Index]);
        for (var i = 0; i < n; i++)
        {
            _mean[i] += toward[i] / variance * off;
            for (var j = 0; j < n; j++)
            {
                _covariance[i, j] -= toward[i] * toward[j] / variance;
            }
        }
    }

    private Correction CorrectionOf(int i) => new(_sources[i], Around(_mean[i], Math.Sqrt(_covariance[i, i])), _prior[i], _cans[i], _lastAt[i]);

    private static double Widened(double own, double variance, double deviation) => Math.Abs(deviation) <= 3 ? own : own + variance * (Square(deviation / 3) - 1);

    private static Expected Ec(double ln, double sd) => new(Math.Exp(ln - 1.96 * sd), Math.Exp(ln), Math.Exp(ln + 1.96 * sd));

    private static Expected Around(double middle, double sd) => new(middle - 1.96 * sd, middle, middle + 1.96 * sd);

    private static double Square(double value) => value * value;
}
