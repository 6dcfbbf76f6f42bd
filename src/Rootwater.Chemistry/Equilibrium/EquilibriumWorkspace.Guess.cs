using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Equilibrium;

// Where the solver starts from.
public sealed unsafe partial class EquilibriumWorkspace
{
    /// <summary>Ionic strength before anything is known: the totals, multivalent acids at the charge they mostly have.</summary>
    private double GuessIonicStrength()
    {
        var network = _at.Network;
        var sum = 0.0;
        for (var j = 1; j < network.Unknowns.Length; j++)
        {
            var charge = Math.Abs(network.Unknowns[j].Charge());
            var usual = network.Unknowns[j] is Component.Phosphate or Component.Carbonate or Component.IronIII ? 1 : Math.Min(charge, 2);
            sum += _totals[j] * usual * usual;
        }

        return Math.Max(0.5 * sum, 1e-7);
    }

    /// <summary>A first guess: the pH of the acids and bases alone, then each component's free share at that pH, chelates settled by strength.</summary>
    private void Guess(double? fixedPH)
    {
        var h = fixedPH is { } ph ? Math.Exp(-ph * Math.Log(10) - _lnGamma[_at.Network.ClassOf[0]]) : GuessHydrogen();
        var network = _at.Network;
        _master[0] = h;
        for (var j = 1; j < network.Unknowns.Length; j++)
        {
            _master[j] = _totals[j];
        }

        foreach (var acid in network.Acids)
        {
            _master[acid.Unknown] = _totals[acid.Unknown] / (1 + Protonation(acid, h, out _, out _));
        }

        if (network.ChelateSpecies.Length > 0)
        {
            GuessChelates(network, h);
        }
    }

    private double GuessHydrogen()
    {
        // What metals hold of a chelator holds no protons.
        var edta = _at.Network.UnknownOf[(int)Component.Edta];
        var unchelated = edta < 0 ? 0 : _totals[edta];
        foreach (var metal in _at.Network.ChelateMetals)
        {
            unchelated = Math.Max(0, unchelated - (_at.Network.Unknowns[metal] is Component.Sodium or Component.Potassium ? 0 : _totals[metal]));
        }

        var low = -45.0;
        var high = 4.0;
        var x = -16.1;
        for (var i = 0; i < 60; i++)
        {
            var h = Math.Exp(x);
            var f = h - _totals[0];
            var slope = h;
            foreach (var form in _at.Network.ProtonOnly)
            {
                var m = _effectiveK[form.Species] * Power(h, form.Protons);
                f += form.Protons * m;
                slope += form.Protons * form.Protons * m;
            }

            foreach (var acid in _at.Network.Acids)
            {
                Protonation(acid, h, out var mean, out var variance);
                var total = acid.Unknown == edta ? unchelated : _totals[acid.Unknown];
                f += total * mean;
                slope += total * variance;
            }

            if (f > 0)
            {
                high = x;
            }
            else
            {
                low = x;
            }

            var next = x - f / slope;
            if (!(next > low && next < high))
            {
                next = 0.5 * (low + high);
            }

            if (Math.Abs(next - x) < 0.02)
            {
                return Math.Exp(next);
            }

            x = next;
        }

        return Math.Exp(x);
    }

    /// <summary>Σ K h^p over an acid's forms, and the mean and variance of its protons.</summary>
    private double Protonation(SpeciesNetwork.Acid acid, double h, out double mean, out double variance)
    {
        var sum = 0.0;
        var first = 0.0;
        var second = 0.0;
        for (var i = 0; i < acid.Forms.Length; i++)
        {
            var p = acid.Protons[i];
            var term = _effectiveK[acid.Forms[i]] * Power(h, p);
            sum += term;
            first += p * term;
            second += p * p * term;
        }

        mean = first / (1 + sum);
        variance = second / (1 + sum) - mean * mean;
        return sum;
    }

    private static double Power(double h, int p)
    {
        var result = 1.0;
        var factor = p < 0 ? 1 / h : h;
        for (var i = Math.Abs(p); i > 0; i--)
        {
            result *= factor;
        }

        return result;
    }

    /// <summary>Shares the chelator out to the metals, the strongest first, and sets its free molality by the metal at which it runs out.</summary>
    private void GuessChelates(SpeciesNetwork network, double h)
    {
        var edta = network.UnknownOf[(int)Component.Edta];
        var chelates = network.ChelateSpecies;
        var metals = network.ChelateMetals;
        Span<double> strength = stackalloc double[chelates.Length];
        Span<bool> taken = stackalloc bool[chelates.Length];
        for (var i = 0; i < chelates.Length; i++)
        {
            // What one mole of unchelated metal holds per unit of free chelator, hydrolysis counted.
            strength[i] = _effectiveK[chelates[i]] * _master[metals[i]] / Math.Max(_totals[metals[i]], double.Epsilon);
        }

        var left = _totals[edta];
        var unbound = _master[edta] / left;
        var free = _master[edta];
        for (var round = 0; round < chelates.Length && left > 0; round++)
        {
            var best = -1;
            for (var i = 0; i < chelates.Length; i++)
            {
                if (!taken[i] && (best < 0 || strength[i] > strength[best]))
                {
                    best = i;
                }
            }

            taken[best] = true;
            var total = _totals[metals[best]];
            var share = Math.Min(left, 0.999 * total);
            free = Math.Min(free, share / ((total - share) * strength[best]));
            left -= share;
        }

        _master[edta] = left > 1e-3 * _totals[edta] ? unbound * left : free;
        free = _master[edta];
        for (var i = 0; i < chelates.Length; i++)
        {
            _master[metals[i]] /= 1 + strength[i] * free;
        }
    }
}
