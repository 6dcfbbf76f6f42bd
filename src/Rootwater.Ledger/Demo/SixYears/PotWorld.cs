using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>
/// What truly goes on in a demo pot. Richer than the model the program fits: three compartments (reservoir, core, surface), uptake by temperature
/// and light, nitrification, algae in the reservoir, carbon dioxide by warmth. Own arithmetic throughout: not the program's solver or pot model.
/// </summary>
/// <remarks>Amounts in meq; alkalinity travels with the ions. pH of a closed carbonate system from alkalinity and CO2 pressure. See docs/science/demo.md.</remarks>
internal sealed class PotWorld
{
    private const int Nitrate = 0, Ammonium = 1, Potassium = 2, Calcium = 3, Magnesium = 4, Others = 5, Alkalinity = 6, Kinds = 7;

    // Limiting molar conductivities per equivalent, S cm² mol⁻¹ at 25 °C (CRC Handbook, from memory): NO3, NH4, K, ½Ca, ½Mg, the others as Cl and Na.
    private static readonly double[] s_conductivity = [71.4, 73.5, 73.5, 59.5, 53.1, 65, 44.5];

    private readonly Pot _pot;
    private readonly bool _clay;
    private readonly double _baseLeft;
    private readonly Compartment _reservoir = new(), _core = new(), _surface = new();
    private readonly double _q10 = Truth.Of("uptake_q10");
    private readonly double _nitrification = Truth.Of("nitrification_per_day");
    private readonly double _algae = Truth.Of("algae_nitrate");
    private double _base;

    /// <param name="pot">The new pot.</param>
    /// <param name="before">The one it came from: what roots had of late goes with the plant.</param>
    /// <param name="dice">For the stock of base.</param>
    public PotWorld(Pot pot, PotWorld? before, Dice dice)
    {
        (Potassium60, Nitrogen60) = (before?.Potassium60 ?? 50, before?.Nitrogen60 ?? 60);
        _pot = pot;
        _clay = pot.Medium.Contains("clay", StringComparison.Ordinal);
        var held = (pot.Medium switch { "sphagnum" => 0.6, "bark mix" => 0.3, _ => 0.18 }) * Math.Max(pot.MediumLitres, 0.05);
        var top = Truth.Of("surface_share");
        (_core.Holds, _surface.Holds, _reservoir.Holds) = (held * (1 - top), held * top, pot.ReservoirLitres);
        _baseLeft = _base = (_clay ? 1.5 : 0.3) * pot.MediumLitres * Math.Exp(0.3 * dice.Normal());
        (_core.Litres, _surface.Litres) = (_core.Holds * 0.8, _surface.Holds * 0.8);
    }

    public double ReservoirShare => _pot.ReservoirLitres > 0 ? _reservoir.Litres / _pot.ReservoirLitres : 0;

    /// <summary>How wet the medium is, 0 to 1.</summary>
    public double MediumShare => _core.Litres / _core.Holds;
    public double MediumEc => _core.Ec;

    /// <summary>Mean of the last 60 days at the root, mg/L.</summary>
    public double Potassium60 { get; private set; }
    public double Nitrogen60 { get; private set; }

    /// <summary>A pouring; returns what ran out below, if anything did.</summary>
    /// <param name="millilitres">How much.</param>
    /// <param name="molPerKgWater">What is truly in it.</param>
    /// <param name="throughMedium">From above, as a leach or into a pot without reservoir; else into the reservoir.</param>
    public void Pour(double millilitres, ComponentAmounts molPerKgWater, bool throughMedium)
    {
        var poured = new Compartment { Litres = millilitres / 1000 };
        Fill(poured, molPerKgWater);
        if (throughMedium || _pot.ReservoirLitres == 0)
        {
            // Meets the surface and six tenths of the core's water on its way; the rest runs past.
            _surface.MixWith(poured, 0.9);
            _core.MixWith(poured, 0.6);
            poured.GiveTo(_surface, _surface.Holds - _surface.Litres);
            poured.GiveTo(_core, _core.Holds - _core.Litres);
        }

        if (_pot.ReservoirLitres > 0)
        {
            if (throughMedium)
            {
                _reservoir.Empty(); // what runs out of a leach is poured away
            }

            poured.GiveTo(_reservoir, _reservoir.Holds - _reservoir.Litres);
        }
    }

