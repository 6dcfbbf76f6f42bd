using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>One run of the two compartments. Steps in place; made anew for each run, deterministic in its arguments.</summary>
internal sealed class PotRun
{
    /// <summary>Below this a syringe draws nothing: what is read then is the medium's water.</summary>
    private const double LeastReadLitres = 0.002;

    private readonly PotParameters _parameters;
    private readonly PotSetup _setup;
    private PotChemistry _chemistry;
    private WaterLoss _loss;
    private double _microbes, _growth;
    private readonly double _held;
    private readonly double _freshBase;
    private readonly double _acidRoom;
    private readonly double[] _medium;
    private readonly double[] _reservoir;
    private double _mediumLitres;
    private double _reservoirLitres;
    private double _baseHeld;
    private double _saltLeft;
    private RestingBase _rest;
    private double _step = double.NaN;
    private Decay _decay;
    private double _exchangePerStep, _exchangeShare, _saltShare;
    private double _sinceGas;
    private double _ecRatioMedium = double.NaN, _ecRatioReservoir = double.NaN;

    public PotRun(PotParameters parameters, PotSetup setup, PotClimate climate, PotState start)
    {
        _parameters = parameters;
        _setup = setup;
        (_chemistry, _loss, _microbes, _growth) = In(climate);
        _held = setup.HeldLitres;
        _medium = start.Medium.Mol.AsSpan().ToArray();
        _reservoir = start.Reservoir.Mol.AsSpan().ToArray();
        _mediumLitres = start.Medium.Litres;
        _reservoirLitres = start.Reservoir.Litres;
        _freshBase = setup.Medium.BaseMeqPerLitre * setup.MediumLitres * parameters.BaseFactor / 1000;
        _acidRoom = setup.Medium.AcidMeqPerLitre * setup.MediumLitres / 1000;
        _baseHeld = start.BaseHeldMeq * parameters.BaseFactor / 1000;
        _saltLeft = start.SaltLeftMeq * parameters.SaltFactor / 1000;
        Budget = new PotBudgetKeeper(_medium, _reservoir, _mediumLitres + _reservoirLitres);
    }

    private (PotChemistry Chemistry, WaterLoss Loss, double Microbes, double Growth) In(PotClimate climate)
    {
        var loss = WaterLoss.Of(_setup, climate, _parameters);
        var log10PCO2 = climate.Log10PotPCO2Atmospheres + _parameters.Log10PCO2Shift;
        return (
            new PotChemistry(loss.MediumCelsius, log10PCO2, _setup.Medium.RestingPHAt(log10PCO2) + _parameters.RestingPHShift), loss,
            _parameters.PaceByWarmth(climate), _parameters.PaceByWarmthAndLight(climate));
    }

    /// <summary>From now on the pot stands in another air.</summary>
    public void MoveTo(PotClimate climate)
    {
        SettleGas();
        var protons = TraceProtons;
        (_chemistry, _loss, _microbes, _growth) = In(climate);
        TraceProtons = protons;
        _step = double.NaN;
        RenewEcRatios();
    }

    public WaterLoss Loss => _loss;
    public PotBudgetKeeper Budget { get; }
    public double MediumLitres => _mediumLitres;
    public double ReservoirLitres => _reservoirLitres;
    public ReadOnlySpan<double> MediumMol => _medium;
    public ReadOnlySpan<double> ReservoirMol => _reservoir;

    /// <summary>
    /// False leaves the reservoir unsolved, and its carbon dioxide where it was: what the wick brings up settles with the medium's air anyway, so
    /// the root hardly notices. For searches that ask for nothing but the root.
    /// </summary>
    public bool SolvesReservoir { get; init; } = true;

    /// <summary>Nitrogen the roots have taken so far, mol.</summary>
    public double NitrogenTaken { get; private set; }

    public PotState State => new()
    {
        Medium = new PotWater(_mediumLitres, ComponentAmounts.FromSpan(_medium)),
        Reservoir = new PotWater(_reservoirLitres, ComponentAmounts.FromSpan(_reservoir)),
        BaseHeldMeq = _baseHeld * 1000,
        SaltLeftMeq = _saltLeft * 1000,
    };

    /// <summary>The linear form in use of the base at which the medium rests. A run that differs little may lend it to another.</summary>
    public RestingBase Rest
    {
        get => _rest;
        set => _rest = value;
    }

