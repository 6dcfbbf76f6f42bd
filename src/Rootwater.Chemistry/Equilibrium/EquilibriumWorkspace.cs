using System.Runtime.Intrinsics;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>What the inner solver says of a solve.</summary>
/// <param name="Converged">Whether every balance closed.</param>
/// <param name="Iterations">Newton steps taken.</param>
/// <param name="MassBalanceError">Largest relative error of a mass balance.</param>
public readonly record struct SolveStatus(bool Converged, int Iterations, double MassBalanceError);

/// <summary>
/// The inner solver and the memory it works in: no allocation once a set of components and a temperature have been seen. For loops over many
/// solutions; everybody else calls <see cref="EquilibriumSolver"/>. Not thread-safe: one per thread.
/// </summary>
/// <remarks>
/// At fixed activity coefficients the species molalities minimise the convex function Σ m_s - Σ T_j ln m_j over the logarithms of the master
/// molalities; its gradient is the mass balances (protons among them, which for neutral reagents is the charge balance) and its Hessian
/// Σ m ν νᵀ is symmetric and positive definite. So: Newton steps by Cholesky, activity coefficients renewed after every step; where that
/// wanders, Newton with a line search inside and damped activity coefficients outside. See docs/science/equilibrium.md.
/// </remarks>
public sealed unsafe partial class EquilibriumWorkspace
{
    private const int QuickSteps = 40;
    private const double LongestStepUp = 2.5;
    private const double LongestStepDown = 5;
    private const double IonicStrengthTolerance = 1e-9;
    private const double LeastMolPerKgWater = 1e-30;
    private const double HighestIonicStrengthInActivity = 3;

    private readonly List<NetworkAtTemperature> _recent = [];
    private NetworkAtTemperature _at = null!;
    private double[] _totals = [];
    private double[] _molality = [];
    private double[] _effectiveK = [];
    private double[] _lnGamma = [];
    private double[] _lnGammaSlope = [];
    private double[] _lnKSlope = [];
    private double[] _master = [];
    private double[] _gradient = [];
    private double[] _hessian = [];
    private double[] _kept = [];

    /// <summary>How the balances answer to the ionic strength, and the ionic strength to the masters.</summary>
    private double[] _byStrength = [];
    private double[] _strengthBy = [];
    private double _strengthByStrength;
    private double _protonSize;
    private double _ionicStrength;
    private double _lnWaterActivity;
    private double _usedIonicStrength;

    /// <summary>Minus log10 of the activity of H+, of the last solve.</summary>
    public double PH => -(Math.Log(_master[0]) + _lnGamma[_at.Network.ClassOf[0]]) / Math.Log(10);

    /// <summary>Ionic strength of the last solve, mol per kg of water.</summary>
    public double IonicStrengthMolPerKgWater => _ionicStrength;

    internal NetworkAtTemperature At => _at;

    internal ReadOnlySpan<double> Molalities => _molality.AsSpan(0, _at.Network.Species.Length);

    internal double WaterActivity => Math.Exp(_lnWaterActivity);

    /// <summary>Molalities of the unknowns' master species, hydrogen first.</summary>
    internal ReadOnlySpan<double> Masters => _master.AsSpan(0, _at.Network.Unknowns.Length);

    internal double LnGammaOf(int species) => _lnGamma[_at.Network.ClassOf[species]];

    /// <summary>Solves totals, mol per kg of water in the order of <see cref="Component"/>; nothing is checked here but convergence.</summary>
    public SolveStatus Solve(ReadOnlySpan<double> molPerKgWater, SolveConditions conditions, SolveOptions options)
    {
        Prepare(molPerKgWater, conditions);
        var status = Run(conditions.FixedPH, options, Math.Min(QuickSteps, options.MaxIterations), careful: false);
        return status.Converged || options.MaxIterations <= QuickSteps ? status : Run(conditions.FixedPH, options, options.MaxIterations, careful: true);
    }

