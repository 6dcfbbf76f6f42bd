using CsCheck;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests.Laws;

/// <summary>What must hold for every solution, whatever is in it.</summary>
public sealed class SolutionLawsTests
{
    private static readonly string[] s_reagents =
    [
        "KNO3", "Ca(NO3)2·4H2O", "MgSO4·7H2O", "KH2PO4", "K2HPO4", "NH4NO3", "(NH4)2SO4", "NH4H2PO4", "CaCO3", "MgCO3", "NaHCO3", "NaCl", "CaCl2·2H2O", "K2SO4",
        "H3PO4", "HNO3", "C6H8O7", "CH3COOH", "KOH", "H3BO3", "Na2MoO4·2H2O", "NaFeEDTA", "FeSO4·7H2O", "FeCl3·6H2O", "MnSO4·H2O", "ZnSO4·7H2O", "CuSO4·5H2O", "Na2H2EDTA·2H2O",
        "K2SiO3", "CO2", "NaFeEDDHA", "Na2FeDTPA", "FeHEDTA", "CO(NH2)2",
    ];

    /// <summary>Up to nine reagents, each from a millionth of a mole to a third of a mole per kg, in even logarithms.</summary>
    private static readonly Gen<(int Reagent, double MolPerKgWater)[]> s_recipe =
        Gen.Select(Gen.Int[0, s_reagents.Length - 1], Gen.Double[-6, -0.5].Select(log => Math.Pow(10, log)), (reagent, amount) => (reagent, amount)).Array[1, 9];

    /// <summary>The same, no stronger than a feed.</summary>
    private static readonly Gen<(int Reagent, double MolPerKgWater)[]> s_feed =
        Gen.Select(Gen.Int[0, s_reagents.Length - 1], Gen.Double[-6, -2.3].Select(log => Math.Pow(10, log)), (reagent, amount) => (reagent, amount)).Array[1, 9];

    private static readonly Gen<double> s_celsius = Gen.Double[5, 40];

    [Fact]
    public void Every_recipe_converges_and_balances_to_one_in_a_billion() => Gen.Select(s_recipe, s_celsius).Sample((recipe, celsius) =>
    {
        var totals = Totals(recipe);
        var outcome = EquilibriumSolver.Solve(totals, Solutions.At(celsius));
        outcome.Converged.ShouldBeTrue(outcome.Why);
        outcome.MassBalanceError.ShouldBeLessThan(1e-9);
        outcome.ChargeBalanceError.ShouldBeLessThan(1e-9);
    }, iter: 5_000);

    [Fact]
    public void Species_add_up_to_the_totals_counted_from_their_names() => s_feed.Sample(recipe =>
    {
        var totals = Totals(recipe);
        var solution = EquilibriumSolver.Solve(totals).Required();
        // Counted a second way: charge from the printed species against zero, iron over every name with Fe in it.
        var charge = solution.Species().Sum(s => s.Charge * s.MolPerKgWater);
        var gross = solution.Species().Sum(s => Math.Abs(s.Charge) * s.MolPerKgWater);
        Math.Abs(charge).ShouldBeLessThanOrEqualTo(1e-9 * gross + 1e-18);
        var sodium = solution.Species().Sum(s => s.MolPerKgWater * AtomsNamed("Na", s.Species));
        sodium.ShouldBe(totals[Component.Sodium], 1e-9 * totals[Component.Sodium] + 1e-18);
        var zinc = solution.Species().Sum(s => s.MolPerKgWater * AtomsNamed("Zn", s.Species));
        zinc.ShouldBe(totals[Component.Zinc], 1e-9 * totals[Component.Zinc] + 1e-18);
    }, iter: 1_000);

    [Fact]
    public void Acid_never_raises_the_pH() => Gen.Select(s_feed, Gen.Int[0, 4].Select(i => new[] { "HNO3", "H3PO4", "HCl", "C6H8O7", "CH3COOH" }[i]), Gen.Double[-6, -2]).Sample((recipe, acid, log) =>
    {
        var before = Totals(recipe);
        var after = before.PlusScaled(Formula.Parse(acid).ComponentsPerMole, Math.Pow(10, log));
        EquilibriumSolver.Solve(after).Required().PH.ShouldBeLessThanOrEqualTo(EquilibriumSolver.Solve(before).Required().PH + 2e-2);
    }, iter: 1_000);

    /// <summary>Strictly so where the acid brings nothing but its proton and an ion that binds none, at the same ionic strength scale.</summary>
    [Fact]
    public void Nitric_acid_lowers_the_pH_of_water_with_alkalinity_step_by_step() => Gen.Select(Gen.Double[0.2, 6], Gen.Double[0.2, 3]).Sample((bicarbonate, carbonDioxide) =>
    {
        var last = double.PositiveInfinity;
        for (var acid = 0.0; acid <= bicarbonate + 1; acid += 0.1)
        {
            var ph = Solutions.Solve(FormattableString.Invariant($"KHCO3={bicarbonate};CO2={carbonDioxide};HNO3={acid}")).PH;
            ph.ShouldBeLessThan(last);
            last = ph;
        }
    }, iter: 50);

    [Fact]
    public void The_order_of_addition_is_irrelevant() => s_feed.Sample(recipe =>
    {
        var forward = EquilibriumSolver.Solve(Totals(recipe)).Required();
        var backward = EquilibriumSolver.Solve(Totals([.. recipe.Reverse()])).Required();
        backward.PH.ShouldBe(forward.PH, 1e-8);
        backward.ConductivityMicrosiemensPerCm.ShouldBe(forward.ConductivityMicrosiemensPerCm, 1e-8 * forward.ConductivityMicrosiemensPerCm);
    }, iter: 500);

