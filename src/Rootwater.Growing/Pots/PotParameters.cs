namespace Rootwater.Growing.Pots;

/// <summary>
/// Every constant of the pot model that is not a property of a medium, each with its unit. The simulator is a function of these, the
/// setup, the events and the climate, and of nothing else: a later calibration fits them per pot.
/// </summary>
public sealed record PotParameters
{
    public static PotParameters Default { get; } = new();

    // Factors on what the data sheet or the climate says; 1 until something was fitted.

    /// <summary>Factor on the medium's exchange rate.</summary>
    public double ExchangeFactor { get; init; } = 1;

    /// <summary>Factor on the base the medium gives when fresh.</summary>
    public double BaseFactor { get; init; } = 1;

    /// <summary>Added to the pH at which the medium rests.</summary>
    public double RestingPHShift { get; init; }

    /// <summary>Factor on the neutral salt the medium leaches when fresh.</summary>
    public double SaltFactor { get; init; } = 1;

    /// <summary>Factor on evaporation and transpiration together.</summary>
    public double WaterLossFactor { get; init; } = 1;

    /// <summary>Factor on uptake of every nutrient.</summary>
    public double UptakeFactor { get; init; } = 1;

    /// <summary>
    /// Base that algae leave in a reservoir in the light, meq per litre and day: they take nitrate, and a proton with each. 0: no light comes to it. Where it does, 0.02 is a beginning
    /// (<see cref="UsualAlgaeMeqPerLitreDay"/>); the calibration finds the factor.
    /// </summary>
    public double AlgaeMeqPerLitreDay { get; init; }

    /// <summary>For a reservoir that is not known to be dark. Of the order of a green film in a clear pot; from memory, no measurement found.</summary>
    public const double UsualAlgaeMeqPerLitreDay = 0.02;

    /// <summary>Added to log10 of the carbon dioxide pressure in the pot.</summary>
    public double Log10PCO2Shift { get; init; }

    // Water.

    /// <summary>Conductance of the still air layer over the medium for vapour, mol m-2 s-1. From memory: 0.2 to 0.4 for a few cm of still air.</summary>
    public double SurfaceConductanceMolPerM2Second { get; init; } = 0.25;

    /// <summary>Conductance of the leaf for vapour in its open hours, mol m-2 s-1. From memory: thick-leaved epiphytes 0.01 to 0.05.</summary>
    public double LeafConductanceMolPerM2Second { get; init; } = 0.025;

    /// <summary>Conductance of the closed leaf (cuticle), mol m-2 s-1. From memory.</summary>
    public double ClosedLeafConductanceMolPerM2Second { get; init; } = 0.002;

    /// <summary>How much cooler than the air a leaf is, °C; none assumed indoors.</summary>
    public double LeafCoolingCelsius { get; init; }

    /// <summary>Share of the medium's held water that evaporation cannot take (the inside of the grains).</summary>
    public double DryResidueShare { get; init; } = 0.15;

    /// <summary>Water that trades places between medium and reservoir, in shares of the medium's held water per day. From memory: the medium's foot stands in the reservoir.</summary>
    public double MixingPerDay { get; init; } = 0.10;

    /// <summary>Share of water poured from above that meets the water held in the medium; the rest runs past. From memory.</summary>
    public double PourThroughEfficiency { get; init; } = 0.6;

    // Uptake. Nitrogen: Dendrobium nobile held 339 mg N at 360 days, 0.94 mg a day (Ichinose et al. 2018, J. Plant Nutr., abstract); over a
    // leaf area taken as 0.05 m² (from memory) that is 19 mg m-2 d-1 as a mean, and half as much again while growing.

    /// <summary>Most nitrogen taken up, mg per m² of leaf and day.</summary>
    public double MostNitrogenMgPerM2Day { get; init; } = 28;

    /// <summary>Ammonium is taken this many times more readily than nitrate at the same concentration. From memory: roots prefer it.</summary>
    public double AmmoniumPreference { get; init; } = 2;

    // Other nutrients relative to nitrogen, mol/mol: Epstein 1965, "Mineral metabolism" in Bonner & Varner, Plant Biochemistry, concentrations
    // sufficient for growth (N 1000, K 250, Ca 125, Mg 80, P 60, S 30 by number of atoms).

    public double PotassiumPerNitrogen { get; init; } = 0.250;
    public double CalciumPerNitrogen { get; init; } = 0.125;
    public double MagnesiumPerNitrogen { get; init; } = 0.080;
    public double PhosphorusPerNitrogen { get; init; } = 0.060;
    public double SulfurPerNitrogen { get; init; } = 0.030;

    /// <summary>Concentration at which uptake is half its most, mol/L; the same for all but phosphate. From memory: 20 to 100 µmol/L for high-affinity uptake.</summary>
    public double HalfUptakeMolPerLitre { get; init; } = 50e-6;

