using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Waters;

public sealed class WaterCompleterTests(ITestOutputHelper output)
{
    private static readonly WaterReport s_empty = new() { Name = "water", Readings = [] };

    private static readonly WaterReport s_full = s_empty
        .With(WaterQuantity.Calcium, 82, WaterUnit.MgPerLitre).With(WaterQuantity.Magnesium, 11.4, WaterUnit.MgPerLitre)
        .With(WaterQuantity.Sodium, 14, WaterUnit.MgPerLitre).With(WaterQuantity.Potassium, 2.1, WaterUnit.MgPerLitre)
        .With(WaterQuantity.Chloride, 24, WaterUnit.MgPerLitre).With(WaterQuantity.Sulfate, 38, WaterUnit.MgPerLitre)
        .With(WaterQuantity.Nitrate, 12.5, WaterUnit.MgPerLitre).With(WaterQuantity.Alkalinity, 4.05, WaterUnit.MmolPerLitre)
        .With(WaterQuantity.PH, 7.42, WaterUnit.None);

    private static WaterReport PenAndDrops(double ec, double gh, double kh) => s_empty
        .With(WaterQuantity.Conductivity, ec, WaterUnit.MicrosiemensPerCm).With(WaterQuantity.Hardness, gh, WaterUnit.GermanDegrees).With(WaterQuantity.Alkalinity, kh, WaterUnit.GermanDegrees);

    private static InputProblem ErrorOf(WaterReport report)
    {
        var completed = WaterCompleter.Complete(report);
        completed.Source.ShouldBeNull();
        return completed.Problems.Where(problem => problem.Severity == Severity.Error).ShouldHaveSingleItem();
    }

    private static WaterValue Value(CompletedWater water, WaterQuantity quantity) => water.Values.Single(value => value.Quantity == quantity);

    [Fact]
    public void A_full_report_keeps_its_pH_and_shares_its_imbalance_out()
    {
        var water = WaterCompleter.Complete(s_full);
        water.PH.ShouldBe(7.42, 1e-6);
        // By hand, meq/L: Ca 4.092 + Mg 0.938 + Na 0.609 + K 0.054 = 5.693; Cl 0.677 + SO4 0.791 + NO3 0.202 + alkalinity 4.05 = 5.720.
        water.ChargeImbalancePercent.ShouldNotBeNull().ShouldBe(-0.24, 0.02);
        water.Source!.MolPerKgWater.NetCharge().ShouldBe(0, 1e-12);
        Value(water, WaterQuantity.Calcium).Origin.ShouldBe(WaterValueOrigin.Adjusted);
        Value(water, WaterQuantity.Calcium).MgPerLitre!.Value.ShouldBe(82, 0.3);
        var solution = EquilibriumSolver.Solve(water.Source.MolPerKgWater).Required();
        solution.PH.ShouldBe(7.42, 1e-6);
        water.EcMicrosiemensPerCm.ShouldBeInRange(530, 600);
    }

    [Fact]
    public void A_larger_imbalance_is_said()
    {
        var water = WaterCompleter.Complete(s_full with { Readings = [.. s_full.Readings.Where(reading => reading.Quantity != WaterQuantity.Chloride), new(WaterQuantity.Chloride, 48, WaterUnit.MgPerLitre)] });
        water.ChargeImbalancePercent.ShouldNotBeNull().ShouldBeInRange(-8, -5);
        water.Problems.ShouldContain(problem => problem.Field == "charges" && problem.Severity == Severity.Warning);
        water.Source!.MolPerKgWater.NetCharge().ShouldBe(0, 1e-12);
    }

    [Fact]
    public void Charges_that_cannot_balance_are_an_error_with_the_way_out()
    {
        var error = ErrorOf(s_full with { Readings = [.. s_full.Readings.Where(reading => reading.Quantity != WaterQuantity.Sulfate), new(WaterQuantity.Sulfate, 380, WaterUnit.MgPerLitre)] });
        error.Field.ShouldBe("charges");
        error.Message.ShouldContain("leave out the doubtful line");
    }

