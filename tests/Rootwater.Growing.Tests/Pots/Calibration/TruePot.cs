using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>What a simulated pot really is.</summary>
internal sealed record Truth
{
    /// <summary>In the order of the fit's traits: ln base rate, resting pH, ln capacity, ln water loss, ln uptake, ln salt, ln algae.</summary>
    public required double[] Theta { get; init; }

    /// <summary>When set, the traits from this hour on.</summary>
    public double? ChangesAtHours { get; init; }
    public double[]? ThetaAfter { get; init; }

    /// <summary>The richer pot: a salty top layer, weather from day to day, rates that follow the temperature, its own carbon dioxide, feeds not quite as written.</summary>
    public bool Richer { get; init; }

    /// <summary>Algae in the reservoir, which the fit looks for.</summary>
    public bool InTheLight { get; init; }

    /// <summary>What the fit begins with.</summary>
    public PotParameters Parameters => InTheLight ? PotParameters.Default with { AlgaeMeqPerLitreDay = PotParameters.UsualAlgaeMeqPerLitreDay } : PotParameters.Default;
    public int Seed { get; init; }
}

/// <summary>
/// A pot's differential equations as docs/science/pots.md states them, integrated by classical Runge-Kutta in steps of an hour: another scheme and other code than
/// the simulator's split steps, so that the fit is not tested on itself. Only the equilibrium chemistry is shared.
/// </summary>
internal sealed class TruePot
{
    private static readonly Component[] s_ions =
    [
        Component.Hydrogen, Component.Sodium, Component.Potassium, Component.Calcium, Component.Magnesium, Component.Ammonium, Component.Nitrate,
        Component.Chloride, Component.Sulfate, Component.Phosphate, Component.Carbonate,
    ];

    private const int H = 0, Na = 1, K = 2, Ca = 3, Mg = 4, Nh4 = 5, No3 = 6, Cl = 7, So4 = 8, Po4 = 9, Co3 = 10, Ions = 11;
    private static readonly double[] s_charge = [.. s_ions.Select(ion => (double)ion.Charge())];

    // Layout of the state: ions of medium, reservoir and top layer, their litres, base held and salt left (eq).
    private const int Medium = 0, Reservoir = Ions, Top = 2 * Ions, Litres = 3 * Ions, Base = Litres + 3, Salt = Base + 1, Size = Salt + 1;

    private readonly PotSetup _setup;
    private readonly PotClimate _climate;
    private readonly Truth _truth;
    private readonly Random _random;
    private readonly double _held, _topLitres;
    private readonly double[] _state = new double[Size];
    private double[] _theta;
    private double _celsius, _log10PCO2, _evaporation, _transpiration, _weather = 1, _warmth = 1, _logWeather;
    private double _restConstant, _restPhosphate, _restAmmonium, _freshBase, _acidRoom;

    public TruePot(PotSetup setup, PotClimate climate, Truth truth, ComponentAmounts feed)
    {
        (_setup, _climate, _truth, _theta, _random) = (setup, climate, truth, truth.Theta, new Random(truth.Seed));
        _held = setup.MediumLitres * setup.Medium.WaterHeldLitresPerLitre;
        _topLitres = truth.Richer ? 0.15 * _held : 0;
        _log10PCO2 = climate.Log10PotPCO2Atmospheres + (truth.Richer ? 0.15 * Normal() : 0);
        Take();
        Fill(Medium, feed, _held - _topLitres);
        Fill(Reservoir, feed, setup.ReservoirLitres);
        Fill(Top, feed, _topLitres);
        (_state[Litres], _state[Litres + 1], _state[Litres + 2]) = (_held - _topLitres, setup.ReservoirLitres, _topLitres);
        _state[Base] = _freshBase;
        _state[Salt] = setup.Medium.SaltMeqPerLitre * setup.MediumLitres * Math.Exp(_theta[5]) / 1000;
    }

    public double ReservoirLitres => _state[Litres + 1];

    public double Hours { get; private set; }

    public double BaseLeftShare => _state[Base] / _freshBase;

    private double MediumLitres => _state[Litres];

