using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Labels;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.References;

/// <summary>Printed arithmetic of extension services. Each row names its source; tolerances are the printed digits, or the rounding that the source itself does.</summary>
public sealed class ArithmeticOracles
{
    // Conversion factors: Reiter, Virginia Tech SPES-201, "Conversion Factors Needed for Common Fertilizer Calculations";
    // SGS/IFA conversion table (second value where it differs). Old atomic weights in print: 0.1 % relative.
    [Theory]
    [InlineData(DeclaredForm.PhosphorusPentoxide, 0.4365)]
    [InlineData(DeclaredForm.PhosphorusPentoxide, 0.4364)]
    [InlineData(DeclaredForm.PotassiumOxide, 0.8301)]
    [InlineData(DeclaredForm.PotassiumOxide, 0.8302)]
    [InlineData(DeclaredForm.CalciumOxide, 0.7147)]
    [InlineData(DeclaredForm.MagnesiumOxide, 0.6032)]
    [InlineData(DeclaredForm.Sulfate, 0.3339)]
    public void Oxide_to_element(DeclaredForm form, double printed) => form.ElementFraction().ShouldBe(printed, printed * 1e-3);

    // "SO3/2.5": a label-law page; two digits, so 0.2 %.
    [Fact]
    public void Sulfur_trioxide_to_sulfur() => DeclaredForm.SulfurTrioxide.ElementFraction().ShouldBe(1 / 2.5, 0.002 * 0.4);

    // SPES-201: N to KNO3 7.2162, N to (NH4)2SO4 4.7160 and its inverse 0.2120.
    [Theory]
    [InlineData("KNO3", 7.2162)]
    [InlineData("(NH4)2SO4", 4.7160)]
    public void Nitrogen_to_salt(string salt, double printed) => (1 / Formula.Parse(salt).MassFraction("N")).ShouldBe(printed, printed * 1e-3);

    // UMass Extension, "Fertilizer Calculations for Greenhouse Crops" (first two rows); Texas A&M, "Nutrition and Fertility" (last).
    // Printed ounces are rounded to the half or whole ounce.
    [Theory]
    [InlineData(200, 0.20, 13.5, 0.25)]
    [InlineData(200, 0.15, 18, 0.5)]
    [InlineData(250, 0.15, 22, 0.5)]
    public void Ounces_per_100_gallons(double nitrogenMgPerLitre, double massFraction, double printedOunces, double rounding) =>
        MassDose.ForElement(nitrogenMgPerLitre, massFraction).OuncesPer100Gallons.ShouldBe(printedOunces, rounding);

    // The same rows the other way, against the exact figure computed from the definitions of ounce and gallon (facts 1.1, 1.2).
    [Theory]
    [InlineData(13.5, 0.20, 202.2)]
    [InlineData(18, 0.15, 202.2)]
    public void Nitrogen_from_ounces(double ounces, double massFraction, double exactMgPerLitre) =>
        MassDose.FromOuncesPer100Gallons(ounces).ElementMgPerLitre(massFraction).ShouldBe(exactMgPerLitre, 0.05);

    // Texas A&M: one ounce of a 15 % salt in 100 gallons is 11.25 ppm, the "times 75" rule; the true constant is 74.89.
    [Fact]
    public void The_times_75_rule_holds_to_two_digits()
    {
        MassDose.FromOuncesPer100Gallons(1).ElementMgPerLitre(0.15).ShouldBe(11.25, 0.03);
        MassDose.FromOuncesPer100Gallons(1).ElementMgPerLitre(1).ShouldBe(74.89, 0.005);
    }

    // A slip in print (same Texas A&M page): 0.33 x 75 = 29.75, and so 5 oz for 150 ppm and 7 oz for 200 ppm. It must not be reproduced.
    [Fact]
    public void The_printed_slip_of_29_75_is_not_reproduced()
    {
        MassDose.FromOuncesPer100Gallons(1).ElementMgPerLitre(0.33).ShouldBe(24.71, 0.005);
        MassDose.ForElement(150, 0.33).OuncesPer100Gallons.ShouldBe(6.07, 0.01);
        MassDose.ForElement(200, 0.33).OuncesPer100Gallons.ShouldBe(8.09, 0.01);
    }

    // Faber, UC ANR, water-quality terms (2014): 200 ppm Ca is 10 meq/L, with the equivalent weight rounded to 20.
    [Fact]
    public void Calcium_in_milliequivalents() => (200 / (Formula.Parse("CaO").GramsPerMole * Formula.Parse("CaO").MassFraction("Ca")) * 2).ShouldBe(10, 0.05);

