using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Tests.References;

/// <summary>Element totals of published nutrient solutions from their salts.</summary>
public sealed class PublishedSolutions
{
    private sealed record Case(string Name, string MgPerLitre, string MmolPerLitre, string Expected);

    // Elements in mg/L. The computed column carries four digits (0.1 % or the last digit); printed ones are rounded in print.
    private static readonly Case[] s_cases =
    [
        // Hoagland & Arnon 1950, Calif. Agr. Exp. Sta. Circ. 347, recipe from memory; elements: N 210, P 31, K 235, Ca 200, Mg 48.6, S 64 in encyclopedia copies.
        new("Hoagland & Arnon no. 1", "", "KNO3 5;Ca(NO3)2 5;KH2PO4 1;MgSO4 2", "NitrateNitrogen 210.1;AmmoniumNitrogen 0;Phosphorus 30.97;Potassium 234.6;Calcium 200.4;Magnesium 48.6;Sulfur 64.1"),
        // The same recipe as mg/L of the hydrates.
        new("Hoagland & Arnon no. 1 by weight", "KNO3 505.5;Ca(NO3)2·4H2O 1180.7;KH2PO4 136.1;MgSO4·7H2O 492.9", "", "NitrateNitrogen 210.1;Phosphorus 30.97;Potassium 234.6;Calcium 200.4;Magnesium 48.6;Sulfur 64.1"),
        new("Hoagland & Arnon no. 2", "", "KNO3 6;Ca(NO3)2 4;NH4H2PO4 1;MgSO4 2", "NitrateNitrogen 196.1;AmmoniumNitrogen 14.01;Phosphorus 30.97;Potassium 234.6;Calcium 160.3;Magnesium 48.6;Sulfur 64.1"),
        // Their micronutrients, 1 mL/L of a g/L stock; printed B 0.50, Mn 0.50, Zn 0.05, Cu 0.02, Mo 0.011.
        new("Hoagland & Arnon micronutrients", "H3BO3 2.86;MnCl2·4H2O 1.81;ZnSO4·7H2O 0.22;CuSO4·5H2O 0.08;H2MoO4·H2O 0.02", "", "Boron 0.50;Manganese 0.50;Zinc 0.05;Copper 0.02;Molybdenum 0.011;Chloride 0.65"),
        // Cooper 1979, nutrient film technique, from memory; printed N 200 P 60 K 300 Ca 170 Mg 50 Fe 12 Mn 2 B .3 Cu .1 Mo .2 Zn .1.
        new("Cooper 1979", "KNO3 583;Ca(NO3)2·4H2O 1003;KH2PO4 263;MgSO4·7H2O 513;NaFeEDTA 79;MnSO4·H2O 6.1;H3BO3 1.7;CuSO4·5H2O 0.39;(NH4)6Mo7O24·4H2O 0.37;ZnSO4·7H2O 0.44", "",
            "Nitrogen 199.8;Phosphorus 59.9;Potassium 301;Calcium 170.2;Magnesium 50.6;Sulfur 68;Iron 12.0;Manganese 1.98;Boron 0.30;Copper 0.10;Molybdenum 0.20;Zinc 0.10"),
        // Steiner 1984, from memory: meq/L NO3 12, H2PO4 1, SO4 7 / K 7, Ca 9, Mg 4, here as salts that give these ions.
        new("Steiner 1984", "", "KH2PO4 1;KNO3 3;Ca(NO3)2 4.5;K2SO4 1.5;MgSO4 2", "NitrateNitrogen 168.1;Phosphorus 31.0;Sulfur 112.2;Potassium 273.7;Calcium 180.4;Magnesium 48.6"),
        // Knudson C 1946 (mysheen.com, "Types and components of culture medium", and memory).
        new("Knudson C 1946", "Ca(NO3)2·4H2O 1000;(NH4)2SO4 500;MgSO4·7H2O 250;KH2PO4 250;FeSO4·7H2O 25;MnSO4·4H2O 7.5", "", "Nitrogen 224.6;Phosphorus 56.9;Potassium 71.8;Calcium 169.7;Magnesium 24.7;Sulfur 157.8;Iron 5.0;Manganese 1.85"),
        // Vacin & Went 1949, from memory, without its iron tartrate, whose formula is not fixed.
        new("Vacin & Went 1949", "Ca3(PO4)2 200;KNO3 525;KH2PO4 250;MgSO4·7H2O 250;(NH4)2SO4 500;MnSO4·4H2O 7.5", "", "Nitrogen 178.7;Phosphorus 96.8;Potassium 274.9;Calcium 77.5;Magnesium 24.7;Sulfur 154.9"),
        // Murashige & Skoog 1962, macronutrients (mysheen.com table, agrees with memory).
        new("Murashige & Skoog 1962", "NH4NO3 1650;KNO3 1900;CaCl2·2H2O 440;MgSO4·7H2O 370;KH2PO4 170", "", "Nitrogen 840.7;Potassium 783.6;Calcium 120.0;Magnesium 36.5;Phosphorus 38.7;Chloride 212;Sulfur 48.1"),
    ];