    private void Take()
    {
        var loss = WaterLoss.Of(_setup, _climate, PotParameters.Default);
        (_celsius, _evaporation, _transpiration) = (loss.MediumCelsius, loss.EvaporationLitresPerDay * Math.Exp(_theta[3]), loss.TranspirationLitresPerDay * Math.Exp(_theta[3]));
        var left = _freshBase > 0 ? _state[Base] / _freshBase : 1;
        _freshBase = _setup.Medium.BaseMeqPerLitre * _setup.MediumLitres * Math.Exp(_theta[2]) / 1000;
        _state[Base] = left * _freshBase;
        _acidRoom = _setup.Medium.AcidMeqPerLitre * _setup.MediumLitres / 1000;
    }

    private void Fill(int at, ComponentAmounts feed, double litres)
    {
        for (var i = 0; i < Ions; i++)
        {
            _state[at + i] = feed[s_ions[i]] * litres;
        }
    }

    public void GoTo(double hours)
    {
        while (Hours < hours - 1e-9)
        {
            if (_truth.ChangesAtHours is { } change && Hours >= change && !ReferenceEquals(_theta, _truth.ThetaAfter))
            {
                _theta = _truth.ThetaAfter!;
                Take();
            }

            if (_truth.Richer && Hours % 24 < 1e-9)
            {
                _logWeather = 0.7 * _logWeather + 0.15 * Normal();
                _weather = Math.Exp(_logWeather);
                _warmth = Math.Pow(2, 2 * Normal() / 10);
            }

            if (Hours % 12 < 1e-9)
            {
                Rest();
            }

            var step = Math.Min(1, hours - Hours);
            step = Math.Min(step, Math.Floor(Hours + 1e-9) + 1 - Hours);
            RungeKutta(step / 24);
            Hours += step;
            Gas(Reservoir, 1, 0.05, step);
            Gas(Medium, 0, 1, step);
        }
    }

    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    private ComponentAmounts Totals(int at, int water) => ComponentAmounts.From(s_ions.Select((ion, i) => (ion, PerLitre(at + i, water, ion))));

    private double PerLitre(int i, int water, Component ion)
    {
        var perLitre = _state[i] / _state[Litres + water];
        return ion != Component.Hydrogen && perLitre < 1e-12 ? 0 : perLitre;
    }

    private double _gasMedium, _gasReservoir;

    // Relaxation towards the open balance, every six hours with the exact exponential; between, nothing else depends on carbon dioxide.
    private void Gas(int at, int water, double perHour, double hours, bool now = false)
    {
        ref var since = ref at == Medium ? ref _gasMedium : ref _gasReservoir;
        since += hours;
        if ((since < 6 && !now) || since <= 0 || _state[Litres + water] < 0.002)
        {
            return;
        }

        var open = EquilibriumSolver.Solve(Totals(at, water), new SolveConditions { Temperature = Temperature.FromCelsius(_celsius), Air = Air.Open(_log10PCO2) }).Required();
        var gained = (open.TotalsMolPerKgWater[Component.Carbonate] * _state[Litres + water] - _state[at + Co3]) * (1 - Math.Exp(-perHour * since));
        _state[at + Co3] += gained;
        _state[at + H] += 2 * gained;
        since = 0;
    }

    private void Rest()
    {
        var resting = _setup.Medium.RestingPHAt(_log10PCO2) + _theta[1];
        var solution = EquilibriumSolver.Solve(Totals(Medium, 0), new SolveConditions { Temperature = Temperature.FromCelsius(_celsius), Air = Air.Open(_log10PCO2), FixedPH = resting }).Required();
        var (phosphate, ammonium) = (_state[Medium + Po4] / MediumLitres, _state[Medium + Nh4] / MediumLitres);
        _restPhosphate = phosphate > 1e-12 ? solution.ProtonsPerMole(Component.Phosphate) : 0;
        _restAmmonium = ammonium > 1e-12 ? solution.ProtonsPerMole(Component.Ammonium) : 0;
        _restConstant = 2 * solution.TotalsMolPerKgWater[Component.Carbonate] - solution.HydrogenMolPerKgWater + _restPhosphate * phosphate + _restAmmonium * ammonium;
    }

