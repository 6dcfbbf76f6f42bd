using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests.Equilibrium;

public sealed class CarbonDioxideExchangeTests
{
    private static readonly ComponentAmounts s_acidifiedTap = Solutions.MillimolesPerKgWater("CaCO3=1.125;MgCO3=0.375;NaCl=1;CaSO4=0.4;KCl=0.05;CO2=1.6354;HNO3=2.5");

    [Fact]
    public void Without_exchange_or_without_time_nothing_moves()
    {
        var sealedPH = EquilibriumSolver.Solve(s_acidifiedTap).Required().PH;
        CarbonDioxideExchange.After(s_acidifiedTap, 0, 24).Required().PH.ShouldBe(sealedPH, 1e-9);
        CarbonDioxideExchange.After(s_acidifiedTap, 0.1, 0).Required().PH.ShouldBe(sealedPH, 1e-9);
    }

    [Fact]
    public void After_long_enough_it_is_the_open_solution()
    {
        var open = EquilibriumSolver.Solve(s_acidifiedTap, Solutions.At(25, Air.Ambient)).Required();
        CarbonDioxideExchange.After(s_acidifiedTap, 1, 500).Required().PH.ShouldBe(open.PH, 0.01);
    }

    [Fact]
    public void The_pH_creeps_up_without_turning_and_the_alkalinity_stays()
    {
        var last = EquilibriumSolver.Solve(s_acidifiedTap).Required();
        foreach (var hours in new[] { 1.0, 3, 10, 30, 100 })
        {
            var later = CarbonDioxideExchange.After(s_acidifiedTap, 0.05, hours).Required();
            later.PH.ShouldBeGreaterThan(last.PH);
            later.AlkalinityMeqPerKgWater.ShouldBe(last.AlkalinityMeqPerKgWater, 1e-9);
            last = later;
        }
    }

    /// <summary>
    /// Against a plain small-step integration of dC/dt = -k ([CO2] - [CO2] in balance), the slow obvious version. 0.01 pH.
    /// </summary>
    [Theory]
    [InlineData(0.05, 24)]
    [InlineData(0.3, 12)]
    public void The_march_agrees_with_ten_thousand_small_steps(double ratePerHour, double hours)
    {
        const int Steps = 10_000;
        var balance = EquilibriumSolver.Solve(s_acidifiedTap, Solutions.At(25, Air.Ambient)).Required().MolalityOf("CO2");
        var totals = s_acidifiedTap;
        for (var i = 0; i < Steps; i++)
        {
            var gone = ratePerHour * (EquilibriumSolver.Solve(totals).Required().MolalityOf("CO2") - balance) * hours / Steps;
            totals = totals.With(Component.Carbonate, totals[Component.Carbonate] - gone).With(Component.Hydrogen, totals[Component.Hydrogen] - 2 * gone);
        }

        CarbonDioxideExchange.After(s_acidifiedTap, ratePerHour, hours).Required().PH.ShouldBe(EquilibriumSolver.Solve(totals).Required().PH, 0.01);
    }
}