    // Bailey, NC State, "Alkalinity control for irrigation water used in greenhouses".
    [Fact]
    public void One_milliequivalent_of_alkalinity()
    {
        Alkalinity.From(1, CarbonateScale.MeqPerLitre).In(CarbonateScale.MgPerLitreAsCaCO3).ShouldBe(50.04, 0.005);
        Alkalinity.From(1, CarbonateScale.MeqPerLitre).MgBicarbonatePerLitre.ShouldBe(61.016, 0.001);
    }

    // FAO glossary, "hardness": 1 meq/L is 2.805 °dH and 28 mg/L CaO (0.1 %: old weights).
    [Fact]
    public void One_milliequivalent_of_hardness_in_german_degrees() =>
        Hardness.From(1, CarbonateScale.MeqPerLitre).In(CarbonateScale.GermanDegrees).ShouldBe(2.805, 0.003);

    // German degree 17.848 mg/L CaCO3 (encyclopedia copy), with its equivalents computed from IUPAC weights; French, English degree and grain per
    // US gallon from memory (10, 14.254, 17.118 mg/L CaCO3).
    [Theory]
    [InlineData(CarbonateScale.GermanDegrees, 17.848)]
    [InlineData(CarbonateScale.FrenchDegrees, 10)]
    [InlineData(CarbonateScale.EnglishDegrees, 14.254)]
    [InlineData(CarbonateScale.GrainsPerUsGallon, 17.118)]
    public void One_degree_as_calcium_carbonate(CarbonateScale scale, double printedMgPerLitre)
    {
        Hardness.From(1, scale).In(CarbonateScale.MgPerLitreAsCaCO3).ShouldBe(printedMgPerLitre, 0.0006);
        Alkalinity.From(1, scale).In(CarbonateScale.MgPerLitreAsCaCO3).ShouldBe(printedMgPerLitre, 0.0006);
    }

    [Fact]
    public void One_german_degree_in_ions()
    {
        var hardness = Hardness.From(1, CarbonateScale.GermanDegrees);
        hardness.MeqPerLitre.ShouldBe(0.35665, 5e-6);
        hardness.MmolPerLitre.ShouldBe(0.17833, 5e-6);
        (hardness.MmolPerLitre * Nutrients.CarrierOf(Nutrient.Calcium).GramsPerMole).ShouldBe(7.147, 5e-4);
        (hardness.MmolPerLitre * Nutrients.CarrierOf(Nutrient.Magnesium).GramsPerMole).ShouldBe(4.334, 5e-4);
        Alkalinity.From(1, CarbonateScale.GermanDegrees).MgBicarbonatePerLitre.ShouldBe(21.76, 5e-3);
        Hardness.From(1, CarbonateScale.FrenchDegrees).MeqPerLitre.ShouldBe(0.1998, 5e-5);
    }

    // APHA Standard Methods 2340 B (form from memory): hardness = 2.497 Ca + 4.118 Mg.
    [Theory]
    [InlineData(Nutrient.Calcium, 2.497)]
    [InlineData(Nutrient.Magnesium, 4.118)]
    public void Hardness_of_a_milligram(Nutrient nutrient, double printed) =>
        Hardness.FromMmolPerLitre(1 / Nutrients.CarrierOf(nutrient).GramsPerMole).In(CarbonateScale.MgPerLitreAsCaCO3).ShouldBe(printed, 5e-4);

    // Computed from IUPAC weights, five digits: nitrate, ammonium and sulfate as the element.
    [Theory]
    [InlineData(WaterQuantity.Nitrate, 0.22590)]
    [InlineData(WaterQuantity.Ammonium, 0.77648)]
    [InlineData(WaterQuantity.Sulfate, 0.33376)]
    public void Ion_to_element(WaterQuantity quantity, double factor)
    {
        var ion = WaterIon.Find(quantity).ShouldNotBeNull();
        (ion.ElementGramsPerMole / ion.IonGramsPerMole).ShouldBe(factor, 1e-5);
    }

    // The same source: CaCO3 per HCO3 0.82016.
    [Fact]
    public void Bicarbonate_as_calcium_carbonate() =>
        Alkalinity.FromMgBicarbonatePerLitre(1).In(CarbonateScale.MgPerLitreAsCaCO3).ShouldBe(0.82016, 5e-6);