    private void RungeKutta(double days)
    {
        Span<double> k1 = stackalloc double[Size], k2 = stackalloc double[Size], k3 = stackalloc double[Size], k4 = stackalloc double[Size], at = stackalloc double[Size];
        Slopes(_state, k1);
        Move(at, k1, days / 2);
        Slopes(at, k2);
        Move(at, k2, days / 2);
        Slopes(at, k3);
        Move(at, k3, days);
        Slopes(at, k4);
        for (var i = 0; i < Size; i++)
        {
            _state[i] += days / 6 * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]);
        }

        for (var i = 0; i < Litres; i++)
        {
            if (i % Ions != H && _state[i] < 0)
            {
                // A nutrient used up within a step: what was taken too much is given back with its charge.
                _state[i / Ions * Ions + H] += _state[i] * s_charge[i % Ions];
                _state[i] = 0;
            }
        }
    }

    private void Move(Span<double> to, ReadOnlySpan<double> slope, double days)
    {
        for (var i = 0; i < Size; i++)
        {
            to[i] = _state[i] + slope[i] * days;
        }
    }

    private void Slopes(ReadOnlySpan<double> s, Span<double> d)
    {
        d.Clear();
        var parameters = PotParameters.Default;
        var (vm, vr) = (s[Litres], s[Litres + 1]);
        var residue = parameters.DryResidueShare;

        // By the water below the top layer, which keeps its own: counted together, the top's alone is the residue, and below all of it would go.
        var wet = Math.Clamp((vm / (_held - _topLitres) - residue) / (0.5 - residue), 0, 1) * _weather;
        var (evaporates, transpires) = (_evaporation * wet, _transpiration * wet);
        var lost = evaporates + transpires;

        // The wick follows the loss, and fills up what has dried within the hour.
        var room = _held - _topLitres - vm;
        var up = vr > 1e-6 ? lost + Math.Max(0, room) * 24 : 0;
        var last = vr > 1e-6 ? Math.Min(1, vr / (0.002 * _setup.ReservoirLitres + 1e-9)) : 0;
        up *= last;
        d[Litres + 1] -= up;
        d[Litres] += up - lost;
        for (var i = 0; i < Ions; i++)
        {
            var flow = vr > 1e-6 ? s[Reservoir + i] / vr * up : 0;
            d[Reservoir + i] -= flow;
            d[Medium + i] += flow;
        }

        if (_topLitres > 0)
        {
            // Water evaporates from the top layer and is drawn up from below with its salts, which wander back slowly.
            for (var i = 0; i < Ions; i++)
            {
                var rises = s[Medium + i] / vm * evaporates - 0.8 * _topLitres * (s[Top + i] / _topLitres - s[Medium + i] / vm);
                d[Medium + i] -= rises;
                d[Top + i] += rises;
            }
        }

        if (vr > 1e-6)
        {
            var flow = parameters.MixingPerDay * Math.Min(_held, vr);
            for (var i = 0; i < Ions; i++)
            {
                var moved = flow * (s[Reservoir + i] / vr - s[Medium + i] / vm);
                d[Medium + i] += moved;
                d[Reservoir + i] -= moved;
            }
        }

        Uptake(s, d, parameters);
        Nitrify(s, d, Medium, vm);
        var rate = _setup.Medium.ExchangePerDay * Math.Exp(_theta[0]) * (_truth.Richer ? _warmth : 1);
        GiveBase(s, d, Medium, vm, rate);
        if (vr > 0.001)
        {
            if (_truth.InTheLight && s[Reservoir + No3] > 0)
            {
                var eaten = _truth.Parameters.AlgaeMeqPerLitreDay * Math.Exp(_theta[6]) / 1000 * vr * Microbes * _climate.LightHoursPerDay / 12;
                d[Reservoir + No3] -= eaten;
                d[Reservoir + H] -= eaten;
            }

            Nitrify(s, d, Reservoir, vr);
            var grains = _setup.Medium.GrainsInReservoirShare;
            GiveBase(s, d, Reservoir, vr, rate * grains / (1 - grains) * _held / vr);
        }

        var salt = s[Salt] * _setup.Medium.SaltPerDay;
        d[Salt] -= salt;
        GiveCations(d, Medium, salt);
        d[Medium + Cl] += salt / 2;
        d[Medium + So4] += salt / 4;
    }

    private void Uptake(ReadOnlySpan<double> s, Span<double> d, PotParameters p)
    {
        var litres = s[Litres];
        var most = p.MostNitrogenMgPerM2Day * 1e-3 / 14.007 * _setup.LeafAreaSquareMetres * Math.Exp(_theta[4]) * Microbes * _climate.LightHoursPerDay / 12 * (_truth.Richer ? _warmth : 1);
        var acid = Math.Max(0, s[H] - 2 * s[Co3] - 2 * s[Po4]) / litres;
        var cations = 1 / (1 + acid / p.CationHalfAcidityMolPerLitre);
        double Saturates(double mol, double half) => mol <= 0 ? 0 : mol / litres / (mol / litres + half);
        var (nh4, no3) = (Math.Max(0, s[Nh4]), Math.Max(0, s[No3]));
        var weighed = p.AmmoniumPreference * cations * nh4 + no3;
        var charge = 0.0;
        void Takes(int ion, double amount, Span<double> to)
        {
            to[Medium + ion] -= amount;
            charge += amount * s_charge[ion];
        }

        if (weighed > 0)
        {
            var nitrogen = most * weighed / (p.AmmoniumPreference * nh4 + no3) * Saturates(nh4 + no3, p.HalfUptakeMolPerLitre);
            Takes(Nh4, nitrogen * p.AmmoniumPreference * cations * nh4 / weighed, d);
            Takes(No3, nitrogen * no3 / weighed, d);
        }

        Takes(K, most * cations * p.PotassiumPerNitrogen * Saturates(s[K], p.HalfUptakeMolPerLitre), d);
        Takes(Ca, most * cations * p.CalciumPerNitrogen * Saturates(s[Ca], p.HalfUptakeMolPerLitre), d);
        Takes(Mg, most * cations * p.MagnesiumPerNitrogen * Saturates(s[Mg], p.HalfUptakeMolPerLitre), d);
        Takes(Po4, most * p.PhosphorusPerNitrogen * Saturates(s[Po4], p.HalfPhosphateUptakeMolPerLitre), d);
        Takes(So4, most * p.SulfurPerNitrogen * Saturates(s[So4], p.HalfUptakeMolPerLitre), d);
        d[Medium + H] += charge;
    }

    // What lives goes twice as fast for 10 °C more; stated at 21 °C.
    private double Microbes => Math.Pow(2, (_climate.AirTemperatureCelsius - 21) / 10);

    private void Nitrify(ReadOnlySpan<double> s, Span<double> d, int at, double litres)
    {
        var acid = Math.Max(0, s[at + H] - 2 * s[at + Co3] - 2 * s[at + Po4]) / litres;
        var made = Math.Max(0, s[at + Nh4]) * PotParameters.Default.NitrificationPerDay * Microbes / (1 + acid / PotParameters.Default.NitrificationHalfAcidityMolPerLitre);
        d[at + Nh4] -= made;
        d[at + No3] += made;
        d[at + H] += 2 * made;
    }

    private void GiveBase(ReadOnlySpan<double> s, Span<double> d, int at, double litres, double rate)
    {
        var wanted = _restConstant * litres - _restPhosphate * s[at + Po4] - _restAmmonium * s[at + Nh4] - (2 * s[at + Co3] - s[at + H]);
        var amount = rate * wanted;
        if (amount > 0)
        {
            amount *= Math.Clamp(s[Base] / _freshBase, 0, 1);
            GiveCations(d, at, amount);
        }
        else
        {
            var room = _freshBase + _acidRoom - s[Base];
            amount *= Math.Clamp(room / _acidRoom, 0, 1);
            var cations = 2 * s[at + Ca] + 2 * s[at + Mg] + s[at + K] + s[at + Na];
            if (cations <= 0)
            {
                return;
            }

            foreach (var ion in (ReadOnlySpan<int>)[Ca, Mg, K, Na])
            {
                d[at + ion] += amount / cations * s[at + ion];
            }
        }

        d[at + H] -= amount;
        d[Base] -= amount;
    }

    private void GiveCations(Span<double> d, int at, double charge)
    {
        var shares = _setup.Medium.Cations;
        d[at + Ca] += charge * shares.Calcium / 2;
        d[at + Mg] += charge * shares.Magnesium / 2;
        d[at + K] += charge * shares.Potassium;
        d[at + Na] += charge * shares.Sodium;
    }

    /// <summary>An event, as the page says: a refill empties the reservoir, pours through and fills it; a leach displaces, then rinses.</summary>
    public void Do(PotEvent what)
    {
        Gas(Reservoir, 1, 0.05, 0, true);
        Span<double> poured = stackalloc double[Ions];
        var strength = _truth.Richer && what.Kind != PotEventKind.Leach ? 1 + 0.03 * Normal() : 1;
        for (var i = 0; i < Ions; i++)
        {
            poured[i] = what.MolPerKgWater[s_ions[i]] * what.Litres * strength;
        }

        if (what.Kind == PotEventKind.TopUp)
        {
            Reach(poured, what.Litres, Math.Max(0, _setup.ReservoirLitres - ReservoirLitres), mixed: true);
            return;
        }

        if (what.Kind == PotEventKind.Refill)
        {
            _state.AsSpan(Reservoir, Ions).Clear();
            _state[Litres + 1] = 0;
        }

        var fill = Math.Min(what.Litres, Math.Max(0, _held - _topLitres - MediumLitres));
        _state[Litres] += fill;
        var through = what.Litres - fill;
        var displaced = 1 - Math.Exp(-through * PotParameters.Default.PourThroughEfficiency / (MediumLitres + _topLitres));
        for (var i = 0; i < Ions; i++)
        {
            var perLitre = poured[i] / what.Litres;
            _state[Medium + i] += poured[i] * fill / what.Litres;
            var washed = (_state[Medium + i] - perLitre * MediumLitres) * displaced;
            _state[Medium + i] -= washed;
            poured[i] = perLitre * through + washed;
            if (_topLitres > 0)
            {
                var top = (_state[Top + i] - perLitre * _topLitres) * displaced;
                _state[Top + i] -= top;
                poured[i] += top;
            }
        }

        Reach(poured, through, Math.Max(0, _setup.ReservoirLitres - ReservoirLitres), mixed: what.Kind == PotEventKind.Refill);
    }

    // What comes to the reservoir: it fills it, and the rest mixes through (a refill or top-up spills the mixture at once, a leach rinses).
    private void Reach(Span<double> what, double litres, double room, bool mixed)
    {
        if (litres <= 0)
        {
            return;
        }

        var full = _setup.ReservoirLitres;
        if (mixed)
        {
            var keep = Math.Min(1, full / (ReservoirLitres + litres));
            for (var i = 0; i < Ions; i++)
            {
                _state[Reservoir + i] = (_state[Reservoir + i] + what[i]) * keep;
            }

            _state[Litres + 1] = Math.Min(full, ReservoirLitres + litres);
            return;
        }

        var fill = Math.Min(litres, room);
        var displaced = 1 - Math.Exp(-(litres - fill) / full);
        _state[Litres + 1] += fill;
        for (var i = 0; i < Ions; i++)
        {
            _state[Reservoir + i] += what[i] * fill / litres;
            _state[Reservoir + i] += (what[i] / litres * ReservoirLitres - _state[Reservoir + i]) * displaced;
        }
    }

    /// <summary>What perfect pens would show in the reservoir.</summary>
    public (double PH, double Ec) Look()
    {
        var (at, water) = ReservoirLitres > 0.002 ? (Reservoir, 1) : (Medium, 0);
        Gas(at, water, at == Reservoir ? 0.05 : 1, 0, true);
        var solution = EquilibriumSolver.Solve(Totals(at, water), new SolveConditions { Temperature = Temperature.FromCelsius(_celsius) }).Required();
        return (solution.PH, solution.ConductivityAt25MicrosiemensPerCm());
    }
}