    // The full report's own EC, GH and KH, read by pen and drops: what the completion makes of them must hold the truth inside its bands.
    [Fact]
    public void A_pen_and_drops_find_the_full_report_again_within_their_bands()
    {
        var truth = WaterCompleter.Complete(s_full);
        var drops = WaterCompleter.Complete(PenAndDrops(
            truth.EcMicrosiemensPerCm,
            Hardness.FromMmolPerLitre(truth.HardnessMmolPerLitre).In(CarbonateScale.GermanDegrees),
            Alkalinity.From(truth.AlkalinityMeqPerLitre, CarbonateScale.MeqPerLitre).In(CarbonateScale.GermanDegrees)));
        foreach (var value in drops.Values)
        {
            output.WriteLine($"{value.Quantity}: {value.MmolPerLitre:0.000} ({value.Low:0.000}-{value.High:0.000}) {value.Origin}, true {truth.Values.FirstOrDefault(other => other.Quantity == value.Quantity)?.MmolPerLitre:0.000}");
        }

        drops.EcMicrosiemensPerCm.ShouldBe(truth.EcMicrosiemensPerCm, truth.EcMicrosiemensPerCm * 0.02);
        drops.Source!.MolPerKgWater.NetCharge().ShouldBe(0, 1e-12);
        foreach (var quantity in (WaterQuantity[])[WaterQuantity.Calcium, WaterQuantity.Magnesium, WaterQuantity.Sodium, WaterQuantity.Chloride, WaterQuantity.Sulfate, WaterQuantity.Alkalinity])
        {
            Value(truth, quantity).MmolPerLitre.ShouldBeInRange(Value(drops, quantity).Low, Value(drops, quantity).High, quantity.ToString());
        }

        Value(drops, WaterQuantity.Chloride).Origin.ShouldBe(WaterValueOrigin.Estimated);
        Value(drops, WaterQuantity.Calcium).Origin.ShouldBe(WaterValueOrigin.Derived);
        drops.Problems.ShouldContain(problem => problem.Message.Contains("three quarters"));
    }

    [Fact]
    public void More_KH_than_GH_is_softened_water_and_the_difference_is_sodium()
    {
        var water = WaterCompleter.Complete(PenAndDrops(560, 2, 14));
        water.Problems.ShouldContain(problem => problem.Message.Contains("softened"));
        // 12 dKH more than GH are 4.28 meq/L that no calcium or magnesium balances.
        Value(water, WaterQuantity.Sodium).MmolPerLitre.ShouldBeGreaterThan(3.8);
        Value(water, WaterQuantity.Sodium).MgPerLitre!.Value.ShouldBeGreaterThan(85);
    }

    [Fact]
    public void An_EC_below_what_the_drops_make_is_said()
    {
        var water = WaterCompleter.Complete(PenAndDrops(200, 15, 14));
        water.Problems.ShouldContain(problem => problem.Field == "EC" && problem.Severity == Severity.Warning);
    }

    [Fact]
    public void An_EC_alone_is_enough_for_wide_bands()
    {
        var water = WaterCompleter.Complete(s_empty.With(WaterQuantity.Conductivity, 0.5, WaterUnit.MillisiemensPerCm));
        water.EcMicrosiemensPerCm.ShouldBe(500, 15);
        water.Source!.RelativeUncertainty.ShouldBeGreaterThan(0.15);
        WaterCompleter.Complete(s_full).Source!.RelativeUncertainty.ShouldBeLessThan(0.07);
    }

    [Fact]
    public void Purified_water_by_its_EC_is_slightly_acid_from_the_air()
    {
        var water = WaterCompleter.Complete((s_empty with { Origin = WaterOrigin.Purified }).With(WaterQuantity.Conductivity, 8, WaterUnit.MicrosiemensPerCm));
        water.PH.ShouldBeInRange(5.4, 7.2);
        water.EcMicrosiemensPerCm.ShouldBe(8, 1.5);
    }

    [Fact]
    public void Hardness_and_calcium_give_magnesium()
    {
        var water = WaterCompleter.Complete(s_empty.With(WaterQuantity.Hardness, 14, WaterUnit.GermanDegrees).With(WaterQuantity.Calcium, 80, WaterUnit.MgPerLitre).With(WaterQuantity.Alkalinity, 11, WaterUnit.GermanDegrees));
        Value(water, WaterQuantity.Magnesium).MmolPerLitre.ShouldBe(14 * 0.17833 - 80 / 40.078, 1e-3);
        Value(water, WaterQuantity.Magnesium).Origin.ShouldBe(WaterValueOrigin.Derived);
    }

    [Theory]
    [InlineData(WaterQuantity.PH, -0.1, WaterUnit.None, "pH")]
    [InlineData(WaterQuantity.PH, 14.1, WaterUnit.None, "pH")]
    [InlineData(WaterQuantity.PH, double.NaN, WaterUnit.None, "pH")]
    [InlineData(WaterQuantity.Calcium, -1, WaterUnit.MgPerLitre, "calcium")]
    [InlineData(WaterQuantity.Calcium, 90_000, WaterUnit.MgPerLitre, "calcium")]
    [InlineData(WaterQuantity.Conductivity, 412, WaterUnit.MillisiemensPerCm, "EC")]
    [InlineData(WaterQuantity.Conductivity, 412, WaterUnit.MgPerLitre, "EC")]
    [InlineData(WaterQuantity.Temperature, 80, WaterUnit.Celsius, "temperature")]
    [InlineData(WaterQuantity.Hardness, 12, WaterUnit.MicrosiemensPerCm, "hardness")]
    public void What_is_absurd_is_named_with_what_would_be_accepted(WaterQuantity quantity, double value, WaterUnit unit, string field)
    {
        var error = ErrorOf(s_empty.With(quantity, value, unit));
        error.Field.ShouldBe(field);
        error.Message.Length.ShouldBeGreaterThan(15);
    }

