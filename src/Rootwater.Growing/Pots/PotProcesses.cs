using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>
/// What changes the totals of a water in a pot, one step at a time. Every process is without charge as a whole: what a root takes up as
/// ions it pays for in protons, what a medium gives as cations comes with hydroxide.
/// </summary>
internal static class PotProcesses
{
    private const double NitrogenGramsPerMole = 14.007;
    private const double NothingMol = 1e-14;

    /// <summary>
    /// Uptake over a step, and its proton balance: nitrate taken up takes a proton along (pH rises), ammonium leaves one (pH falls).
    /// Michaelis-Menten, implicit in the step, so that it never takes more than there is.
    /// </summary>
    /// <returns>Nitrogen taken up, mol.</returns>
    public static double TakeUp(Span<double> mol, Span<double> taken, double litres, double leafSquareMetres, double pace, double days, PotParameters parameters)
    {
        var most = parameters.MostNitrogenMgPerM2Day * 1e-3 / NitrogenGramsPerMole * leafSquareMetres * parameters.UptakeFactor * pace * days;
        if (most <= 0 || litres <= 0)
        {
            return 0;
        }

        // Protons outside the root crowd out cations first; without this a feed of ammonium alone would sour without end.
        var freeCations = 1 / (1 + Acidity(mol, litres) / parameters.CationHalfAcidityMolPerLitre);
        var half = parameters.HalfUptakeMolPerLitre * litres;
        double charge = 0;

        var total = TakeUpNitrogen(mol, taken, most, half, parameters.AmmoniumPreference, freeCations, ref charge);
        Take(mol, taken, Component.Potassium, most * freeCations * parameters.PotassiumPerNitrogen, half, ref charge);
        Take(mol, taken, Component.Calcium, most * freeCations * parameters.CalciumPerNitrogen, half, ref charge);
        Take(mol, taken, Component.Magnesium, most * freeCations * parameters.MagnesiumPerNitrogen, half, ref charge);
        Take(mol, taken, Component.Phosphate, most * parameters.PhosphorusPerNitrogen, parameters.HalfPhosphateUptakeMolPerLitre * litres, ref charge);
        Take(mol, taken, Component.Sulfate, most * parameters.SulfurPerNitrogen, half, ref charge);
        mol[(int)Component.Hydrogen] += charge;
        taken[(int)Component.Hydrogen] -= charge;
        return total;
    }

    /// <summary>Algae in a reservoir take nitrate, and a proton with each.</summary>
    /// <param name="mol">Of the reservoir.</param>
    /// <param name="taken">What is taken out, kept for the budget.</param>
    /// <param name="wanted">Nitrate they would take in the step, mol; at most half of what is there.</param>
    public static void FeedAlgae(Span<double> mol, Span<double> taken, double wanted)
    {
        const int nitrate = (int)Component.Nitrate, hydrogen = (int)Component.Hydrogen;
        var amount = Math.Min(wanted, 0.5 * mol[nitrate]);
        if (amount <= 0)
        {
            return;
        }

        mol[nitrate] -= amount;
        mol[hydrogen] -= amount;
        taken[nitrate] += amount;
        taken[hydrogen] += amount;
    }

    /// <summary>Strong acid in the water, mol/L: protons beyond H2CO3, H2PO4- and half-neutralised organic acids; zero above pH 5 or so. Close to the free protons, without a solve.</summary>
    private static double Acidity(ReadOnlySpan<double> mol, double litres) => Math.Max(0,
        mol[(int)Component.Hydrogen] - 2 * mol[(int)Component.Carbonate] - 2 * mol[(int)Component.Phosphate] - 2 * mol[(int)Component.Citrate] - mol[(int)Component.Acetate]) / litres;

