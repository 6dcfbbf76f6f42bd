using System.Globalization;
using Rootwater.Chemistry.Equilibrium;

namespace Rootwater.Chemistry.Tests.References;

/// <summary>
/// Six solutions with citric or acetic acid, EDTA and micronutrients, solved by PHREEQC 3.8.9 with minteq.v4.dat (Data/cases-organic.csv).
/// That database's other constants differ from ours, so: pH within 0.05, chelated share within 0.02.
/// </summary>
public sealed class OrganicAndChelateTests
{
    private static readonly Dictionary<string, Dictionary<string, string>> s_cases = ReferenceSolutionsTests.Read("cases-organic.csv");

    /// <summary>The reference gives totals; these neutral reagents make the same ones.</summary>
    private static readonly Dictionary<string, string> s_reagents = new()
    {
        ["O01"] = "C6H8O7=1",
        ["O03"] = "CH3COOH=1",
        ["O05"] = "CaCO3=1.5;MgCO3=0.4;NaCl=0.3;HCl=0.2;CO2=1.7;C6H8O7=0.5",
        ["O08"] = "CaCO3=1.5;MgCO3=0.4;NaCl=0.3;HCl=0.2;CO2=1.7;CH3COOH=1.5",
        ["O12"] = "KH2PO4=1;KNO3=5;Ca(NO3)2=5;MgSO4=2;NaFeEDTA=0.04",
        ["O14"] = "KH2PO4=1;KNO3=5;Ca(NO3)2=5;MgSO4=2;NaFeEDTA=0.04;ZnSO4=0.002;CuSO4=0.001;MnSO4=0.009",
    };

    public static TheoryData<string> Cases => [.. s_reagents.Keys];

    [Theory]
    [MemberData(nameof(Cases))]
    public void PH_is_within_a_twentieth(string id) => Solutions.Solve(s_reagents[id]).PH.ShouldBe(Number(id, "pH"), 0.05);

    [Theory]
    [MemberData(nameof(Cases))]
    public void Ionic_strength_is_within_three_percent(string id) =>
        (Solutions.Solve(s_reagents[id]).IonicStrengthMolPerKgWater / Number(id, "mu")).ShouldBe(1, 0.03);

    [Theory]
    [InlineData("O12", 0.04)]
    [InlineData("O14", 0.04)]
    public void The_chelated_share_of_iron_is_within_a_fiftieth(string id, double ironMmol)
    {
        var share = Chelated(Solutions.Solve(s_reagents[id])) / (ironMmol / 1000);
        var expected = (Number(id, "m_Fe(Edta)-") + Number(id, "m_FeOH(Edta)-2") + Number(id, "m_Fe(OH)2(Edta)-3")) / (ironMmol / 1000);
        share.ShouldBe(expected, 0.02);
    }

    [Fact]
    public void Copper_takes_half_of_itself_from_iron_as_the_reference_says()
    {
        var solution = Solutions.Solve(s_reagents["O14"]);
        (solution.MolalityOf("Cu(Edta)-2") / 1e-6).ShouldBe(Number("O14", "m_Cu(Edta)-2") / 1e-6, 0.02);
    }

    [Theory]
    [InlineData("O05", "Ca(Citrate)-", "m_Ca(Citrate)-", 0.5)]
    [InlineData("O05", "Mg(Citrate)-", "m_Mg(Citrate)-", 0.5)]
    [InlineData("O03", "H(Acetate)", "m_H(Acetate)", 1)]
    [InlineData("O08", "H(Acetate)", "m_H(Acetate)", 1.5)]
    public void The_share_of_an_organic_form_is_within_a_fiftieth(string id, string species, string column, double totalMmol) =>
        (Solutions.Solve(s_reagents[id]).MolalityOf(species) / (totalMmol / 1000)).ShouldBe(Number(id, column) / (totalMmol / 1000), 0.02);

    private static double Chelated(Solution solution) =>
        solution.MolalityOf("Fe(Edta)-") + solution.MolalityOf("FeOH(Edta)-2") + solution.MolalityOf("Fe(OH)2(Edta)-3") + solution.MolalityOf("FeH(Edta)");

    private static double Number(string id, string column) => double.Parse(s_cases[id][column], CultureInfo.InvariantCulture);
}