    /// <summary>See <see cref="PotChemistry.TraceProtons"/>.</summary>
    public double[]? TraceProtons
    {
        get => _chemistry.TraceProtons;
        set => _chemistry.TraceProtons = value;
    }

    /// <summary>Where balances solved by one run are kept for others of the same pot; null solves each.</summary>
    public GasBook? Book { get; init; }

    /// <summary>Solves anew for the base at which the medium rests; its linear form holds until the totals have drifted.</summary>
    public void RenewRest()
    {
        if (_mediumLitres <= 0 || (_freshBase <= 0 && _acidRoom <= 0))
        {
            return;
        }

        if (Book is { Writes: false } && Book[GasBook.Page.Rest] is GasBook.RestBalance lent)
        {
            _rest = lent.At(_chemistry.RestingPH);
            return;
        }

        var solution = _chemistry.AtRest(_medium, _mediumLitres);
        _rest = PotChemistry.RestingBaseOf(solution, _medium, _mediumLitres);
        if (Book is { Writes: true })
        {
            Book[GasBook.Page.Rest] = new GasBook.RestBalance(solution, _rest);
        }
    }

    /// <summary>Forgets the EC ratios, so that the next look solves at 25 °C again.</summary>
    public void RenewEcRatios() => _ecRatioMedium = _ecRatioReservoir = double.NaN;

    /// <summary>Goes on for some hours in equal steps no longer than the parameters say.</summary>
    public void Advance(double hours)
    {
        if (hours <= 0)
        {
            return;
        }

        var steps = (int)Math.Ceiling(hours / _parameters.StepHours - 1e-9);
        SetStep(hours / steps / 24);
        for (var i = 0; i < steps; i++)
        {
            Step(_step);
        }

        _sinceGas += hours;
    }

    private void SetStep(double days)
    {
        if (days == _step)
        {
            return;
        }

        _step = days;
        _decay = Decay.Over(days * _microbes, _parameters);
        _exchangePerStep = _setup.Medium.ExchangePerDay * _parameters.ExchangeFactor * days;
        _exchangeShare = Decay.ShareGone(_exchangePerStep);
        _saltShare = Decay.ShareGone(_setup.Medium.SaltPerDay * days);
    }

    private void Step(double days)
    {
        LoseWater(days);
        Mix(days);
        Live(days);
        Give();
    }

    private void Live(double days)
    {
        NitrogenTaken += PotProcesses.TakeUp(_medium, Budget.TakenUp, _mediumLitres, _setup.LeafAreaSquareMetres, _growth, days, _parameters);
        PotProcesses.Transform(_medium, Budget.Transformed, _mediumLitres, _decay, _parameters);
        PotProcesses.Transform(_reservoir, Budget.Transformed, _reservoirLitres, _decay, _parameters);
        PotProcesses.FeedAlgae(_reservoir, Budget.TakenUp, _parameters.AlgaeMeqPerLitreDay * _growth * 1e-3 * _reservoirLitres * days);
    }

    /// <summary>Base and salt out of the medium.</summary>
    private void Give()
    {
        ExchangeBase(_medium, _mediumLitres, _exchangeShare);
        if (_reservoirLitres > 0 && _setup.Medium.GrainsInReservoirShare is > 0 and var grains)
        {
            // First order in the surface of grains per litre of water, so slower than in the medium's films by the ratio of the two.
            var slower = grains / (1 - grains) * _held / _reservoirLitres;
            ExchangeBase(_reservoir, _reservoirLitres, Decay.ShareGone(_exchangePerStep * slower));
        }

        var salt = _saltLeft * _saltShare;
        if (salt > 0)
        {
            PotProcesses.GiveSalt(_medium, Budget.FromMedium, salt, _setup.Medium.Cations);
            _saltLeft -= salt;
        }
    }