    /// <summary>
    /// Nitrogen as one demand, divided between its two forms as dNH4 / dNO3 = p NH4 / NO3. Over a step that integrates to NH4 = NH4₀ s^p with
    /// NO3 = NO3₀ s, and s follows from what is left in all.
    /// </summary>
    private static double TakeUpNitrogen(Span<double> mol, Span<double> taken, double most, double half, double preference, double freeCations, ref double charge)
    {
        var ammonium = mol[(int)Component.Ammonium];
        var nitrate = mol[(int)Component.Nitrate];
        var there = ammonium + nitrate;
        if (there <= 0)
        {
            return 0;
        }

        var demand = most * (freeCations * preference * ammonium + nitrate) / (preference * ammonium + nitrate);
        var total = Saturating(there, demand, half);
        var left = there - total;
        var power = Math.Max(0.05, preference * freeCations);
        var ammoniumLeft = left <= 0 ? 0 : nitrate <= 0 ? left : LeftOfAmmonium(ammonium, nitrate, left, power);
        Take(mol, taken, Component.Ammonium, ammonium - ammoniumLeft, ref charge);
        Take(mol, taken, Component.Nitrate, nitrate - Math.Max(0, left - ammoniumLeft), ref charge);
        return total;
    }

    private static double LeftOfAmmonium(double ammonium, double nitrate, double left, double power)
    {
        if (ammonium <= 0)
        {
            return 0;
        }

        // A s^p + N s = left rises in s. From the side on which its curvature cannot overshoot, Newton closes in without safeguards.
        var s = power >= 1 ? 1 : Math.Pow(left / (ammonium + nitrate), 1 / power);
        for (var i = 0; i < 20; i++)
        {
            var raised = ammonium * Math.Pow(s, power);
            var step = (raised + nitrate * s - left) / (raised * power / s + nitrate);
            s -= step;
            if (Math.Abs(step) <= 1e-12 * s)
            {
                break;
            }
        }

        return Math.Min(left, ammonium * Math.Pow(s, power));
    }

    /// <summary>
    /// What an uptake that saturates takes in a step, by the backward Euler rule: n' = n - most n' / (half + n'), a quadratic. It takes exactly
    /// "most" where there is plenty and never more than there is.
    /// </summary>
    private static double Saturating(double there, double most, double half)
    {
        if (there < NothingMol)
        {
            // The last trace goes whole: logarithms of 1e-300 mol help nobody.
            return Math.Max(0, there);
        }

        var b = there - half - most;
        var root = Math.Sqrt(b * b + 4 * there * half);
        var left = b >= 0 ? (b + root) / 2 : 2 * there * half / (root - b);
        return there - left;
    }

    private static void Take(Span<double> mol, Span<double> taken, Component component, double most, double half, ref double charge) =>
        Take(mol, taken, component, Saturating(mol[(int)component], most, half), ref charge);

    private static double Take(Span<double> mol, Span<double> taken, Component component, double amount, ref double charge)
    {
        mol[(int)component] -= amount;
        taken[(int)component] += amount;
        charge += amount * PotChemistry.Charges[(int)component];
        return amount;
    }

    /// <summary>What microbes turn into something else in a step: NH4+ to NO3- + 2 H+; urea to 2 NH4+ + CO3-2; citrate-3 to 6 CO3-2 + 9 H+; acetate- to 2 CO3-2 + 3 H+.</summary>
    public static void Transform(Span<double> mol, Span<double> made, double litres, in Decay decay, PotParameters parameters)
    {
        if (litres <= 0)
        {
            return;
        }

        Span<double> change = stackalloc double[ComponentAmounts.Count];
        var nitrified = mol[(int)Component.Ammonium] * decay.Ammonium / (1 + Acidity(mol, litres) / parameters.NitrificationHalfAcidityMolPerLitre);
        var urea = Gone(mol[(int)Component.Urea], decay.Urea);
        var citrate = Gone(mol[(int)Component.Citrate], decay.Citrate);
        var acetate = Gone(mol[(int)Component.Acetate], decay.Acetate);
        if (nitrified + urea + citrate + acetate <= 0)
        {
            return;
        }

        change[(int)Component.Ammonium] = 2 * urea - nitrified;
        change[(int)Component.Nitrate] = nitrified;
        change[(int)Component.Urea] = -urea;
        change[(int)Component.Citrate] = -citrate;
        change[(int)Component.Acetate] = -acetate;
        change[(int)Component.Carbonate] = urea + 6 * citrate + 2 * acetate;
        change[(int)Component.Hydrogen] = 2 * nitrified + 9 * citrate + 3 * acetate;
        Add(mol, change, 1);
        Add(made, change, 1);
    }