    private void Prepare(ReadOnlySpan<double> molPerKgWater, SolveConditions conditions)
    {
        var present = 0u;
        for (var c = 0; c < molPerKgWater.Length; c++)
        {
            // Less than this is not there: one molecule in a litre is 1e-24, and logarithms of what is smaller still only lead astray.
            if (molPerKgWater[c] > LeastMolPerKgWater)
            {
                present |= 1u << c;
            }
        }

        _at = Find(SpeciesNetwork.For(present, conditions.Air.IsOpen), conditions);
        var network = _at.Network;
        var k = network.Unknowns.Length;
        for (var j = 0; j < k; j++)
        {
            _totals[j] = molPerKgWater[(int)network.Unknowns[j]];
        }

        if (network.Open)
        {
            _totals[0] -= 2 * molPerKgWater[(int)Component.Carbonate];
        }
    }

    private NetworkAtTemperature Find(SpeciesNetwork network, SolveConditions conditions)
    {
        if (_at is not null && ReferenceEquals(_at.Network, network) && _at.Temperature == conditions.Temperature && _at.Air == conditions.Air)
        {
            return _at;
        }

        const int Remembered = 16;
        foreach (var known in _recent)
        {
            if (ReferenceEquals(known.Network, network) && known.Temperature == conditions.Temperature && known.Air == conditions.Air)
            {
                return known;
            }
        }

        var made = new NetworkAtTemperature(network, conditions.Temperature, conditions.Air);
        if (_recent.Count == Remembered)
        {
            _recent.RemoveAt(0);
        }

        _recent.Add(made);
        Grow(network);
        return made;
    }

    private void Grow(SpeciesNetwork network)
    {
        var k = network.Unknowns.Length;
        var padded = (network.Species.Length + 3) / 4 * 4;
        if (_molality.Length < padded)
        {
            _molality = new double[padded];
            _effectiveK = new double[padded];
            _lnKSlope = new double[padded];
        }

        var paddedClasses = (network.Classes.Length + 3) / 4 * 4;
        if (_lnGamma.Length < paddedClasses)
        {
            _lnGamma = new double[paddedClasses];
            _lnGammaSlope = new double[paddedClasses];
        }

        if (_totals.Length < k)
        {
            _totals = new double[k];
            _master = new double[k + 1];
            _gradient = new double[k];
            _byStrength = new double[k];
            _strengthBy = new double[k];
            _hessian = new double[k * k];
            _kept = new double[k + 1];
        }
    }

    private SolveStatus Run(double? fixedPH, SolveOptions options, int mostSteps, bool careful)
    {
        var first = fixedPH is null ? 0 : 1;

        // Not the last solution's: an answer must not depend on what was solved before it.
        _lnWaterActivity = 0;
        RenewActivities(GuessIonicStrength());
        Guess(fixedPH);
        var error = double.PositiveInfinity;
        var before = (Used: 0.0, Drift: 0.0);
        for (var step = 1; step <= mostSteps; step++)
        {
            HoldPH(fixedPH);
            Balances();
            error = LargestError(first);
            if (!double.IsFinite(error))
            {
                return new SolveStatus(false, step, double.PositiveInfinity);
            }

            var drift = Math.Abs(_ionicStrength - _usedIonicStrength);
            if (error <= options.RelativeTolerance && drift <= IonicStrengthTolerance * _ionicStrength + 1e-14)
            {
                return new SolveStatus(true, step, error);
            }

            Derivatives();
            if (!Factor(first))
            {
                return new SolveStatus(false, step, error);
            }

            Substitute(_gradient, first);
            if (careful)
            {
                if (error > 1e-6)
                {
                    StepWithLineSearch(first);
                }
                else if (error > options.RelativeTolerance)
                {
                    Step(first);
                }
                else
                {
                    var now = (Used: _usedIonicStrength, Drift: _ionicStrength - _usedIonicStrength);
                    RenewActivities(Secant(before, now));
                    before = now;
                }
            }
            else
            {
                RenewActivities(StepWithActivities(first));
            }
        }

        return new SolveStatus(false, mostSteps, error);
    }