    /// <summary>Evaporation and transpiration out of the medium, which slow down below half of its held water; the wick then fills it up from the reservoir.</summary>
    private void LoseWater(double days)
    {
        var residue = _parameters.DryResidueShare;
        var wetness = Math.Clamp((_mediumLitres / _held - residue) / (0.5 - residue), 0, 1);
        var wanted = _loss.LitresPerDay * days;

        // While the reservoir lasts, the medium never dries within a step: the wick follows.
        var lost = Math.Min(wanted * wetness, Math.Max(0, _mediumLitres + _reservoirLitres - residue * _held));
        var evaporated = _loss.LitresPerDay > 0 ? lost * _loss.EvaporationLitresPerDay / _loss.LitresPerDay : 0;
        Budget.EvaporatedLitres += evaporated;
        Budget.TranspiredLitres += lost - evaporated;
        _mediumLitres -= lost;
        if (_reservoirLitres > 0)
        {
            var up = Math.Min(_reservoirLitres, Math.Max(0, _held - _mediumLitres));
            var share = up / _reservoirLitres;
            for (var i = 0; i < _medium.Length; i++)
            {
                var moved = _reservoir[i] * share;
                _medium[i] += moved;
                _reservoir[i] -= moved;
            }

            _mediumLitres += up;
            _reservoirLitres -= up;
            if (_reservoirLitres < 1e-9)
            {
                // The last microlitres go up whole, so that no salt is left in no water.
                _mediumLitres += _reservoirLitres;
                PotProcesses.Add(_medium, _reservoir, 1);
                Array.Clear(_reservoir);
                _reservoirLitres = 0;
            }
        }
    }

    /// <summary>Medium and reservoir trade water; the exact solution of two mixed tanks over the step.</summary>
    private void Mix(double days)
    {
        if (_reservoirLitres <= 0 || _mediumLitres <= 0)
        {
            return;
        }

        // A nearly empty reservoir no longer reaches the medium's foot.
        var flow = _parameters.MixingPerDay * Math.Min(_held, _reservoirLitres);
        var mixed = Decay.ShareGone(flow * (1 / _mediumLitres + 1 / _reservoirLitres) * days);
        var harmonic = _mediumLitres * _reservoirLitres / (_mediumLitres + _reservoirLitres) * mixed;
        for (var i = 0; i < _medium.Length; i++)
        {
            var moved = (_reservoir[i] / _reservoirLitres - _medium[i] / _mediumLitres) * harmonic;
            _medium[i] += moved;
            _reservoir[i] -= moved;
        }
    }

    private void ExchangeBase(double[] mol, double litres, double share)
    {
        if (litres <= 0)
        {
            return;
        }

        var amount = PotChemistry.BaseWanted(_rest, mol, litres) * share;
        if (amount > 0 && _freshBase > 0)
        {
            amount = Math.Min(amount * Math.Min(1, _baseHeld / _freshBase), _baseHeld);
        }
        else if (amount < 0 && _acidRoom > 0)
        {
            var room = Math.Max(0, _freshBase + _acidRoom - _baseHeld);
            amount = -Math.Min(-amount * Math.Min(1, room / _acidRoom), room);
        }
        else
        {
            return;
        }

        _baseHeld -= PotProcesses.GiveBase(mol, Budget.FromMedium, amount, _setup.Medium.Cations);
    }

    /// <summary>Looks at both waters: carbon dioxide is brought on towards balance with the pot air for the hours gone by, then pH and EC are solved.</summary>
    public (WaterLook Medium, WaterLook? Reservoir) Look()
    {
        var medium = Look(_medium, _mediumLitres, GasBook.Page.Medium, ref _ecRatioMedium);
        var reservoir = SolvesReservoir && _reservoirLitres > 0 ? Look(_reservoir, _reservoirLitres, GasBook.Page.Reservoir, ref _ecRatioReservoir) : (WaterLook?)null;
        _sinceGas = 0;
        return (medium, reservoir);
    }

    private WaterLook Look(double[] mol, double litres, GasBook.Page water, ref double ecRatio)
    {
        Chemistry.Equilibrium.Solution? solution = null;
        if (_sinceGas > 0)
        {
            var (balanced, open) = BringGas(mol, litres, water);

            // Off balance by less than 1 % of the free carbon dioxide, the open solution is the answer: 0.005 of pH at most, and one solve saved. Not
            // where runs are compared: there they would differ by which side of that they are on.
            if (Book is null && Math.Abs(balanced - mol[(int)Component.Carbonate]) <= 0.01 * _chemistry.FreeCarbonDioxideMolPerKgWater * litres)
            {
                solution = open;
            }
        }

        solution ??= _chemistry.Closed(mol, litres);
        var ec = solution.ConductivityMicrosiemensPerCm;
        if (double.IsNaN(ecRatio))
        {
            var lent = Book?[water];
            ecRatio = Book is { Writes: false } && lent is { EcRatio: > 0 } ? lent.EcRatio : ec > 0 ? solution.ConductivityAt25MicrosiemensPerCm() / ec : 1;
            if (Book is { Writes: true } && lent is not null)
            {
                lent.EcRatio = ecRatio;
            }
        }

        return new WaterLook(solution.PH, ec * ecRatio);
    }