    [Fact]
    public void Dilution_then_concentration_returns() => Gen.Select(s_feed, Gen.Double[1.5, 50]).Sample((recipe, factor) =>
    {
        var start = Totals(recipe);
        var diluted = EquilibriumSolver.Solve(start.Scaled(1 / factor)).Required();
        var back = EquilibriumSolver.Solve(diluted.TotalsMolPerKgWater.Scaled(factor)).Required();
        back.PH.ShouldBe(EquilibriumSolver.Solve(start).Required().PH, 1e-7);
    }, iter: 500);

    [Fact]
    public void Endless_dilution_ends_in_water() => s_feed.Sample(recipe =>
    {
        var thin = EquilibriumSolver.Solve(Totals(recipe).Scaled(1e-9)).Required();
        thin.PH.ShouldBe(6.997, 0.01);
        thin.ConductivityMicrosiemensPerCm.ShouldBe(0.055, 0.01);
    }, iter: 300);

    [Fact]
    public void A_pH_that_was_found_can_be_held_and_asks_for_the_same_protons() => s_feed.Sample(recipe =>
    {
        var free = EquilibriumSolver.Solve(Totals(recipe)).Required();
        var held = EquilibriumSolver.Solve(Totals(recipe), SolveConditions.Default with { FixedPH = free.PH }).Required();
        held.HydrogenMolPerKgWater.ShouldBe(Totals(recipe)[Component.Hydrogen], 1e-8);
        held.PH.ShouldBe(free.PH, 1e-9);
    }, iter: 500);

    [Fact]
    public void Open_to_its_own_carbon_dioxide_nothing_moves() => s_feed.Sample(recipe =>
    {
        var open = EquilibriumSolver.Solve(Totals(recipe), Solutions.At(25, Air.Ambient)).Required();
        var closed = EquilibriumSolver.Solve(open.TotalsMolPerKgWater).Required();
        closed.PH.ShouldBe(open.PH, 1e-6);
        closed.AlkalinityMeqPerKgWater.ShouldBe(open.AlkalinityMeqPerKgWater, 1e-9);
    }, iter: 500);

    [Fact]
    public void Carbon_dioxide_in_and_out_leaves_the_alkalinity_alone() => Gen.Select(s_feed, Gen.Double[-5, -0.5]).Sample((recipe, logPressure) =>
        EquilibriumSolver.Solve(Totals(recipe), Solutions.At(25, Air.Open(logPressure))).Required().AlkalinityMeqPerKgWater
            .ShouldBe(EquilibriumSolver.Solve(Totals(recipe)).Required().AlkalinityMeqPerKgWater, 1e-8), iter: 500);

    [Fact]
    public void The_proton_condition_is_the_sum_over_components() => s_feed.Sample(recipe =>
    {
        var solution = EquilibriumSolver.Solve(Totals(recipe)).Required();
        var sum = solution.FreeProtonsMolPerKgWater
            + Components.All.Sum(component => solution.TotalsMolPerKgWater[component] * solution.ProtonsPerMole(component));
        sum.ShouldBe(solution.HydrogenMolPerKgWater, 1e-12);
    }, iter: 500);

    [Fact]
    public void More_of_a_strong_salt_conducts_more() => Gen.Select(s_feed, Gen.Double[0.1, 5]).Sample((recipe, millimoles) =>
    {
        var before = Totals(recipe);
        var after = before.PlusScaled(Formula.Parse("KNO3").ComponentsPerMole, millimoles / 1000);
        EquilibriumSolver.Solve(after).Required().ConductivityMicrosiemensPerCm.ShouldBeGreaterThan(EquilibriumSolver.Solve(before).Required().ConductivityMicrosiemensPerCm);
    }, iter: 500);

    [Fact]
    public void Per_litre_and_per_kilogram_of_water_are_two_ways_to_say_one_thing() => Gen.Select(s_feed, s_celsius).Sample((recipe, celsius) =>
    {
        var perKg = Totals(recipe);
        var temperature = Temperature.FromCelsius(celsius);
        var perLitre = perKg.Scaled(1 / SolutionVolume.LitresPerKgWater(perKg, temperature));
        var back = SolutionVolume.MolPerKgWaterFromMolPerLitre(perLitre, temperature);
        foreach (var component in Components.All)
        {
            back[component].ShouldBe(perKg[component], 1e-12 + 1e-10 * Math.Abs(perKg[component]));
        }
    }, iter: 500);

    [Fact]
    public void Temperatures_survive_their_units() => Gen.Double[-40, 120].Sample(celsius =>
    {
        var temperature = Temperature.FromCelsius(celsius);
        Temperature.FromFahrenheit(temperature.Fahrenheit).Celsius.ShouldBe(celsius, 1e-12 * 200);
        Temperature.FromKelvin(temperature.Kelvin).Celsius.ShouldBe(celsius, 1e-12 * 500);
    });

    private static ComponentAmounts Totals((int Reagent, double MolPerKgWater)[] recipe)
    {
        var totals = ComponentAmounts.Zero;
        foreach (var (reagent, amount) in recipe)
        {
            totals = totals.PlusScaled(Formula.Parse(s_reagents[reagent]).ComponentsPerMole, amount);
        }

        return totals;
    }

    /// <summary>Atoms of an element in a species' printed name ("Na2SO4" has two of Na), read without the solver's own tables.</summary>
    private static int AtomsNamed(string element, string species)
    {
        var at = species.IndexOf(element, StringComparison.Ordinal);
        if (at < 0)
        {
            return 0;
        }

        var next = at + element.Length;
        return next < species.Length && char.IsAsciiDigit(species[next]) ? species[next] - '0' : 1;
    }
}