    private void RenewActivities(double ionicStrength)
    {
        var network = _at.Network;
        _usedIonicStrength = ionicStrength;
        var capped = Math.Min(ionicStrength, HighestIonicStrengthInActivity);
        var root = Math.Sqrt(capped);
        var count = network.Species.Length;
        var k = network.Unknowns.Length;
        fixed (double* lnK = _at.LnK, lnGamma = _lnGamma, lnGammaSlope = _lnGammaSlope, effective = _effectiveK, lnKSlope = _lnKSlope, nu = network.GradientNu, waters = network.Waters,
            classSlope = _at.ClassSlope, classSize = _at.ClassSize, classLinear = _at.ClassLinear)
        fixed (int* classOf = network.ClassOf, start = network.GradientStart, entryClass = network.GradientClass)
        {
            var roots = Vector256.Create(root);
            for (var c = 0; c < network.Classes.Length; c += 4)
            {
                var slope = Vector256.Load(classSlope + c);
                var linear = Vector256.Load(classLinear + c);
                var one = Vector256.Create(1.0);
                var inverse = one / (one + Vector256.Load(classSize + c) * roots);
                (slope * roots * inverse + linear * capped).Store(lnGamma + c);
                (slope * inverse * inverse * (0.5 / root) + linear).Store(lnGammaSlope + c);
            }

            for (var s = k; s < count; s++)
            {
                var sum = lnK[s] - lnGamma[classOf[s]] + waters[s] * _lnWaterActivity;
                var slope = -lnGammaSlope[classOf[s]];
                for (var e = start[s]; e < start[s + 1]; e++)
                {
                    var c = entryClass[e];
                    sum += nu[e] * lnGamma[c];
                    slope += nu[e] * lnGammaSlope[c];
                }

                effective[s] = sum;
                lnKSlope[s] = slope;
            }

            for (var s = k / 4 * 4; s < count; s += 4)
            {
                Vector256.Exp(Vector256.Load(effective + s)).Store(effective + s);
            }

            for (var s = 0; s < k; s++)
            {
                effective[s] = 1;
            }
        }
    }

    private void HoldPH(double? fixedPH)
    {
        if (fixedPH is { } ph)
        {
            _master[0] = Math.Exp(-ph * Math.Log(10) - _lnGamma[_at.Network.ClassOf[0]]);
        }
    }

    /// <summary>Species molalities from the masters, the balances' residuals and the ionic strength.</summary>
    private void Balances()
    {
        var network = _at.Network;
        var k = network.Unknowns.Length;
        var count = network.Species.Length;
        _master[k] = 1 / _master[0];
        fixed (double* master = _master, molality = _molality, effective = _effectiveK, gradient = _gradient, totals = _totals,
            z2 = network.ChargeSquared, gradientNu = network.GradientNu, protonSize = network.ProtonSize)
        fixed (int* factorStart = network.FactorStart, factors = network.Factors, gradientStart = network.GradientStart, gradientIndex = network.GradientIndex)
        {
            var strength = 0.0;
            var sum = 0.0;
            var protons = master[0];
            for (var j = 0; j < k; j++)
            {
                var m = master[j];
                molality[j] = m;
                gradient[j] = m - totals[j];
                strength += z2[j] * m;
                sum += m;
            }

            var factor = factors + factorStart[k];
            var entry = gradientStart[k];
            for (var s = k; s < count; s++)
            {
                var m = effective[s];
                for (var end = factors + factorStart[s + 1]; factor < end; factor++)
                {
                    m *= master[*factor];
                }

                molality[s] = m;
                strength += z2[s] * m;
                sum += m;
                protons += protonSize[s] * m;
                for (var end = gradientStart[s + 1]; entry < end; entry++)
                {
                    gradient[gradientIndex[entry]] += gradientNu[entry] * m;
                }
            }

            _ionicStrength = 0.5 * strength;
            _protonSize = protons;
            // Raoult's law with the coefficient of the reference code: a(H2O) = 1 - 0.017 Σm; its logarithm by two terms, exact to 1e-8 at 0.1 mol/kg.
            var solutes = Math.Min(0.017 * sum, 0.5);
            _lnWaterActivity = solutes < 1e-3 ? -solutes * (1 + 0.5 * solutes) : Math.Log(1 - solutes);
        }
    }

