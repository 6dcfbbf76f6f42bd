using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Rounds;

/// <summary>
/// How much water and salt a pot holds today, kept as an account of what was poured, lost and read since the first entry. It is quick
/// enough for every plant on every walk; the pot model with its full chemistry answers the questions about pH.
/// </summary>
/// <remarks>
/// Two compartments with the water loss, the mixing and the pouring-through of the pot model (docs/science/pots.md), in steps of a day; salt
/// is counted as EC times litres. A test holds it within a quarter of the pot model over a week or two: it leaves out what the medium gives. Roots take up salt in the proportions of
/// <see cref="PotParameters"/>: by limiting ionic conductivities that is <see cref="EcLitresPerMgNitrogen"/> for each mg of nitrogen.
/// Bands: water loss ÷1.4 to ×1.4 and uptake ÷1.6 to ×1.6 as in <see cref="Uncertain"/>, in quadrature. What was read replaces what was
/// reckoned. The pot of unknown past starts as if wetted through and filled with the first feed on record.
/// </remarks>
public static class PotAccount
{
    /// <summary>
    /// µS/cm times litres that leave with 1 mg of nitrogen: per mol of N as nitrate 71.4, with 0.25 K (73.5), 0.125 Ca (119), 0.08 Mg (106),
    /// 0.06 H2PO4 (33) and 0.03 SO4 (160), less 0.46 HCO3 (44.5) given back for the surplus of anions, S cm² per mol: 100 S cm² per mol N.
    /// </summary>
    public const double EcLitresPerMgNitrogen = 7.1;

    // A grower calls a reservoir full down to about three quarters. Common practice, no source.
    private const double FullShare = 0.75;

    // No root takes more than this of the salt in a day, whatever the leaf: keeps the account positive.
    private const double MostShareTakenPerDay = 0.2;

    /// <summary>What the pot holds on a day.</summary>
    /// <param name="setup">The pot.</param>
    /// <param name="climate">Mean of the days since the first entry.</param>
    /// <param name="entries">In any order; those after <paramref name="asOf"/> are left out.</param>
    /// <param name="asOf">The day, in the morning: what is entered on it is counted, its loss is not.</param>
    /// <param name="parameters">Of the pot model; fitted ones where this pot has been fitted.</param>
    /// <returns>Null where nothing was ever poured.</returns>
    public static PotNow? On(PotSetup setup, PotClimate climate, IEnumerable<PotEntry> entries, DateOnly asOf, PotParameters? parameters = null)
    {
        var known = entries.Where(entry => entry.On <= asOf).OrderBy(entry => entry.On).ThenBy(entry => entry is PouredIn).ToList();
        var first = known.FindIndex(entry => entry is PouredIn);
        if (first < 0)
        {
            return null;
        }

        known.RemoveRange(0, first);
        var given = parameters ?? PotParameters.Default;
        var middle = Follow(given);
        var thrifty = Follow(given with { WaterLossFactor = given.WaterLossFactor / 1.4 });
        var thirsty = Follow(given with { WaterLossFactor = given.WaterLossFactor * 1.4 });
        var sated = Follow(given with { UptakeFactor = given.UptakeFactor / 1.6 });
        var hungry = Follow(given with { UptakeFactor = given.UptakeFactor * 1.6 });
        Pot[] variants = [thrifty, thirsty, sated, hungry];
        return new PotNow
        {
            Level = new Expected(thirsty.Level, middle.Level, thrifty.Level),
            DaysLeft = new Expected(thirsty.DaysLeft, middle.DaysLeft, thrifty.DaysLeft),
            RootEcMicrosiemensPerCm = Spread(pot => pot.RootEc),
            WetEcMicrosiemensPerCm = Spread(pot => pot.WetEc),
            DryDays = middle.DryDays,
            LossLitresPerDay = middle.Loss,
            RoomLitres = middle.Room,
        };

        Expected Spread(Func<Pot, double> of)
        {
            var value = of(middle);
            double Squares(Func<double, bool> side) => Math.Sqrt(variants.Select(pot => of(pot) - value).Where(side).Sum(off => off * off));
            return new Expected(value - Math.Min(value, Squares(off => off < 0)), value, value + Squares(off => off > 0));
        }

        Pot Follow(PotParameters with)
        {
            var pot = new Pot(setup, climate, with, (PouredIn)known[0]);
            var next = 0;
            for (var day = known[0].On; ; day = day.AddDays(1))
            {
                for (; next < known.Count && known[next].On == day; next++)
                {
                    pot.Enter(known[next]);
                }

                if (day >= asOf)
                {
                    return pot;
                }

                pot.PassADay();
            }
        }
    }