    /// <summary>One day.</summary>
    /// <param name="air">Air and light.</param>
    /// <param name="leafSquareMetres">What transpires and feeds.</param>
    /// <param name="resting">At rest roots take a tenth.</param>
    public void Live(DayAir air, double leafSquareMetres, bool resting)
    {
        // Water: evaporation from the surface, transpiration from the core, the wick between.
        var area = Math.Pow(Math.Max(_pot.MediumLitres, 0.05), 2.0 / 3) * 0.01;
        // Both slacken as the medium dries; a tenth of the water is never to be had.
        var ease = Math.Clamp(1.6 * MediumShare - 0.16, 0, 1);
        var evaporated = Math.Max(0, Math.Min(_surface.Litres - 0.15 * _surface.Holds, ease * area * (_pot.Medium == "sphagnum" ? 1.8 : 0.85) * air.VapourDeficit * (_pot.Culture == Culture.Basket ? 1.5 : 1)));
        _surface.Litres -= evaporated;
        var transpired = Math.Max(0, Math.Min(_core.Litres - 0.1 * _core.Holds, ease * leafSquareMetres * (0.1 + 0.2 * air.VapourDeficit)));
        TakeUp(air, leafSquareMetres, resting);
        _core.Litres -= transpired;
        if (_pot.ReservoirLitres > 0)
        {
            _reservoir.GiveTo(_core, _core.Holds - _core.Litres);
            _reservoir.MixWith(_core, 0.08);
        }

        _core.GiveTo(_surface, Math.Min(0.6 * _core.Litres, _surface.Holds - _surface.Litres));
        _core.MixWith(_surface, 0.05);
        React(air);
        const double keep = 1 - 1.0 / 60;
        Potassium60 = Potassium60 * keep + _core.Concentration(Potassium) * 39.1 / 60;
        Nitrogen60 = Nitrogen60 * keep + (_core.Concentration(Nitrate) + _core.Concentration(Ammonium)) * 14.0 / 60;
    }

    /// <summary>pH at the root some days after a refill from above, as it would truly be; the pot itself is left as it is. For tests of what is learned.</summary>
    /// <param name="feed">As poured, mol per kg of water.</param>
    /// <param name="days">Whole days.</param>
    /// <param name="air">The same air on each of them.</param>
    /// <param name="leafSquareMetres">What feeds.</param>
    public double RootPHAfterRefill(ComponentAmounts feed, int days, DayAir air, double leafSquareMetres)
    {
        var kept = (_reservoir.Copy(), _core.Copy(), _surface.Copy(), _base, Potassium60, Nitrogen60);
        Pour((_pot.ReservoirLitres + _core.Holds + _surface.Holds) * 1000, feed, throughMedium: true);
        for (var day = 0; day < days; day++)
        {
            Live(air, leafSquareMetres, resting: false);
        }

        var truly = _core.PH(LogCO2(air));
        _reservoir.Become(kept.Item1);
        _core.Become(kept.Item2);
        _surface.Become(kept.Item3);
        (_base, Potassium60, Nitrogen60) = (kept._base, kept.Potassium60, kept.Nitrogen60);
        return truly;
    }

    /// <summary>A syringe sample of the reservoir; null where there is none or it is all but dry.</summary>
    public (double Ec, double PH)? Reservoir(DayAir air) => _pot.ReservoirLitres > 0 && _reservoir.Litres > 0.02 ? (_reservoir.Ec, _reservoir.PH(LogCO2(air) - 0.1)) : null;

    /// <summary>What runs out when some water is poured through.</summary>
    public (double Ec, double PH) Runoff(DayAir air)
    {
        // Sampled as the plant is watered: the medium is full when it begins to drip, and a little of the pouring runs past.
        var drop = _core.Copy();
        _surface.Copy().GiveTo(drop, 0.3 * _surface.Litres);
        drop.Litres = Math.Max(drop.Litres, _core.Holds) * 1.25;
        return (drop.Ec, drop.PH(LogCO2(air)));
    }

    // CO2 of roots and microbes doubles per 10 °C around 10^-2.6 bar at 20 °C.
    private static double LogCO2(DayAir air) => -2.6 + (air.MeanCelsius - 20) * 0.03;

    private void TakeUp(DayAir air, double leaf, bool resting)
    {
        var pace = leaf * Math.Pow(_q10, (air.MeanCelsius - 20) / 10) * Math.Min(1, 0.3 + air.LightIntegral / 8) * (resting ? 0.1 : 1);
        // At most 28 mg N per m² and day at 20 °C in good light (the order of D. nobile, Ichinose et al. 2018); half of it at 0.05 meq/L.
        var (ammonium, nitrate) = (_core.Concentration(Ammonium), _core.Concentration(Nitrate));
        var most = 2.0 * pace;
        var total = ammonium * 2.5 + nitrate;
        var taken = total > 0 ? most * total / (total + 0.05) : 0;
        var fromAmmonium = _core.Take(Ammonium, total > 0 ? taken * ammonium * 2.5 / total : 0);
        var fromNitrate = _core.Take(Nitrate, total > 0 ? taken * nitrate / total : 0);
        var cations = _core.Take(Potassium, 0.2 * taken) + _core.Take(Calcium, 0.24 * taken) + _core.Take(Magnesium, 0.13 * taken);
        _core.Meq[Alkalinity] += fromNitrate - fromAmmonium - cations;
    }