    // Faber, UC ANR (2014): 640 ppm for 1 dS/m; 1 dS/m = 1 mS/cm = 1000 µS/cm. The 0.5 and 0.7 conventions by their names.
    [Theory]
    [InlineData(ConductivityScale.Ppm640, 640)]
    [InlineData(ConductivityScale.Ppm500, 500)]
    [InlineData(ConductivityScale.Ppm700, 700)]
    [InlineData(ConductivityScale.MicrosiemensPerCm, 1000)]
    public void One_millisiemens_on_every_scale(ConductivityScale scale, double shown) =>
        ElectricalConductivity.From(1, ConductivityScale.MillisiemensPerCm).In(scale).ShouldBe(shown, 1e-9);

    // "Conductivity to TDS conversion factors" (appendix, identical in two meter manuals), 25 °C: dissolved salt that reads this EC.
    // "442" is 40 % Na2SO4, 40 % NaHCO3, 20 % NaCl. 2 % is what the issue asks of EC, 5 % where sulfate is above 0.5 mmol/kg.
    [Theory]
    // Two KCl rows of the table are off by themselves: Kohlrausch's law with 149.85 - 94.9 sqrt(c) S cm2/mol gives 438 and 1424 µS/cm for them.
    [InlineData(447, 225.6, 0, 0, 0.03)]
    [InlineData(1413, 744.7, 0, 0, 0.02)]
    [InlineData(1500, 757.1, 0, 0, 0.05)]
    [InlineData(12880, 7447, 0, 0, 0.02)]
    [InlineData(447, 0, 215.5, 0, 0.02)]
    [InlineData(1413, 0, 702.1, 0, 0.02)]
    [InlineData(1500, 0, 737.1, 0, 0.02)]
    [InlineData(12880, 0, 7230, 0, 0.02)]
    [InlineData(447, 0, 0, 300, 0.05)]
    [InlineData(1413, 0, 0, 1000, 0.05)]
    [InlineData(1500, 0, 0, 1050, 0.05)]
    public void Salt_that_reads_a_conductivity(double printedMicrosiemens, double kclMgPerLitre, double naclMgPerLitre, double mix442MgPerLitre, double relative)
    {
        ComponentAmounts Moles(string formula, double mg) => Formula.Parse(formula).ComponentsPerMole.Scaled(mg / 1000 / Formula.Parse(formula).GramsPerMole);
        var totals = Moles("KCl", kclMgPerLitre)
            .Plus(Moles("NaCl", naclMgPerLitre + 0.2 * mix442MgPerLitre))
            .Plus(Moles("Na2SO4", 0.4 * mix442MgPerLitre))
            .Plus(Moles("NaHCO3", 0.4 * mix442MgPerLitre));
        EquilibriumSolver.Solve(totals).Required().ConductivityMicrosiemensPerCm.ShouldBe(printedMicrosiemens, relative * printedMicrosiemens);
    }

    // Closed system, 25 °C, pK1 6.35, pK2 of phosphoric acid 7.20 (Stumm & Morgan, from memory): share of bicarbonate neutralised, and protons that one
    // H3PO4 gives. The printed table takes no account of activities, so the water here is made very dilute; 0.6 % and 0.01 for pK 6.352 and 7.212.
    [Theory]
    [InlineData(5.5, 0.876, 1.02)]
    [InlineData(5.8, 0.780, 1.04)]
    [InlineData(6.0, 0.691, 1.06)]
    [InlineData(6.2, 0.586, 1.09)]
    [InlineData(6.5, 0.415, 1.17)]
    public void Bicarbonate_neutralised_at_an_end_point(double pH, double share, double protonsPerPhosphoricAcid)
    {
        var trace = ComponentAmounts.From((Component.Sodium, 2e-6), (Component.Hydrogen, 2e-6), (Component.Carbonate, 1e-6), (Component.Phosphate, 1e-6));
        var solution = EquilibriumSolver.Solve(trace, new SolveConditions { FixedPH = pH }).Required();
        (solution.ProtonsPerMole(Component.Carbonate) - 1).ShouldBe(share, 0.006);
        (3 - solution.ProtonsPerMole(Component.Phosphate)).ShouldBe(protonsPerPhosphoricAcid, 0.01);
    }

    // Bailey (from memory): about 80 % of the alkalinity has to go for pH 5.8.
    [Fact]
    public void The_eighty_per_cent_rule_for_pH_5_8()
    {
        var solution = EquilibriumSolver.Solve(
            ComponentAmounts.From((Component.Sodium, 3e-3), (Component.Hydrogen, 3e-3), (Component.Carbonate, 3e-3)), new SolveConditions { FixedPH = 5.8 }).Required();
        (solution.ProtonsPerMole(Component.Carbonate) - 1).ShouldBe(0.8, 0.03);
    }
}