    private sealed class Pot
    {
        private readonly PotSetup _setup;
        private readonly PotParameters _parameters;
        private readonly double _uptake;
        private double _reservoir, _medium, _reservoirSalt, _mediumSalt;

        public Pot(PotSetup setup, PotClimate climate, PotParameters parameters, PouredIn first)
        {
            (_setup, _parameters, Loss) = (setup, parameters, WaterLoss.Of(setup, climate, parameters).LitresPerDay);
            _uptake = parameters.MostNitrogenMgPerM2Day * parameters.UptakeFactor * parameters.PaceByWarmthAndLight(climate) * setup.LeafAreaSquareMetres * EcLitresPerMgNitrogen;
            (_reservoir, _medium) = (setup.ReservoirLitres, setup.HeldLitres);
            (_reservoirSalt, _mediumSalt) = (_reservoir * first.EcMicrosiemensPerCm, _medium * first.EcMicrosiemensPerCm);
        }

        public double Loss { get; }
        public int DryDays { get; private set; }
        public double RootEc => _medium > 0 ? _mediumSalt / _medium : 0;
        public double WetEc => _mediumSalt / _setup.HeldLitres;
        public double Level => Wicking ? _reservoir / _setup.ReservoirLitres : Math.Max(0, _medium - Residue) / (_setup.HeldLitres - Residue);
        public double DaysLeft => Loss <= 0 ? 365 : Math.Min(365, (Wicking ? _reservoir : Math.Max(0, _medium - Residue)) / Loss);
        public double Room => (Wicking ? _setup.ReservoirLitres - _reservoir : 0) + Math.Max(0, _setup.HeldLitres - _medium);
        private bool Wicking => _setup.Culture == Culture.Wicking;
        private double Residue => _setup.HeldLitres * _parameters.DryResidueShare;

        public void PassADay()
        {
            var lost = Math.Min(Loss, Math.Max(0, _medium - Residue) + _reservoir);
            _medium -= lost;
            var drawn = Math.Min(_reservoir, _setup.HeldLitres - _medium);
            Move(ref _reservoir, ref _reservoirSalt, ref _medium, ref _mediumSalt, drawn);
            if (_reservoir > 0)
            {
                var traded = Math.Min(_parameters.MixingPerDay * _setup.HeldLitres, _reservoir);
                var flow = traded * (_mediumSalt / _medium - _reservoirSalt / _reservoir);
                (_mediumSalt, _reservoirSalt) = (_mediumSalt - flow, _reservoirSalt + flow);
            }

            _mediumSalt -= Math.Min(_uptake, _mediumSalt * MostShareTakenPerDay);
            DryDays = Level < 0.02 ? DryDays + 1 : 0;
        }

