using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Tests.References;

/// <summary>Measured conductivities. What was fitted to which row is said in docs/science/conductivity.md; the other rows are checks.</summary>
public sealed class ConductivityStandardsTests
{
    // NIST molal KCl, µS/cm: CRC Handbook "Standard KCl solutions for calibrating conductivity cells", citing Wu, Koch and Pratt,
    // J. Res. NIST 96 (1991) 191; Pratt et al., Pure Appl. Chem. 73 (2001) 1783. Uncertainty 0.04 %.
    [Theory]
    [InlineData(5, 890.96, 8183.70)]
    [InlineData(10, 1013.95, 9291.72)]
    [InlineData(15, 1141.45, 10437.1)]
    [InlineData(18, 1219.93, 11140.6)]
    [InlineData(20, 1273.03, 11615.9)]
    [InlineData(25, 1408.23, 12824.6)]
    [InlineData(30, 1546.63, 14059.2)]
    [InlineData(35, 1687.79, 15316.0)]
    public void KCl_standards_are_within_one_percent(double celsius, double hundredthMolal, double tenthMolal)
    {
        (Solutions.Solve("KCl=10", celsius).ConductivityMicrosiemensPerCm / hundredthMolal).ShouldBe(1, 0.01);
        (Solutions.Solve("KCl=100", celsius).ConductivityMicrosiemensPerCm / tenthMolal).ShouldBe(1, 0.01);
    }

    // Λ 146.88 S cm²/mol from the CRC table, water's own 0.05 added: 146.93 µS/cm (from memory).
    [Fact]
    public void A_thousandth_molar_KCl_is_within_one_percent() => (PerLitre("KCl", 0.001) / 146.93).ShouldBe(1, 0.01);

    // CRC Handbook, "Equivalent conductivity of electrolytes in aqueous solution" (Vanysek), 25 °C, S cm²/eq at eq/L; values from memory
    // but NaCl 0.001 and HCl, which were opened (HCl: Hamer and DeWane, NSRDS-NBS 33).
    [Theory]
    [InlineData("KCl", 1, 0.0005, 147.74)]
    [InlineData("KCl", 1, 0.001, 146.88)]
    [InlineData("KCl", 1, 0.005, 143.48)]
    [InlineData("KCl", 1, 0.01, 141.20)]
    [InlineData("KCl", 1, 0.02, 138.27)]
    [InlineData("KCl", 1, 0.05, 133.30)]
    [InlineData("KCl", 1, 0.1, 128.90)]
    [InlineData("NaCl", 1, 0.001, 123.68)]
    [InlineData("NaCl", 1, 0.005, 120.59)]
    [InlineData("NaCl", 1, 0.01, 118.45)]
    [InlineData("NaCl", 1, 0.05, 111.01)]
    [InlineData("NaCl", 1, 0.1, 106.69)]
    [InlineData("CaCl2", 2, 0.001, 130.30)]
    [InlineData("CaCl2", 2, 0.005, 124.19)]
    [InlineData("CaCl2", 2, 0.01, 120.30)]
    [InlineData("CaCl2", 2, 0.05, 108.42)]
    [InlineData("MgCl2", 2, 0.001, 124.15)]
    [InlineData("MgCl2", 2, 0.005, 118.25)]
    [InlineData("MgCl2", 2, 0.01, 114.49)]
    [InlineData("Na2SO4", 2, 0.001, 124.09)]
    [InlineData("Na2SO4", 2, 0.01, 112.38)]
    [InlineData("Na2SO4", 2, 0.05, 97.70)]
    [InlineData("KHCO3", 1, 0.001, 115.28)]
    [InlineData("KHCO3", 1, 0.005, 112.18)]
    [InlineData("KHCO3", 1, 0.01, 110.03)]
    [InlineData("NH4Cl", 1, 0.01, 141.21)]
    [InlineData("NH4Cl", 1, 0.1, 128.69)]
    [InlineData("HCl", 1, 0.001, 421.2)]
    [InlineData("HCl", 1, 0.005, 415.7)]
    [InlineData("HCl", 1, 0.01, 411.9)]
    public void Equivalent_conductivities_are_within_two_percent(string salt, int equivalentsPerMole, double equivalentsPerLitre, double expected) =>
        (PerLitre(salt, equivalentsPerLitre / equivalentsPerMole) / 1000 / equivalentsPerLitre / expected).ShouldBe(1, 0.02);

    [Fact]
    public void Pure_water_conducts_by_its_own_ions_alone() =>
        // 0.0548 µS/cm at 25 °C, the accepted value of ultrapure water (from memory), to its printed digits.
        Solutions.Solve("").ConductivityMicrosiemensPerCm.ShouldBe(0.0548, 0.0005);

    private static double PerLitre(string salt, double molPerLitre) => EquilibriumSolver.Solve(
        SolutionVolume.MolPerKgWaterFromMolPerLitre(Formula.Parse(salt).ComponentsPerMole.Scaled(molPerLitre), Temperature.Reference)).Required().ConductivityMicrosiemensPerCm;
}
