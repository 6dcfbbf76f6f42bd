namespace Rootwater.Growing.Pots.Calibration;

/// <summary>One stretch of a pot's record run by the simulator: what it says each reading should have been.</summary>
/// <remarks>
/// Base, uptake and water know nothing of carbon dioxide (base counts without it), so the chemistry is solved only where something was read and
/// carbon dioxide is brought on just there and before events. That makes a run about as cheap as its steps.
/// </remarks>
internal sealed class PotTrace
{
    // Longer than the step of a forecast; against the tests' own integrator that is 0.1 of a pen's error.
    private const double LongestStepHours = 2;

    // The medium's resting base drifts by a few per cent in this time.
    private const double RenewRestEveryHours = 30;

    private readonly PotHistory _history;
    private readonly PotState _start;
    private readonly double _from;
    private Moment[]? _moments;

    /// <param name="history">The pot.</param>
    /// <param name="from">Hour at which this stretch begins.</param>
    /// <param name="start">What the pot held then, as the data sheet counts.</param>
    /// <param name="to">Its last hour.</param>
    /// <param name="readings">Those to compare with, in order of time.</param>
    public PotTrace(PotHistory history, double from, PotState start, double to, IReadOnlyList<PotReading> readings)
    {
        (_history, _start, _from, Readings, To) = (history, start, from, readings, to);
    }

    /// <summary>Forgets what the next run finds again.</summary>
    public void Rest() => _moments = null;

    private Moment[] InOrder()
    {
        var moments = new List<Moment>();
        foreach (var group in Readings.Index().GroupBy(pair => pair.Item.Hours))
        {
            moments.Add(new Moment(group.Key, null, [.. group.Select(pair => pair.Index)], false));
        }

        foreach (var what in _history.Events.Where(what => what.Hour >= _from && what.Hour < To))
        {
            moments.Add(new Moment(what.Hour, what, [], true));
        }

        foreach (var spell in _history.Air.Where(spell => spell.FromHours > _from && spell.FromHours < To))
        {
            moments.Add(new Moment(spell.FromHours, null, [], true, spell.Climate));
        }

        for (var at = _from; at < To; at += RenewRestEveryHours)
        {
            moments.Add(new Moment(at, null, [], true));
        }

        // What is read at the hour of an event is read before it: nobody reads a reservoir just refilled.
        return [.. moments.OrderBy(moment => moment.Hours).ThenBy(moment => moment.Event is null ? 0 : 1)];
    }

    public IReadOnlyList<PotReading> Readings { get; }

    public double ReservoirLitres => _history.Setup.ReservoirLitres;

    /// <summary>Base of the fresh medium as the data sheet counts, meq in the pot.</summary>
    public double FreshBaseMeq => _history.Setup.Medium.BaseMeqPerLitre * _history.Setup.MediumLitres;

    /// <summary>Whether a trait changes anything here: no algae grow in the dark, nor where there is no reservoir.</summary>
    public bool Moves(PotTrait trait) => trait != PotTrait.Algae || _history.HasAlgae;

    public double From => _from;

    public PotState Start => _start;

    public double To { get; }

    /// <summary>The reading as the fit compares it: EC as its logarithm, so that an error in per cent is one error.</summary>
    public static double Scale(PotReading reading, double value) => reading.IsEc ? Math.Log(Math.Max(1, value)) : value;

    /// <summary>Runs and predicts.</summary>
    /// <param name="theta">The traits.</param>
    /// <param name="predicted">On the scale of <see cref="Scale"/>, one for each reading.</param>
    /// <param name="phPerBase">Where given: slope of each pH against base, pH per mol/L.</param>
    /// <param name="book">Balances to write down or to borrow; null solves each.</param>
    /// <returns>What the pot holds at the end, as the data sheet counts.</returns>
    public PotState Predict(ReadOnlySpan<double> theta, Span<double> predicted, Span<double> phPerBase = default, GasBook? book = null)
    {
        var parameters = PotTraits.Apply(_history.Parameters, theta) with { StepHours = Math.Max(LongestStepHours, _history.Parameters.StepHours) };
        var run = new PotRun(parameters, _history.Setup, _history.ClimateAt(_from), _start) { Book = book };
        book ??= new GasBook();
        var moments = _moments ??= InOrder();
        var now = _from;
        for (var m = 0; m < moments.Length; m++)
        {
            var moment = moments[m];
            book.Moment = m;
            run.Advance(moment.Hours - now);
            now = moment.Hours;
            if (moment.Event is { } what)
            {
                run.SettleGas();
                run.Do(what);
                run.RenewEcRatios();
            }

            if (moment.Air is { } air)
            {
                run.MoveTo(air);
            }

            if (moment.RenewsRest)
            {
                // Also the carbon dioxide, which comes while base is given and not all at the end.
                run.SettleGas();
                run.RenewRest();
            }

            if (moment.Readings.Length > 0)
            {
                Read(run, moment.Readings, predicted, phPerBase);
            }
        }

        run.Advance(To - now);
        book.Moment = moments.Length;
        run.SettleGas();
        return run.State.AsSheetOf(parameters);
    }

    private void Read(PotRun run, int[] readings, Span<double> predicted, Span<double> phPerBase)
    {
        (WaterLook Look, double PHPerBase)? reservoir = null, medium = null;
        var slopes = phPerBase.Length > 0;
        foreach (var i in readings)
        {
            var reading = Readings[i];
            if (reading.Kind == ReadingKind.ReservoirLitres)
            {
                predicted[i] = run.ReservoirLitres;
                continue;
            }

            if (reading.Kind == ReadingKind.MediumAlkalinity)
            {
                medium ??= run.LookWhereRead(false, slopes);
                predicted[i] = run.MediumAlkalinityMeqPerLitre();
                continue;
            }

            var (look, slope) = reading.Kind is ReadingKind.ReservoirEc or ReadingKind.ReservoirPH
                ? reservoir ??= run.LookWhereRead(true, slopes)
                : medium ??= run.LookWhereRead(false, slopes);
            predicted[i] = reading.IsPH ? look.PH : Scale(reading, look.Ec25MicrosiemensPerCm);
            if (slopes)
            {
                phPerBase[i] = reading.IsPH ? slope : 0;
            }
        }

        // The reservoir's carbon dioxide is slow and is now accounted for; the medium's has settled long before anything can move it.
        run.GasIsSettled();
    }

    private readonly record struct Moment(double Hours, PotEvent? Event, int[] Readings, bool RenewsRest, PotClimate? Air = null);
}
