using CsCheck;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests.Equilibrium;

public sealed class DoseForPHTests
{
    private static readonly ComponentAmounts s_nitricPerMole = Formula.Parse("HNO3").ComponentsPerMole;
    private static readonly ComponentAmounts s_potashPerMole = Formula.Parse("KOH").ComponentsPerMole;

    /// <summary>
    /// The share of bicarbonate neutralised at an end point, closed and at 25 °C, with pK1 6.35 (Stumm and Morgan, from memory): 1/(1 + 10^(pH-pK1)).
    /// The reference notes print 87.6 % at 5.5, 78.0 % at 5.8, 69.1 % at 6.0, 58.6 % at 6.2, 41.5 % at 6.5. In a water this dilute ionic
    /// strength moves pK1 by 0.02, which is 1 % of the share at most.
    /// </summary>
    [Theory]
    [InlineData(5.5, 0.876)]
    [InlineData(5.8, 0.780)]
    [InlineData(6.0, 0.691)]
    [InlineData(6.2, 0.586)]
    [InlineData(6.5, 0.415)]
    public void Acid_for_an_end_point_neutralises_the_published_share(double ph, double share)
    {
        var dose = DoseForPH.Find(Solutions.MillimolesPerKgWater("KHCO3=1"), s_nitricPerMole, ph, 0.01);
        (dose.Amount!.Value / 1e-3).ShouldBe(share, 0.012);
    }

    [Fact]
    public void The_dose_found_gives_the_pH_asked_for() => Gen.Select(Gen.Double[0.3, 5], Gen.Double[0.1, 2], Gen.Double[4.2, 7]).Sample((bicarbonate, phosphate, ph) =>
    {
        var water = Solutions.MillimolesPerKgWater(FormattableString.Invariant($"KHCO3={bicarbonate};K2HPO4={phosphate}"));
        var dose = DoseForPH.Find(water, s_nitricPerMole, ph, 0.1);
        EquilibriumSolver.Solve(water.PlusScaled(s_nitricPerMole, dose.Amount!.Value)).Required().PH.ShouldBe(ph, 1e-6);
    }, iter: 200);

    [Fact]
    public void A_base_goes_the_other_way()
    {
        var feed = Solutions.MillimolesPerKgWater("KH2PO4=1;KNO3=3");
        DoseForPH.Find(feed, s_potashPerMole, 6.0, 0.01).Amount!.Value.ShouldBeInRange(1e-6, 1e-3);
    }

    [Fact]
    public void Acid_cannot_raise_a_pH_and_says_so()
    {
        var dose = DoseForPH.Find(Solutions.MillimolesPerKgWater("KH2PO4=1"), s_nitricPerMole, 8, 0.01);
        dose.Amount.ShouldBeNull();
        dose.Why!.ShouldContain("8.00 is not between");
    }

    [Theory]
    [InlineData(-0.1)]
    [InlineData(14.1)]
    [InlineData(double.NaN)]
    public void A_pH_off_the_scale_is_refused(double ph) =>
        Should.Throw<ArgumentOutOfRangeException>(() => DoseForPH.Find(ComponentAmounts.Zero, s_nitricPerMole, ph, 1)).Message.ShouldContain("0 to 14");
}