    private void React(DayAir air)
    {
        var oxidised = _core.Meq[Ammonium] * Math.Min(0.5, _nitrification * Math.Pow(2, (air.MeanCelsius - 20) / 10));
        (_core.Meq[Ammonium], _core.Meq[Nitrate], _core.Meq[Alkalinity]) = (_core.Meq[Ammonium] - oxidised, _core.Meq[Nitrate] + oxidised, _core.Meq[Alkalinity] - 2 * oxidised);
        // The sourer the water, the faster the grains give.
        var sour = -_core.Concentration(Alkalinity);
        var given = Math.Min(0.5 * _base, _base * (sour > 0 ? 0.02 + 0.15 * sour : 0.02 * Math.Exp(sour)));
        (_base, _core.Meq[Alkalinity], _core.Meq[Calcium]) = (_base - given, _core.Meq[Alkalinity] + given, _core.Meq[Calcium] + given);
        if (!_clay)
        {
            // Bark and moss buffer on the acid side.
            _core.Meq[Alkalinity] += 0.3 * _core.Litres * ((_pot.Medium == "sphagnum" ? -0.05 : 0.08) - _core.Concentration(Alkalinity));
        }

        if (_pot.ReservoirLitres > 0)
        {
            var grown = _reservoir.Take(Nitrate, _algae * air.LightIntegral / 10 * Math.Sqrt(_pot.ReservoirLitres / 0.3));
            _reservoir.Meq[Alkalinity] += grown;
        }

        if (_base < 0.05 * _baseLeft)
        {
            _base = 0.05 * _baseLeft;
        }
    }

    private static void Fill(Compartment into, ComponentAmounts mol)
    {
        double Meq(Component component, int charge) => mol[component] * 1000 * charge * into.Litres;
        into.Meq[Nitrate] = Meq(Component.Nitrate, 1);
        into.Meq[Ammonium] = Meq(Component.Ammonium, 1) + Meq(Component.Urea, 2) * 0.3;
        into.Meq[Potassium] = Meq(Component.Potassium, 1);
        into.Meq[Calcium] = Meq(Component.Calcium, 2);
        into.Meq[Magnesium] = Meq(Component.Magnesium, 2);
        into.Meq[Others] = Meq(Component.Sodium, 1) + Meq(Component.Chloride, 1) + Meq(Component.Sulfate, 2) + Meq(Component.Phosphate, 1);
        into.Meq[Alkalinity] = Meq(Component.Sodium, 1) + into.Meq[Potassium] + into.Meq[Calcium] + into.Meq[Magnesium] + Meq(Component.Ammonium, 1)
            - into.Meq[Nitrate] - Meq(Component.Chloride, 1) - Meq(Component.Sulfate, 2) - Meq(Component.Phosphate, 1);
    }

    private sealed class Compartment
    {
        public double Holds { get; set; }
        public double Litres { get; set; }
        public double[] Meq { get; } = new double[Kinds];

        public double Concentration(int kind) => Meq[kind] / Math.Max(Litres, 1e-4);

        /// <summary>µS/cm at 25 °C; ions hold one another back by the square root of what there is (Kohlrausch).</summary>
        public double Ec
        {
            get
            {
                var (sum, ions) = (0.0, 0.0);
                for (var i = 0; i < Kinds; i++)
                {
                    var each = Math.Abs(Concentration(i));
                    (sum, ions) = (sum + each * s_conductivity[i], ions + each);
                }

                return sum * (1 - 0.35 * Math.Sqrt(Math.Min(ions / 2000, 0.25)));
            }
        }

        /// <summary>[H⁺]² + alkalinity·[H⁺] − K·pCO2 = 0, with log(K1·KH) = −7.82 at 25 °C (Stumm and Morgan, from memory).</summary>
        public double PH(double logCO2)
        {
            var (alkalinity, product) = (Concentration(Alkalinity) / 1000, Math.Pow(10, -7.82 + logCO2));
            return -Math.Log10((-alkalinity + Math.Sqrt(alkalinity * alkalinity + 4 * product)) / 2);
        }

        public double Take(int kind, double meq)
        {
            var taken = Math.Clamp(meq, 0, Math.Max(0, Meq[kind]) * 0.8);
            Meq[kind] -= taken;
            return taken;
        }

        public void GiveTo(Compartment other, double litres)
        {
            var moved = Math.Clamp(litres, 0, Litres);
            if (moved <= 0)
            {
                return;
            }

            var share = moved / Litres;
            for (var i = 0; i < Kinds; i++)
            {
                other.Meq[i] += Meq[i] * share;
                Meq[i] -= Meq[i] * share;
            }

            (other.Litres, Litres) = (other.Litres + moved, Litres - moved);
        }

        /// <summary>Trades part of the water for the other's, volumes unchanged.</summary>
        public void MixWith(Compartment other, double share)
        {
            var traded = Math.Min(Litres, other.Litres) * share;
            if (traded <= 0)
            {
                return;
            }

            var (mine, theirs) = (traded / Litres, traded / other.Litres);
            for (var i = 0; i < Kinds; i++)
            {
                var (away, back) = (Meq[i] * mine, other.Meq[i] * theirs);
                Meq[i] += back - away;
                other.Meq[i] += away - back;
            }
        }

        public void Empty()
        {
            Litres = 0;
            Array.Clear(Meq);
        }

        public void Become(Compartment other)
        {
            Litres = other.Litres;
            other.Meq.CopyTo(Meq, 0);
        }

        public Compartment Copy()
        {
            var copy = new Compartment { Holds = Holds, Litres = Litres };
            Meq.CopyTo(copy.Meq, 0);
            return copy;
        }
    }
}