        public void Enter(PotEntry entry)
        {
            switch (entry)
            {
                case PouredIn { What: RoundAct.Leach } leach:
                    Rinse(PourThrough(leach.Litres, leach.EcMicrosiemensPerCm));
                    break;
                case PouredIn poured when Wicking:
                    (_reservoir, _reservoirSalt) = (_reservoir + poured.Litres, _reservoirSalt + poured.Litres * poured.EcMicrosiemensPerCm);
                    Move(ref _reservoir, ref _reservoirSalt, ref _medium, ref _mediumSalt, Math.Min(_reservoir, Math.Max(0, _setup.HeldLitres - _medium)));
                    SpillOver();
                    break;
                case PouredIn poured:
                    PourThrough(poured.Litres, poured.EcMicrosiemensPerCm);
                    break;
                case LevelSeen seen when Wicking:
                    _reservoir = Math.Clamp(seen.Share, 0, 1) * _setup.ReservoirLitres;
                    break;
                case SeenFull when Wicking:
                    _reservoir = Math.Max(_reservoir, FullShare * _setup.ReservoirLitres);
                    break;
                case EcSeen seen:
                    // A sample of one compartment puts both right in proportion.
                    var was = seen.OfRunoff || _reservoir <= 0 ? RootEc : _reservoirSalt / _reservoir;
                    var factor = was > 0 ? seen.EcMicrosiemensPerCm / was : 0;
                    (_mediumSalt, _reservoirSalt) = factor > 0
                        ? (_mediumSalt * factor, _reservoirSalt * factor)
                        : (_medium * seen.EcMicrosiemensPerCm, _reservoir * seen.EcMicrosiemensPerCm);
                    break;
            }

            DryDays = Level < 0.02 ? DryDays : 0;
        }

        private void SpillOver()
        {
            if (_reservoir > _setup.ReservoirLitres)
            {
                (_reservoirSalt, _reservoir) = (_reservoirSalt * _setup.ReservoirLitres / _reservoir, _setup.ReservoirLitres);
            }
        }

        private static void Move(ref double from, ref double fromSalt, ref double to, ref double toSalt, double litres)
        {
            if (litres <= 0 || from <= 0)
            {
                return;
            }

            var salt = fromSalt * litres / from;
            (from, fromSalt, to, toSalt) = (from - litres, fromSalt - salt, to + litres, toSalt + salt);
        }

        /// <summary>Fills what the medium has dried out, then displaces its water as a mixed tank does.</summary>
        private (double Litres, double Salt) PourThrough(double litres, double ec)
        {
            var fill = Math.Min(litres, Math.Max(0, _setup.HeldLitres - _medium));
            (_medium, _mediumSalt) = (_medium + fill, _mediumSalt + fill * ec);
            var through = litres - fill;
            var washed = (_mediumSalt - _medium * ec) * (1 - Math.Exp(-through * _parameters.PourThroughEfficiency / _medium));
            _mediumSalt -= washed;
            return (through, through * ec + washed);
        }

        private void Rinse((double Litres, double Salt) through)
        {
            if (!Wicking || through.Litres <= 0)
            {
                return;
            }

            var ec = through.Salt / through.Litres;
            var fill = Math.Min(through.Litres, _setup.ReservoirLitres - _reservoir);
            (_reservoir, _reservoirSalt) = (_reservoir + fill, _reservoirSalt + fill * ec);
            _reservoirSalt -= (_reservoirSalt - _reservoir * ec) * (1 - Math.Exp(-(through.Litres - fill) / _setup.ReservoirLitres));
        }
    }
}

/// <summary>What a pot holds today, reckoned: never to be shown so that it could be taken for a reading.</summary>
public sealed record PotNow
{
    /// <summary>Of the reservoir; of the water the medium can give where there is no reservoir. 0 to 1.</summary>
    public required Expected Level { get; init; }

    /// <summary>Days until that is gone, at most 365.</summary>
    public required Expected DaysLeft { get; init; }

    /// <summary>In the medium, at 25 °C.</summary>
    public required Expected RootEcMicrosiemensPerCm { get; init; }

    /// <summary>What it would be with the medium wetted through: drying alone makes no pot salty. The round's lines are drawn on this.</summary>
    public required Expected WetEcMicrosiemensPerCm { get; init; }

    /// <summary>Days it has been empty already.</summary>
    public required int DryDays { get; init; }
    public required double LossLitresPerDay { get; init; }

    /// <summary>What fits into it.</summary>
    public required double RoomLitres { get; init; }
}
