using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Saturation;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests.Equilibrium;

public sealed class EquilibriumSolverTests
{
    [Fact]
    public void A_negative_amount_is_named() =>
        Should.Throw<ArgumentException>(() => EquilibriumSolver.Solve(ComponentAmounts.From((Component.Potassium, -0.001)))).Message.ShouldContain("Potassium");

    [Fact]
    public void An_absurd_amount_is_named() =>
        Should.Throw<ArgumentException>(() => EquilibriumSolver.Solve(ComponentAmounts.From((Component.Nitrate, 100)))).Message.ShouldContain("20 mol/kg");

    [Theory]
    [InlineData(-1)]
    [InlineData(51)]
    public void A_temperature_outside_the_constants_is_refused(double celsius) => Should.Throw<ArgumentException>(() =>
        EquilibriumSolver.Solve(ComponentAmounts.Zero, new SolveConditions { Temperature = Temperature.FromCelsius(celsius) })).Message.ShouldContain("0 to 50 °C");

    [Fact]
    public void What_does_not_converge_has_no_numbers()
    {
        var outcome = EquilibriumSolver.Solve(Solutions.MillimolesPerKgWater("CaCO3=1;KH2PO4=1"), options: new SolveOptions { MaxIterations = 1 });
        outcome.Converged.ShouldBeFalse();
        outcome.Solution.ShouldBeNull();
        outcome.Why!.ShouldContain("mass balance");
        Should.Throw<InvalidOperationException>(() => outcome.Required());
    }

    [Fact]
    public void Unchelated_iron_is_far_oversaturated_at_pH_6_and_chelated_iron_is_not()
    {
        var bare = Solutions.Solve("FeCl3=0.04;KHCO3=1;CO2=2;KH2PO4=0.3");
        var chelated = Solutions.Solve("NaFeEDTA=0.04;KHCO3=1;CO2=2;KH2PO4=0.3");
        bare.SaturationIndex(Mineral.Ferrihydrite)!.Value.ShouldBeGreaterThan(2);
        chelated.SaturationIndex(Mineral.Ferrihydrite)!.Value.ShouldBeLessThan(bare.SaturationIndex(Mineral.Ferrihydrite)!.Value - 2);
    }

    [Fact]
    public void Ammonium_and_nitrate_never_turn_into_one_another()
    {
        var solution = Solutions.Solve("NH4NO3=5");
        (solution.MolalityOf("NH4+") + solution.MolalityOf("NH3")).ShouldBe(0.005, 1e-12);
        solution.MolalityOf("NO3-").ShouldBe(0.005, 1e-12);
    }

    [Theory]
    [InlineData(1e-300)]
    [InlineData(1e-60)]
    [InlineData(1e-28)]
    [InlineData(1e-18)]
    public void A_trace_of_next_to_nothing_changes_nothing(double trace)
    {
        var feed = Solutions.MillimolesPerKgWater("Ca(NO3)2=2;KH2PO4=0.3;KHCO3=0.5;FeCl3=0.01;CaNa2EDTA=0.01");
        var with = feed.With(Component.Zinc, trace).With(Component.Sulfate, trace).With(Component.Molybdate, trace);
        EquilibriumSolver.Solve(with).Required().PH.ShouldBe(EquilibriumSolver.Solve(feed).Required().PH, 1e-9);
    }

    [Fact]
    public void Urea_is_there_and_conducts_nothing()
    {
        var without = Solutions.Solve("KNO3=2");
        var with = Solutions.Solve("KNO3=2;CO(NH2)2=2");
        with.MolalityOf("Urea").ShouldBe(0.002, 1e-15);
        with.ConductivityMicrosiemensPerCm.ShouldBe(without.ConductivityMicrosiemensPerCm, 0.1);
    }

    [Fact]
    public void The_inner_solver_allocates_nothing_once_it_is_warm()
    {
        var workspace = new EquilibriumWorkspace();
        var feed = Solutions.MillimolesPerKgWater("Ca(NO3)2=2;MgSO4=0.5;KH2PO4=0.3;NH4NO3=0.3;KHCO3=0.5;NaFeEDTA=0.02").AsSpan().ToArray();
        workspace.Solve(feed, SolveConditions.Default, SolveOptions.Default).Converged.ShouldBeTrue();

        // The runtime itself may allocate a little on this thread while it recompiles what has become hot; a solve that allocated would do so in every round.
        Enumerable.Range(0, 20).Min(_ => AllocatedBy(100, () => workspace.Solve(feed, SolveConditions.Default, SolveOptions.Default))).ShouldBe(0);

        static long AllocatedBy(int times, Action work)
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            for (var i = 0; i < times; i++)
            {
                work();
            }

            return GC.GetAllocatedBytesForCurrentThread() - before;
        }
    }
}