    public static TheoryData<string> Names => [.. s_cases.Select(@case => @case.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Elements_follow_from_the_salts(string name)
    {
        var @case = s_cases.Single(@case => @case.Name == name);
        var moles = ComponentAmounts.Zero;
        foreach (var (salt, mg) in Pairs(@case.MgPerLitre))
        {
            moles = moles.PlusScaled(Formula.Parse(salt).ComponentsPerMole, mg / 1000 / Formula.Parse(salt).GramsPerMole);
        }

        foreach (var (salt, mmol) in Pairs(@case.MmolPerLitre))
        {
            moles = moles.PlusScaled(Formula.Parse(salt).ComponentsPerMole, mmol / 1000);
        }

        var mgPerLitre = Nutrients.MilligramsIn(moles);
        foreach (var (element, expected) in Pairs(@case.Expected))
        {
            var found = element == "Nitrogen" ? mgPerLitre.TotalNitrogen : mgPerLitre[Enum.Parse<Nutrient>(element)];
            found.ShouldBe(expected, LastDigit(expected), $"{name}: {element}");
        }
    }

    // Facts section 2: shares computed from IUPAC weights, in per cent, three digits after the point.
    [Theory]
    [InlineData("KNO3", "N", 13.854)]
    [InlineData("KNO3", "K", 38.672)]
    [InlineData("Ca(NO3)2·4H2O", "N", 11.863)]
    [InlineData("Ca(NO3)2·4H2O", "Ca", 16.972)]
    [InlineData("KH2PO4", "P", 22.761)]
    [InlineData("KH2PO4", "K", 28.731)]
    [InlineData("NH4H2PO4", "N", 12.177)]
    [InlineData("NH4H2PO4", "P", 26.928)]
    [InlineData("MgSO4·7H2O", "Mg", 9.861)]
    [InlineData("MgSO4·7H2O", "S", 13.008)]
    [InlineData("(NH4)2SO4", "N", 21.201)]
    [InlineData("(NH4)2SO4", "S", 24.263)]
    [InlineData("NH4NO3", "N", 34.999)]
    [InlineData("CaCl2·2H2O", "Ca", 27.262)]
    [InlineData("H3BO3", "B", 17.483)]
    [InlineData("NaFeEDTA", "Fe", 15.215)]
    public void Share_of_an_element_in_a_salt(string salt, string element, double percent) =>
        (Formula.Parse(salt).MassFraction(element) * 100).ShouldBe(percent, 0.0011);

    // A trap named in facts section 2: the nitrogen of a chelator is not fertilizer nitrogen (205.8 in place of 199.8 in Cooper's solution).
    [Fact]
    public void Nitrogen_of_a_chelator_is_not_counted() =>
        Nutrients.MilligramsIn(Formula.Parse("NaFeEDTA").ComponentsPerMole).TotalNitrogen.ShouldBe(0);

    private static IEnumerable<(string Name, double Value)> Pairs(string text) => text.Split(';', StringSplitOptions.RemoveEmptyEntries)
        .Select(pair => pair.Split(' ')).Select(pair => (pair[0], double.Parse(pair[1], System.Globalization.CultureInfo.InvariantCulture)));

    // One unit of the last printed digit (recipes are themselves rounded), at least 0.1 %.
    private static double LastDigit(double value)
    {
        var text = value.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var point = text.IndexOf('.');
        return Math.Max(value * 1e-3, Math.Pow(10, point < 0 ? 0 : -(text.Length - point - 1)) * (value < 1 ? 0.6 : 1));
    }
}
