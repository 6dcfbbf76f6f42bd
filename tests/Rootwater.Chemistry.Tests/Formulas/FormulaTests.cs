using CsCheck;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests.Formulas;

public sealed class FormulaTests
{
    // Molar masses printed in the CRC Handbook and on reagent labels (from memory), g/mol, to their printed digits.
    [Theory]
    [InlineData("KNO3", 101.103)]
    [InlineData("Ca(NO3)2·4H2O", 236.15)]
    [InlineData("Ca(NO3)2.4H2O", 236.15)]
    [InlineData("MgSO4.7H2O", 246.47)]
    [InlineData("MgSO₄·7H₂O", 246.47)]
    [InlineData("CaSO4.0.5H2O", 145.15)]
    [InlineData("CaSO4·½H2O", 145.15)]
    [InlineData("5Ca(NO3)2·NH4NO3·10H2O", 1080.62)] // 5 × 164.09 + 80.04 + 180.15, the parts as printed
    [InlineData("KH2PO4", 136.086)]
    [InlineData("(NH4)2SO4", 132.13)]
    [InlineData("NH4H2PO4", 115.03)]
    [InlineData("H3PO4", 97.994)]
    [InlineData("(NH4)6Mo7O24·4H2O", 1235.92)] // older tables, with Mo 95.94, print 1235.86
    [InlineData("Na2B4O7·10H2O", 381.37)]
    [InlineData("NaFeEDTA", 367.05)]
    [InlineData("Na2H2EDTA·2H2O", 372.24)]
    [InlineData("Na2EDTA·2H2O", 372.24)]
    [InlineData("C6H8O7", 192.12)]
    [InlineData("Citrate", 192.12)]
    [InlineData("CH3COOH", 60.052)]
    [InlineData("CO(NH2)2", 60.056)]
    [InlineData("K[Fe(EDTA)]", 383.16)]
    public void Molar_masses_agree_with_the_handbook(string text, double gramsPerMole) => Formula.Parse(text).GramsPerMole.ShouldBe(gramsPerMole, 0.01);