    /// <summary>The Hessian, and how the balances and the ionic strength answer to one another.</summary>
    private void Derivatives()
    {
        var network = _at.Network;
        var k = network.Unknowns.Length;
        var count = network.Species.Length;
        Array.Clear(_hessian, 0, k * k);
        fixed (double* molality = _molality, hessian = _hessian, byStrength = _byStrength, strengthBy = _strengthBy, lnKSlope = _lnKSlope,
            z2 = network.ChargeSquared, gradientNu = network.GradientNu, nuNu = network.HessianNuNu)
        fixed (int* gradientStart = network.GradientStart, gradientIndex = network.GradientIndex, hessianStart = network.HessianStart, hessianIndex = network.HessianIndex)
        {
            for (var j = 0; j < k; j++)
            {
                var m = molality[j];
                hessian[j * k + j] = m;
                byStrength[j] = 0;
                strengthBy[j] = z2[j] * m;
            }

            var strengthByStrength = 0.0;
            var entry = gradientStart[k];
            var pair = hessianStart[k];
            for (var s = k; s < count; s++)
            {
                var m = molality[s];
                var charged = z2[s] * m;
                var slope = lnKSlope[s] * m;
                strengthByStrength += z2[s] * slope;
                for (var end = gradientStart[s + 1]; entry < end; entry++)
                {
                    var j = gradientIndex[entry];
                    byStrength[j] += gradientNu[entry] * slope;
                    strengthBy[j] += gradientNu[entry] * charged;
                }

                for (var end = hessianStart[s + 1]; pair < end; pair++)
                {
                    hessian[hessianIndex[pair]] += nuNu[pair] * m;
                }
            }

            _strengthByStrength = 0.5 * strengthByStrength;
        }
    }

    private double LargestError(int first)
    {
        var largest = 0.0;
        for (var j = first; j < _at.Network.Unknowns.Length; j++)
        {
            var error = Math.Abs(_gradient[j]) / (j == 0 ? _protonSize : _totals[j]);
            if (!(error <= largest))
            {
                largest = error;
            }
        }

        return largest;
    }

    /// <summary>Cholesky of the Hessian's lower triangle in place.</summary>
    private bool Factor(int first)
    {
        var k = _at.Network.Unknowns.Length;
        fixed (double* h = _hessian)
        {
            for (var i = first; i < k; i++)
            {
                var rowI = h + i * k;
                var whole = rowI[i];
                for (var j = first; j < i; j++)
                {
                    var rowJ = h + j * k;
                    var sum = rowI[j];
                    if (sum == 0 && j > first)
                    {
                        // Most pairs of components share no species; fill-in is looked for all the same.
                        for (var t = first; t < j; t++)
                        {
                            sum -= rowI[t] * rowJ[t];
                        }

                        if (sum == 0)
                        {
                            continue;
                        }
                    }
                    else
                    {
                        for (var t = first; t < j; t++)
                        {
                            sum -= rowI[t] * rowJ[t];
                        }
                    }

                    rowI[j] = sum * rowJ[j];
                }

                var pivot = whole;
                for (var t = first; t < i; t++)
                {
                    pivot -= rowI[t] * rowI[t];
                }

                // A chelate that takes a metal whole leaves a pivot that rounding can eat: keep a sliver of it.
                pivot = Math.Max(pivot, 1e-15 * whole);
                if (!(pivot > 0))
                {
                    return false;
                }

                rowI[i] = 1 / Math.Sqrt(pivot);
            }
        }

        return true;
    }