    [Fact]
    public void A_report_that_says_one_thing_twice_differently_is_an_error() =>
        ErrorOf(s_empty.With(WaterQuantity.Alkalinity, 10, WaterUnit.GermanDegrees).With(WaterQuantity.Bicarbonate, 100, WaterUnit.MgPerLitre)).Message.ShouldContain("twice");

    [Fact]
    public void An_empty_report_is_an_error() => ErrorOf(s_empty).Field.ShouldBe("report");

    [Fact]
    public void A_pH_that_its_alkalinity_cannot_carry_is_an_error() =>
        ErrorOf(PenAndDrops(30, 0.5, 0.2).With(WaterQuantity.PH, 11.5, WaterUnit.None)).Field.ShouldBe("pH");

    [Fact]
    public void Hardness_that_its_parts_contradict_is_an_error() => ErrorOf(s_full.With(WaterQuantity.Hardness, 30, WaterUnit.GermanDegrees)).Field.ShouldBe("hardness");

    [Fact]
    public void Cold_water_is_a_cold_shock() =>
        WaterCompleter.Complete(PenAndDrops(400, 8, 6).With(WaterQuantity.Temperature, 9, WaterUnit.Celsius)).Problems.ShouldContain(problem => problem.Message.Contains("cold shock"));

    [Fact]
    public void Rain_off_zinc_carries_zinc_and_says_so()
    {
        var rain = RainWater.From("barrel", Roof.Zinc);
        rain.Source!.MolPerKgWater[Component.Zinc].ShouldBeGreaterThan(1e-5);
        rain.Problems.ShouldContain(problem => problem.Field == "zinc" && problem.Severity == Severity.Warning);
        RainWater.From("barrel", Roof.Copper).Problems.ShouldContain(problem => problem.Field == "copper");
        var plain = RainWater.From("barrel", Roof.Inert);
        plain.Source!.MolPerKgWater[Component.Zinc].ShouldBe(0);
        plain.EcMicrosiemensPerCm.ShouldBeInRange(8, 30);
        plain.PH.ShouldBeInRange(4.5, 6.8);
        plain.Values.ShouldAllBe(value => value.Origin == WaterValueOrigin.Estimated);
    }

    [Fact]
    public void A_membrane_takes_nearly_all_and_lets_carbon_dioxide_through()
    {
        var tap = WaterCompleter.Complete(s_full);
        var permeate = ReverseOsmosis.Permeate(tap.Source!, "permeate");
        var solution = EquilibriumSolver.Solve(permeate.MolPerKgWater).Required();
        permeate.MolPerKgWater.NetCharge().ShouldBe(0, 1e-12);
        solution.ConductivityMicrosiemensPerCm.ShouldBeInRange(8, 30);
        solution.PH.ShouldBeLessThan(tap.PH - 1);
        Should.Throw<ArgumentOutOfRangeException>(() => ReverseOsmosis.Permeate(tap.Source!, "permeate", wear: 0));
    }

    [Fact]
    public void A_blend_holds_what_its_parts_hold()
    {
        var tap = WaterCompleter.Complete(s_full).Source!;
        var rain = RainWater.From("rain", Roof.Inert).Source!;
        var blend = WaterBlend.Of("3 to 1", [(rain, 3), (tap, 1)]);
        blend.MolPerKgWater[Component.Calcium].ShouldBe(0.75 * rain.MolPerKgWater[Component.Calcium] + 0.25 * tap.MolPerKgWater[Component.Calcium], 1e-15);
        blend.MolPerKgWater.NetCharge().ShouldBe(0, 1e-12);
        blend.RelativeUncertainty.ShouldBeLessThan(rain.RelativeUncertainty);
        Should.Throw<ArgumentException>(() => WaterBlend.Of("none", []));
        Should.Throw<ArgumentException>(() => WaterBlend.Of("less", [(tap, -1)]));
    }

    [Fact]
    public void The_same_seed_gives_the_same_bands() =>
        WaterCompleter.Complete(PenAndDrops(412, 9, 6), seed: 3).Values.ShouldBe(WaterCompleter.Complete(PenAndDrops(412, 9, 6), seed: 3).Values);
}