    [Theory]
    [InlineData("KNO3", "Potassium=1;Nitrate=1")]
    [InlineData("NH4NO3", "Ammonium=1;Nitrate=1")]
    [InlineData("5Ca(NO3)2·NH4NO3·10H2O", "Calcium=5;Nitrate=11;Ammonium=1")]
    [InlineData("NH3", "Ammonium=1;Hydrogen=-1")]
    [InlineData("KOH", "Potassium=1;Hydrogen=-1")]
    [InlineData("CaO", "Calcium=1;Hydrogen=-2")]
    [InlineData("CO2", "Carbonate=1;Hydrogen=2")]
    [InlineData("KHCO3", "Potassium=1;Carbonate=1;Hydrogen=1")]
    [InlineData("K2HPO4", "Potassium=2;Phosphate=1;Hydrogen=1")]
    [InlineData("P2O5", "Phosphate=2;Hydrogen=6")]
    [InlineData("Na2B4O7", "Sodium=2;Borate=4;Hydrogen=-2")]
    [InlineData("K2SiO3", "Potassium=2;Silicate=1;Hydrogen=-2")]
    [InlineData("(NH4)6Mo7O24", "Ammonium=6;Molybdate=7;Hydrogen=8")]
    [InlineData("FeSO4·7H2O", "IronII=1;Sulfate=1")]
    [InlineData("FeCl3", "IronIII=1;Chloride=3")]
    [InlineData("Fe3O4", "IronII=1;IronIII=2;Hydrogen=-8")]
    [InlineData("NaFeEDTA", "Sodium=1;IronIII=1;Edta=1")]
    [InlineData("C10H12FeN2NaO8", null)]
    [InlineData("CaNa2EDTA", "Calcium=1;Sodium=2;Edta=1")]
    [InlineData("NaFeEDDHA", "Sodium=1;IronEddha=1")]
    [InlineData("Na2FeDTPA", "Sodium=2;IronDtpa=1")]
    [InlineData("FeHEDTA", "IronHedta=1")]
    [InlineData("K3C6H5O7·H2O", "Potassium=3;Citrate=1")]
    [InlineData("Ca(CH3COO)2", "Calcium=1;Acetate=2")]
    [InlineData("CO(NH2)2", "Urea=1")]
    [InlineData("H2O", "")]
    public void What_a_mole_brings(string text, string? components)
    {
        if (components is null)
        {
            Formula.TryParse(text, out _, out var reason).ShouldBeFalse("sum formulas of chelates are not taken apart");
            reason.ShouldNotBeNullOrEmpty();
            return;
        }

        var expected = ComponentAmounts.From(components.Split(';', StringSplitOptions.RemoveEmptyEntries)
            .Select(pair => (Enum.Parse<Component>(pair.Split('=')[0]), double.Parse(pair.Split('=')[1], System.Globalization.CultureInfo.InvariantCulture))));
        Formula.Parse(text).ComponentsPerMole.ShouldBe(expected);
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData("Foo", "'o'")]
    [InlineData("Xx", "no element")]
    [InlineData("KNO2", "nitrogen")]
    [InlineData("KMnO4", "neutral")]
    [InlineData("Na2S2O3", "neutral")]
    [InlineData("H2O2", "neutral")]
    [InlineData("Fe", "neutral")]
    [InlineData("NaAlO2", "Al")]
    [InlineData("Ca(NO3", "never closed")]
    [InlineData("Ca)NO3", "')'")]
    [InlineData("MgSO4·", "separator")]
    [InlineData("·MgSO4", "nothing before")]
    [InlineData("K0NO3", "0")]
    [InlineData("EDDHA", "iron")]
    [InlineData("kno3", "'k'")]
    public void What_cannot_be_read_says_why(string text, string part)
    {
        Formula.TryParse(text, out var formula, out var reason).ShouldBeFalse();
        formula.ShouldBeNull();
        reason!.ShouldContain(part);
        Should.Throw<FormatException>(() => Formula.Parse(text)).Message.ShouldBe(reason);
    }

    [Fact]
    public void Any_text_is_read_or_refused_but_never_breaks() => Gen.String[Gen.Char["()[]·.0123456789CHNOPSKaegFldWDTAED"], 0, 24].Sample(text =>
    {
        if (Formula.TryParse(text, out var formula, out var reason))
        {
            formula!.GramsPerMole.ShouldBeGreaterThan(0);
            Math.Abs(formula.ComponentsPerMole.NetCharge()).ShouldBeLessThan(1e-6);
        }
        else
        {
            reason.ShouldNotBeNullOrEmpty();
        }
    });

    [Theory]
    // Element shares printed for fertilizer salts (percent), computed from IUPAC weights in the reference notes, to their printed digits.
    [InlineData("KNO3", "N", 13.854)]
    [InlineData("KNO3", "K", 38.672)]
    [InlineData("Ca(NO3)2·4H2O", "N", 11.863)]
    [InlineData("Ca(NO3)2·4H2O", "Ca", 16.972)]
    [InlineData("KH2PO4", "P", 22.761)]
    [InlineData("MgSO4·7H2O", "Mg", 9.861)]
    [InlineData("MgSO4·7H2O", "S", 13.008)]
    [InlineData("(NH4)2SO4", "N", 21.201)]
    [InlineData("NH4NO3", "N", 34.999)]
    [InlineData("CaCl2·2H2O", "Ca", 27.262)]
    [InlineData("H3BO3", "B", 17.483)]
    [InlineData("NaFeEDTA", "Fe", 15.215)]
    public void Element_shares(string text, string element, double percent) => (100 * Formula.Parse(text).MassFraction(element)).ShouldBe(percent, 0.002);
}