    /// <summary>Solves the factored system in place. For the gradient the step is minus what is left there.</summary>
    private void Substitute(double[] rightHandSide, int first)
    {
        var k = _at.Network.Unknowns.Length;
        fixed (double* h = _hessian, g = rightHandSide)
        {
            for (var i = first; i < k; i++)
            {
                var sum = g[i];
                for (var t = first; t < i; t++)
                {
                    sum -= h[i * k + t] * g[t];
                }

                g[i] = sum * h[i * k + i];
            }

            for (var i = k - 1; i >= first; i--)
            {
                var sum = g[i];
                for (var t = i + 1; t < k; t++)
                {
                    sum -= h[t * k + i] * g[t];
                }

                g[i] = sum * h[i * k + i];
            }
        }
    }

    /// <summary>
    /// Newton on the balances and the ionic strength together: the bordered system is solved with the factored Hessian and one more right-hand
    /// side. Returns the ionic strength to take the activities at.
    /// </summary>
    private double StepWithActivities(int first)
    {
        var k = _at.Network.Unknowns.Length;
        if (first == 1)
        {
            // At a fixed pH the molality of H+ answers to its own activity coefficient and to nothing else.
            _byStrength[0] = 0;
        }

        Substitute(_byStrength, first);
        double along = 0, across = 0;
        for (var j = first; j < k; j++)
        {
            along += _strengthBy[j] * _gradient[j];
            across += _strengthBy[j] * _byStrength[j];
        }

        var denominator = 1 - _strengthByStrength + 0.5 * across;
        var shift = (_ionicStrength - _usedIonicStrength - 0.5 * along) / (denominator > 0.1 ? denominator : 1);
        shift = Math.Clamp(shift, -0.5 * _usedIonicStrength, _usedIonicStrength + 1e-6);
        for (var j = first; j < k; j++)
        {
            _master[j] *= Math.Exp(Math.Clamp(-_gradient[j] - _byStrength[j] * shift, -LongestStepDown, LongestStepUp));
        }

        return _usedIonicStrength + shift;
    }

    /// <summary>The ionic strength at which taken and found would agree, by the last two tries; at most half as much again or half.</summary>
    private static double Secant((double Used, double Drift) before, (double Used, double Drift) now)
    {
        var slope = (now.Drift - before.Drift) / (now.Used - before.Used);
        var next = before.Used > 0 && slope < 0 ? now.Used - now.Drift / slope : now.Used + 0.3 * now.Drift;
        return Math.Clamp(next, 0.5 * now.Used, 1.5 * now.Used + 1e-9);
    }

    private void Step(int first)
    {
        for (var j = first; j < _at.Network.Unknowns.Length; j++)
        {
            _master[j] *= Math.Exp(Math.Clamp(-_gradient[j], -LongestStepDown, LongestStepUp));
        }
    }

    private void StepWithLineSearch(int first)
    {
        var k = _at.Network.Unknowns.Length;
        Array.Copy(_master, _kept, k + 1);
        var before = Objective(first);
        // Shortened as a whole, so that it stays a direction of descent.
        var longest = 0.0;
        for (var j = first; j < k; j++)
        {
            longest = Math.Max(longest, Math.Abs(_gradient[j]));
        }

        for (var factor = Math.Min(1, LongestStepDown / longest); factor > 1e-9; factor *= 0.5)
        {
            for (var j = first; j < k; j++)
            {
                _master[j] = _kept[j] * Math.Exp(-factor * _gradient[j]);
            }

            if (Objective(first) <= before + 1e-14 * Math.Abs(before))
            {
                return;
            }
        }
    }

    /// <summary>Σ m_s - Σ T_j ln m_j, the function whose minimum is the equilibrium at these activity coefficients.</summary>
    private double Objective(int first)
    {
        var network = _at.Network;
        var k = network.Unknowns.Length;
        _master[k] = 1 / _master[0];
        var sum = 0.0;
        for (var j = 0; j < k; j++)
        {
            sum += _master[j];
            if (j >= first)
            {
                sum -= _totals[j] * Math.Log(_master[j]);
            }
        }

        for (var s = k; s < network.Species.Length; s++)
        {
            var m = _effectiveK[s];
            for (var f = network.FactorStart[s]; f < network.FactorStart[s + 1]; f++)
            {
                m *= _master[network.Factors[f]];
            }

            sum += m;
        }

        return sum;
    }
}