    /// <summary>Carbon dioxide brought on for the hours gone by: the carbonate a balance would hold, mol, and the balance where it was solved.</summary>
    private (double Balanced, Chemistry.Equilibrium.Solution? Open) BringGas(double[] mol, double litres, GasBook.Page water)
    {
        const int carbonate = (int)Component.Carbonate, hydrogen = (int)Component.Hydrogen;
        double balanced;
        Chemistry.Equilibrium.Solution? open = null;
        if (Book is { Writes: false } && Book[water] is { } lent)
        {
            balanced = lent.CarbonateAt((2 * mol[carbonate] - mol[hydrogen]) / litres, mol[(int)Component.Phosphate] / litres) * litres;
        }
        else
        {
            open = _chemistry.Open(mol, litres);
            balanced = open.TotalsMolPerKgWater[Component.Carbonate] * litres;
            if (Book is { Writes: true })
            {
                Book[water] = new GasBook.Balance(open);
            }
        }

        var perHour = water == GasBook.Page.Medium ? _parameters.MediumGasExchangePerHour : _parameters.ReservoirGasExchangePerHour;
        var gained = (balanced - mol[carbonate]) * Decay.ShareGone(perHour * _sinceGas);
        mol[carbonate] += gained;
        mol[hydrogen] += 2 * gained;
        Budget.FromAir[carbonate] += gained;
        Budget.FromAir[hydrogen] += 2 * gained;
        return (balanced, open);
    }

    /// <summary>
    /// Looks at the reservoir (or, where there is none, the medium) alone, for a fit that has one reading there: half the solves of a whole look. With the
    /// slope of pH against base, pH per mol/L, where it is asked for: how unsure a pH is where nothing buffers.
    /// </summary>
    public (WaterLook Look, double PHPerBase) LookWhereRead(bool inReservoir, bool withSlope)
    {
        inReservoir &= _reservoirLitres > LeastReadLitres;
        var (mol, litres) = inReservoir ? (_reservoir, _reservoirLitres) : (_medium, _mediumLitres);
        var look = inReservoir ? Look(mol, litres, GasBook.Page.Reservoir, ref _ecRatioReservoir) : Look(mol, litres, GasBook.Page.Medium, ref _ecRatioMedium);
        if (!withSlope)
        {
            return (look, 0);
        }

        const double step = 2e-5;
        var shifted = (double[])mol.Clone();
        shifted[(int)Component.Hydrogen] -= step * litres;
        return (look, (_chemistry.Closed(shifted, litres).PH - look.PH) / step);
    }

    /// <summary>Carbon dioxide is brought on for the hours gone by, without a look; before something is done to the pot, since a leach mixes the two waters.</summary>
    public void SettleGas()
    {
        if (_sinceGas > 0 && _mediumLitres > 0)
        {
            BringGas(_medium, _mediumLitres, GasBook.Page.Medium);
        }

        if (_sinceGas > 0 && _reservoirLitres > LeastReadLitres)
        {
            BringGas(_reservoir, _reservoirLitres, GasBook.Page.Reservoir);
        }

        _sinceGas = 0;
    }

    /// <summary>Alkalinity of the medium's water, meq/L.</summary>
    public double MediumAlkalinityMeqPerLitre() => _chemistry.Closed(_medium, _mediumLitres).AlkalinityMeqPerKgWater;

    /// <summary>The hours whose carbon dioxide has been accounted for by now.</summary>
    public void GasIsSettled() => _sinceGas = 0;

    /// <summary>Saturation index of brushite in the medium's water as it stands; null without calcium or phosphate.</summary>
    public double? BrushiteIndex() => _chemistry.Closed(_medium, _mediumLitres).SaturationIndex(Chemistry.Saturation.Mineral.Brushite);

