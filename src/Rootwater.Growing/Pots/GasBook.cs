using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>
/// What a solved run found out about carbon dioxide and the medium's rest, moment by moment, for runs of the same pot that differ a little: they need not solve again.
/// </summary>
/// <remarks>
/// A fit runs one record dozens of times with traits a little apart, and four fifths of a run were solves for the balance with the pot air. Of a solved balance the
/// carbonate, phosphate and free protons are kept; a run that borrows moves them along the pH by the laws of mass action until its own base is met. At the lender's own
/// traits that is the solved answer; away from them only changes of ionic strength and of rarer buffers are left out.
/// </remarks>
internal sealed class GasBook
{
    private readonly List<Pages> _moments;

    public GasBook()
        : this([])
    {
    }

    private GasBook(List<Pages> moments) => _moments = moments;

    /// <summary>The same balances for one run that borrows, at a moment of its own: such runs may go side by side.</summary>
    public GasBook Lent() => new(_moments) { Writes = false };

    /// <summary>True while the solved run writes, false for those that borrow.</summary>
    public bool Writes { get; set; } = true;

    /// <summary>The moment the run is at; each has at most one balance of either water and one rest.</summary>
    public int Moment { get; set; }

    public Balance? this[Page page]
    {
        get => Moment < _moments.Count ? _moments[Moment][(int)page] : null;
        set
        {
            while (_moments.Count <= Moment)
            {
                _moments.Add(default);
            }

            var pages = _moments[Moment];
            pages[(int)page] = value;
            _moments[Moment] = pages;
        }
    }

    [System.Runtime.CompilerServices.InlineArray(3)]
    private struct Pages
    {
        private Balance? _first;
    }

    /// <summary>Which balance of a moment.</summary>
    public enum Page
    {
        Medium,
        Reservoir,
        Rest,
    }

    /// <summary>A water in balance with the pot air: what of it changes with pH, mol per kg of water.</summary>
    public class Balance
    {
        private const int MostSteps = 12;
        private readonly double _dissolvedGas, _bicarbonate, _carbonate, _hydrogen, _hydroxide, _phosphate, _onPhosphate, _base;

        public Balance(Solution open)
        {
            var totals = open.TotalsMolPerKgWater;
            var carbon = totals[Component.Carbonate];
            _dissolvedGas = open.MolalityOf("CO2");

            // By protons, so that ion pairs go with the ion they hold.
            _bicarbonate = Math.Max(0, open.ProtonsPerMole(Component.Carbonate) * carbon - 2 * _dissolvedGas);
            _carbonate = Math.Max(0, carbon - _dissolvedGas - _bicarbonate);
            _hydrogen = open.MolalityOf("H+");
            _hydroxide = open.MolalityOf("OH-");
            _phosphate = totals[Component.Phosphate];
            _onPhosphate = open.ProtonsPerMole(Component.Phosphate);
            _base = 2 * carbon - open.HydrogenMolPerKgWater;
        }

        /// <summary>EC at 25 °C over EC at the water's temperature, where it was solved for; else not a number.</summary>
        public double EcRatio { get; set; } = double.NaN;

        /// <summary>Carbonate of a water with this base (2 CO3 - H) and phosphate in balance with the same air, mol per kg of water.</summary>
        public double CarbonateAt(double baseMolPerKgWater, double phosphateMolPerKgWater)
        {
            var x = 0.0;
            for (var i = 0; i < MostSteps; i++)
            {
                var (e, carbonates) = (Math.Exp(x), Carbonates(x));
                var (protons, slope) = OnPhosphate(e);
                var off = baseMolPerKgWater - (_base + carbonates.Base - (_bicarbonate + 2 * _carbonate + _hydroxide - _hydrogen) - protons * phosphateMolPerKgWater + _onPhosphate * _phosphate);
                var step = Math.Clamp(off / (carbonates.Slope - slope * phosphateMolPerKgWater + 1e-12), -1.5, 1.5);
                x += step;
                if (Math.Abs(step) < 1e-6)
                {
                    break;
                }
            }

            var at = Math.Exp(x);
            return _dissolvedGas + _bicarbonate * at + _carbonate * at * at;
        }

        private protected bool HasPhosphate => _phosphate > 0;

        // Base of carbonates and water where the pH is higher by x / ln 10, and its slope in x.
        private protected (double Base, double Slope) Carbonates(double x)
        {
            var e = Math.Exp(x);
            var (b, c, oh, h) = (_bicarbonate * e, _carbonate * e * e, _hydroxide * e, _hydrogen / e);
            return (b + 2 * c + oh - h, b + 4 * c + oh + h);
        }

        // Protons on a mole of phosphate between one and two, and their slope in ln e.
        private protected (double Protons, double Slope) OnPhosphate(double e)
        {
            var share = 2 - _onPhosphate;
            if (share is <= 0 or >= 1)
            {
                return (_onPhosphate, 0);
            }

            var moved = share * e / (1 - share + share * e);
            return (2 - moved, -moved * (1 - moved));
        }
    }

    /// <summary>A medium's water at rest, for the page of that name. Apart, since of a bench's books it is a third of the pages and twice the size.</summary>
    public sealed class RestBalance(Solution atRest, RestingBase rest) : Balance(atRest)
    {
        private readonly double _pH = atRest.PH;

        /// <summary>The rest of the same medium where it rests at another pH.</summary>
        public RestingBase At(double pH)
        {
            var x = (pH - _pH) * Math.Log(10);
            var at = rest;
            if (x != 0)
            {
                at.Constant += Carbonates(x).Base - Carbonates(0).Base;
                at[0] = HasPhosphate ? OnPhosphate(Math.Exp(x)).Protons : 0;
            }

            return at;
        }
    }
}
