namespace Rootwater.Chemistry.Tests.References;

/// <summary>pH(S) of primary buffers.</summary>
public sealed class BuffersTests
{
    // 6.865 and 7.413: Bates 1962, J. Res. NBS 66A, 179 (from memory). 9.180 and 10.012: Staples and Bates 1969, J. Res. NBS 73A, 37.
    [Theory]
    [InlineData("KH2PO4=25;Na2HPO4=25", 6.865, 0.02)]
    [InlineData("KH2PO4=8.695;Na2HPO4=30.43", 7.413, 0.02)]
    [InlineData("Na2B4O7=10", 9.180, 0.02)]
    [InlineData("NaHCO3=25;Na2CO3=25", 10.012, 0.03)]
    public void At_25_degrees(string recipe, double expected, double tolerance) => Solutions.Solve(recipe).PH.ShouldBe(expected, tolerance);

    // JIS Z 8802 table (6.92 and 6.84, 10.18), printed to two decimals; van 't Hoff adds about as much again.
    [Theory]
    [InlineData("KH2PO4=25;Na2HPO4=25", 10, 6.923, 0.03)]
    [InlineData("KH2PO4=25;Na2HPO4=25", 35, 6.844, 0.03)]
    [InlineData("NaHCO3=25;Na2CO3=25", 10, 10.18, 0.04)]
    public void At_other_temperatures(string recipe, double celsius, double expected, double tolerance) => Solutions.Solve(recipe, celsius).PH.ShouldBe(expected, tolerance);

    // JIS table: 9.33 at 10 °C, 9.10 at 35 °C. The source's constant enthalpy of boric acid leaves a little more.
    [Theory]
    [InlineData(10, 9.33)]
    [InlineData(35, 9.10)]
    public void Borax_at_other_temperatures(double celsius, double expected) => Solutions.Solve("Na2B4O7=10", celsius).PH.ShouldBe(expected, 0.05);

    // pKw 13.995 at 25 °C (from memory; Marshall and Franck 1981).
    [Fact]
    public void Water_is_neutral_at_half_its_ion_product() => Solutions.Solve("").PH.ShouldBe(13.995 / 2, 0.001);
}
