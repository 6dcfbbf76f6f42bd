using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>
/// What changes the totals of a water in a pot, one step at a time. Every process is without charge as a whole: what a root takes up as
/// ions it pays for in protons, what a medium gives as cations comes with hydroxide.
/// </summary>
internal static class PotProcesses
{
    private const double NitrogenGramsPerMole = 14.007;

    /// <summary>
    /// Uptake over a step, and its proton balance: nitrate taken up takes a proton along (pH rises), ammonium leaves one (pH falls).
    /// Michaelis-Menten at the concentration of the moment; as u = n (1 - exp(-rate dt / n)) it can never take more than there is.
    /// </summary>
    /// <returns>Nitrogen taken up, mol.</returns>
    public static double TakeUp(Span<double> mol, Span<double> taken, double litres, double leafSquareMetres, double days, PotParameters parameters)
    {
        var most = parameters.MostNitrogenMgPerM2Day * 1e-3 / NitrogenGramsPerMole * leafSquareMetres * parameters.UptakeFactor * days;
        if (most <= 0 || litres <= 0)
        {
            return 0;
        }

        // Protons outside the root crowd out cations first; without this a feed of ammonium alone would sour without end.
        var freeCations = 1 / (1 + Acidity(mol, litres) / parameters.CationHalfAcidityMolPerLitre);
        var half = parameters.HalfUptakeMolPerLitre;
        var ammonium = mol[(int)Component.Ammonium];
        var nitrate = mol[(int)Component.Nitrate];
        var nitrogen = ammonium + nitrate;
        var weighted = parameters.AmmoniumPreference * ammonium + nitrate;
        var total = 0.0;
        double charge = 0;
        if (nitrogen > 0)
        {
            var wanted = most * nitrogen / (half * litres + nitrogen);
            total += Take(mol, taken, Component.Ammonium, wanted * freeCations * parameters.AmmoniumPreference * ammonium / weighted, ref charge);
            total += Take(mol, taken, Component.Nitrate, wanted * nitrate / weighted, ref charge);
        }

        Saturating(mol, taken, Component.Potassium, most * freeCations * parameters.PotassiumPerNitrogen, half * litres, ref charge);
        Saturating(mol, taken, Component.Calcium, most * freeCations * parameters.CalciumPerNitrogen, half * litres, ref charge);
        Saturating(mol, taken, Component.Magnesium, most * freeCations * parameters.MagnesiumPerNitrogen, half * litres, ref charge);
        Saturating(mol, taken, Component.Phosphate, most * parameters.PhosphorusPerNitrogen, parameters.HalfPhosphateUptakeMolPerLitre * litres, ref charge);
        Saturating(mol, taken, Component.Sulfate, most * parameters.SulfurPerNitrogen, half * litres, ref charge);
        mol[(int)Component.Hydrogen] += charge;
        taken[(int)Component.Hydrogen] -= charge;
        return total;
    }

    /// <summary>Strong acid in the water, mol/L: protons beyond H2CO3, H2PO4- and half-neutralised organic acids; zero above pH 5 or so. Close to the free protons, without a solve.</summary>
    private static double Acidity(ReadOnlySpan<double> mol, double litres) => Math.Max(0,
        mol[(int)Component.Hydrogen] - 2 * mol[(int)Component.Carbonate] - 2 * mol[(int)Component.Phosphate] - 2 * mol[(int)Component.Citrate] - mol[(int)Component.Acetate]) / litres;

    private static void Saturating(Span<double> mol, Span<double> taken, Component component, double most, double half, ref double charge)
    {
        var there = mol[(int)component];
        if (there > 0)
        {
            Take(mol, taken, component, most * there / (half + there), ref charge);
        }
    }

    private static double Take(Span<double> mol, Span<double> taken, Component component, double wanted, ref double charge)
    {
        var there = mol[(int)component];
        if (there <= 0 || wanted <= 0)
        {
            return 0;
        }

        var amount = there * Decay.ShareGone(wanted / there);
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
        var urea = mol[(int)Component.Urea] * decay.Urea;
        var citrate = mol[(int)Component.Citrate] * decay.Citrate;
        var acetate = mol[(int)Component.Acetate] * decay.Acetate;
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