    /// <summary>The same for phosphate, mol/L. From memory: about 5 to 20 µmol/L.</summary>
    public double HalfPhosphateUptakeMolPerLitre { get; init; } = 10e-6;

    /// <summary>Acidity at which uptake of cations (ammonium among them) is halved, mol/L: pH 4. From memory, after Islam, Edwards and Asher 1980: below pH 4 to 4.5 protons compete with cations.</summary>
    public double CationHalfAcidityMolPerLitre { get; init; } = 1e-4;

    // Warmth and light. Water and medium know them by the climate; what lives goes faster in both.

    /// <summary>How many times faster what lives (uptake, algae, microbes) goes for each 10 °C. From memory: 2 to 3 for uptake of ions and for nitrification.</summary>
    public double BiologyQ10 { get; init; } = 2;

    /// <summary>Air temperature at which the rates of what lives are as stated, °C.</summary>
    public double StatedAtCelsius { get; init; } = 21;

    /// <summary>Hours of light at which uptake and algae are as stated where no light was read; they go in proportion to them.</summary>
    public double StatedAtLightHours { get; init; } = 12;

    /// <summary>Light at which uptake and algae are as stated where it was read, mol m-2 d-1. From memory: enough for a Phalaenopsis.</summary>
    public double StatedAtMolesPerM2Day { get; init; } = 6;

    /// <summary>Light at which they are half of their most, mol m-2 d-1. From memory: plants of the shade are nearly sated by 6 to 10.</summary>
    public double HalfLightMolesPerM2Day { get; init; } = 3;

    // What microbes do, first order, per day. From memory; in clay with few microbes they are slow.

    /// <summary>Ammonium to nitrate, per day. Each mole frees two protons.</summary>
    public double NitrificationPerDay { get; init; } = 0.02;

    /// <summary>Acidity at which nitrification is halved, mol/L: pH 5. From memory: it nearly stops below pH 5.</summary>
    public double NitrificationHalfAcidityMolPerLitre { get; init; } = 1e-5;

    /// <summary>Urea to ammonium and carbonate, per day.</summary>
    public double UreaBreakdownPerDay { get; init; } = 0.3;

    /// <summary>Citrate to carbonate, per day: the pH it held down comes back.</summary>
    public double CitrateBreakdownPerDay { get; init; } = 0.5;

    /// <summary>Acetate to carbonate, per day.</summary>
    public double AcetateBreakdownPerDay { get; init; } = 0.7;

    // Carbon dioxide, first order towards balance with the pot air, per hour.

    /// <summary>Thin films of water in the medium, per hour. From memory: minutes to an hour.</summary>
    public double MediumGasExchangePerHour { get; init; } = 1;

    /// <summary>Standing water in the reservoir, per hour; the same figure the can plan uses (common practice, no source).</summary>
    public double ReservoirGasExchangePerHour { get; init; } = 0.05;

    /// <summary>Longest step of the simulator, hours (0.25 to 12). 1.5 keeps the step error of pH below 0.1 even where nothing buffers any more, which a test holds; the steps are cheap beside the solves.</summary>
    public double StepHours { get; init; } = 1.5;

    /// <summary>How much faster microbes are in this air than stated.</summary>
    public double PaceByWarmth(PotClimate climate) => Math.Pow(BiologyQ10, (climate.AirTemperatureCelsius - StatedAtCelsius) / 10);

    /// <summary>How much faster roots and algae are in this air and light than stated.</summary>
    public double PaceByWarmthAndLight(PotClimate climate)
    {
        double Sated(double moles) => moles / (moles + HalfLightMolesPerM2Day);
        return PaceByWarmth(climate) * (climate.LightMolesPerM2Day is { } moles ? Sated(moles) / Sated(StatedAtMolesPerM2Day) : climate.LightHoursPerDay / StatedAtLightHours);
    }

    internal void Check()
    {
        PotInputException.RequireWithin("parameters.stepHours", StepHours, 0.25, 12, "hours");
        foreach (var (name, value) in new[] { (nameof(ExchangeFactor), ExchangeFactor), (nameof(BaseFactor), BaseFactor), (nameof(SaltFactor), SaltFactor), (nameof(WaterLossFactor), WaterLossFactor), (nameof(UptakeFactor), UptakeFactor) })
        {
            PotInputException.RequireWithin("parameters." + name, value, 0, 100, "(a factor)");
        }

        PotInputException.RequireWithin("parameters." + nameof(RestingPHShift), RestingPHShift, -4, 4, "(pH)");
        PotInputException.RequireWithin("parameters." + nameof(AlgaeMeqPerLitreDay), AlgaeMeqPerLitreDay, 0, 5, "meq per litre and day");
    }
}