    private static double Gone(double mol, double share) => mol < NothingMol ? mol : mol * share;

    /// <summary>The medium gives base as cations with hydroxide, mol of charge; when negative it binds cations out of the water and leaves acid, as far as there are cations.</summary>
    /// <returns>Base really given.</returns>
    public static double GiveBase(Span<double> mol, Span<double> given, double amount, in CationShares shares)
    {
        if (amount < 0)
        {
            var cations = 2 * mol[(int)Component.Calcium] + 2 * mol[(int)Component.Magnesium] + mol[(int)Component.Potassium] + mol[(int)Component.Sodium];
            if (cations <= 0)
            {
                return 0;
            }

            // At most half of the cations in one step: an exchanger never strips a water bare.
            var share = Math.Max(amount, -0.5 * cations) / cations;
            foreach (var component in (ReadOnlySpan<Component>)[Component.Calcium, Component.Magnesium, Component.Potassium, Component.Sodium])
            {
                var bound = mol[(int)component] * share;
                mol[(int)component] += bound;
                given[(int)component] += bound;
            }

            amount = share * cations;
        }
        else
        {
            AddCations(mol, given, amount, shares);
        }

        mol[(int)Component.Hydrogen] -= amount;
        given[(int)Component.Hydrogen] -= amount;
        return amount;
    }

    /// <summary>Neutral salt out of the medium, mol of charge of each sign: half chloride, half sulfate.</summary>
    public static void GiveSalt(Span<double> mol, Span<double> given, double amount, in CationShares shares)
    {
        AddCations(mol, given, amount, shares);
        foreach (var (component, moles) in (ReadOnlySpan<(Component, double)>)[(Component.Chloride, amount / 2), (Component.Sulfate, amount / 4)])
        {
            mol[(int)component] += moles;
            given[(int)component] += moles;
        }
    }

    private static void AddCations(Span<double> mol, Span<double> given, double charge, in CationShares shares)
    {
        foreach (var (component, moles) in (ReadOnlySpan<(Component, double)>)
            [(Component.Calcium, charge * shares.Calcium / 2), (Component.Magnesium, charge * shares.Magnesium / 2), (Component.Potassium, charge * shares.Potassium), (Component.Sodium, charge * shares.Sodium)])
        {
            mol[(int)component] += moles;
            given[(int)component] += moles;
        }
    }

    public static void Add(Span<double> to, ReadOnlySpan<double> what, double factor)
    {
        for (var i = 0; i < to.Length; i++)
        {
            to[i] += what[i] * factor;
        }
    }
}

/// <summary>Shares that decay in one step, 1 - exp(-rate × step).</summary>
internal readonly record struct Decay(double Ammonium, double Urea, double Citrate, double Acetate)
{
    /// <summary>What a first-order process has done after rate × time = x: 1 - exp(-x).</summary>
    public static double ShareGone(double x) => 1 - Math.Exp(-x);

    public static Decay Over(double days, PotParameters parameters) => new(
        ShareGone(parameters.NitrificationPerDay * days), ShareGone(parameters.UreaBreakdownPerDay * days),
        ShareGone(parameters.CitrateBreakdownPerDay * days), ShareGone(parameters.AcetateBreakdownPerDay * days));
}