    /// <summary>Does what an event says.</summary>
    public void Do(PotEvent what)
    {
        Budget.AddedLitres += what.Litres;
        PotProcesses.Add(Budget.Added, what.MolPerKgWater.AsSpan(), what.Litres);
        Span<double> poured = stackalloc double[ComponentAmounts.Count];
        PotProcesses.Add(poured, what.MolPerKgWater.AsSpan(), what.Litres);
        var wicking = _setup.Culture == Culture.Wicking;
        if (what.Kind == PotEventKind.TopUp && wicking)
        {
            PotProcesses.Add(_reservoir, poured, 1);
            _reservoirLitres += what.Litres;
            SpillOver();
            return;
        }

        if (what.Kind == PotEventKind.Refill && wicking)
        {
            RunOff(_reservoir, 1, _reservoirLitres);
            _reservoirLitres = 0;
        }

        var through = PourThrough(poured, what.Litres);
        if (!wicking)
        {
            RunOff(poured, 1, through);
        }
        else if (what.Kind == PotEventKind.Refill)
        {
            PotProcesses.Add(_reservoir, poured, 1);
            _reservoirLitres += through;
            SpillOver();
        }
        else
        {
            Rinse(poured, through);
        }
    }

    /// <summary>
    /// Pours through the medium: fills what it has dried out, then displaces its water as a mixed tank does, as far as the water poured
    /// meets it. On return the span holds what runs out below.
    /// </summary>
    /// <returns>Litres that run out below.</returns>
    private double PourThrough(Span<double> poured, double litres)
    {
        var fill = Math.Min(litres, Math.Max(0, _held - _mediumLitres));
        if (litres <= 0)
        {
            return 0;
        }

        var fillShare = fill / litres;
        PotProcesses.Add(_medium, poured, fillShare);
        _mediumLitres += fill;
        var through = litres - fill;
        var displaced = Decay.ShareGone(through * _parameters.PourThroughEfficiency / _mediumLitres);
        for (var i = 0; i < poured.Length; i++)
        {
            var perLitre = poured[i] / litres;
            var washed = _medium[i] * displaced;
            var kept = perLitre * _mediumLitres * displaced;
            _medium[i] += kept - washed;
            poured[i] = perLitre * through + washed - kept;
        }

        return through;
    }

    /// <summary>What runs through a leach rinses the reservoir as a mixed tank that overflows.</summary>
    private void Rinse(Span<double> through, double litres)
    {
        if (litres <= 0)
        {
            return;
        }

        var fill = Math.Min(litres, Math.Max(0, _setup.ReservoirLitres - _reservoirLitres));
        PotProcesses.Add(_reservoir, through, fill / litres);
        _reservoirLitres += fill;
        var rest = litres - fill;
        var displaced = Decay.ShareGone(rest / _setup.ReservoirLitres);
        for (var i = 0; i < through.Length; i++)
        {
            var washed = _reservoir[i] * displaced;
            var kept = through[i] / litres * _reservoirLitres * displaced;
            _reservoir[i] += kept - washed;
            through[i] = through[i] / litres * rest + washed - kept;
        }

        RunOff(through, 1, rest);
    }

    private void SpillOver()
    {
        var over = _reservoirLitres - _setup.ReservoirLitres;
        if (over > 0)
        {
            RunOff(_reservoir, over / _reservoirLitres, over);
            _reservoirLitres = _setup.ReservoirLitres;
        }
    }

    /// <summary>A share of these moles leaves the pot.</summary>
    private void RunOff(Span<double> mol, double share, double litres)
    {
        Budget.RunOffLitres += litres;
        for (var i = 0; i < mol.Length; i++)
        {
            var gone = mol[i] * share;
            Budget.RunOff[i] += gone;
            mol[i] = share == 1 ? 0 : mol[i] - gone;
        }
    }
}

/// <summary>What a look at a water shows.</summary>
internal readonly record struct WaterLook(double PH, double Ec25MicrosiemensPerCm);

/// <summary>Adds up what came and went during a run.</summary>
internal sealed class PotBudgetKeeper(ReadOnlySpan<double> medium, ReadOnlySpan<double> reservoir, double litres)
{
    public readonly double[] Start = Sum(medium, reservoir);
    public readonly double StartLitres = litres;
    public readonly double[] Added = new double[ComponentAmounts.Count];
    public readonly double[] FromMedium = new double[ComponentAmounts.Count];
    public readonly double[] FromAir = new double[ComponentAmounts.Count];
    public readonly double[] Transformed = new double[ComponentAmounts.Count];
    public readonly double[] TakenUp = new double[ComponentAmounts.Count];
    public readonly double[] RunOff = new double[ComponentAmounts.Count];
    public double AddedLitres, EvaporatedLitres, TranspiredLitres, RunOffLitres;

    private static double[] Sum(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var sum = a.ToArray();
        PotProcesses.Add(sum, b, 1);
        return sum;
    }
}
