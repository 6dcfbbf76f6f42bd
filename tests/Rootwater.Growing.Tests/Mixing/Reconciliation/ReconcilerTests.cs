using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing.Reconciliation;

namespace Rootwater.Growing.Tests.Mixing.Reconciliation;

/// <summary>A history of cans whose true errors are known: what is off is found, and nothing else.</summary>
public sealed class ReconcilerTests
{
    private static readonly DateTimeOffset s_start = new(2026, 3, 1, 18, 0, 0, TimeSpan.Zero);

    private static readonly (SupplyItem Item, bool Hygroscopic)[] s_salts =
        [(Kitchen.CalciumNitrate, true), (Kitchen.PotassiumNitrate, false), (Kitchen.MonopotassiumPhosphate, false), (Kitchen.MagnesiumNitrate, true), (Kitchen.MagnesiumSulfate, false)];

    /// <summary>Cans of changing make, read by pens of these errors out of lots of these true strengths.</summary>
    private static List<CanRecord> History(int cans, int seed, double magnesiumNitrate = 1, double ecPen = 1, double phPen = 0, double tap = 0, double? lastVolume = null, int first = 0)
    {
        var random = new Random(seed);
        double Normal() => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1);
        return [.. Enumerable.Range(0, cans).Select(i =>
        {
            var grams = s_salts.Select((_, k) => (k == 3 ? (i % 3 == 2 ? 0 : 1.5) : 0.2 + 0.5 * random.NextDouble()) * 5).ToArray();
            var can = new CanRecord
            {
                CanId = Guid.CreateVersion7(),
                MixedAt = s_start.AddDays(7 * (first + i)),
                Litres = 5,
                VesselId = "green can",
                Doses = [.. s_salts.Select((salt, k) => (salt, k)).Where(pair => grams[pair.k] > 0).Select(pair => new CanDose
                {
                    ProductId = pair.salt.Item.Product.Id, LotId = pair.salt.Item.Product.Id, Name = pair.salt.Item.Product.Name, Grams = grams[pair.k], MolPerKg = pair.salt.Item.Product.MolPerKg,
                    ToolId = "scale", Hygroscopic = pair.salt.Hygroscopic,
                })],
                Waters = [new CanWater("rain", "rain water", 5, Kitchen.Rain.MolPerKgWater)],
            };

            // The truth: other amounts than written, the same chemistry, pens that are off.
            var litres = 5 * (1 + 0.007 * Normal());
            litres = i == cans - 1 && lastVolume is { } wrong ? wrong : litres;
            var totals = can.Doses.Aggregate(Kitchen.Rain.MolPerKgWater, (sum, dose) => sum.PlusScaled(dose.MolPerKg, dose.Grams * (dose.Name == "magnesium nitrate" ? magnesiumNitrate : 1) / 1000 / (litres * 0.9982)));
            totals = totals.Plus(ComponentAmounts.From((Component.Sodium, tap * 1e-3), (Component.Carbonate, tap * 1e-3), (Component.Hydrogen, tap * 1e-3)));
            var solution = EquilibriumSolver.Solve(totals, new SolveConditions { Temperature = Temperature.FromCelsius(20) }).Required();
            return can with
            {
                MeasuredEcMicrosiemensPerCm = solution.ConductivityAt25MicrosiemensPerCm() * ecPen * (1 + 0.005 * Normal()),
                MeasuredPH = solution.PH + phPen + 0.03 * Normal(),
            };
        })];
    }

    private static List<PenCalibration> Standards(double ecPen, double phPen, params int[] weeks) =>
        [.. weeks.SelectMany(week => new[]
        {
            new PenCalibration { PenId = "EC pen", At = s_start.AddDays(7 * week - 1), IsEc = true, StandardAt25 = 1413, Reading = 1413 * ecPen },
            new PenCalibration { PenId = "pH pen", At = s_start.AddDays(7 * week - 1), IsEc = false, StandardAt25 = 7.00, Celsius = 20, Reading = PenStandards.BufferPH(7.00, 20) + phPen },
        })];

    [Fact]
    public void A_lot_that_drew_water_is_found_by_the_cans_without_it()
    {
        var reconciler = Reconciler.Of(History(16, 1, magnesiumNitrate: 0.88), Standards(1, 0, 0, 6, 12));
        var lot = reconciler[ErrorSourceKind.LotStrength, Kitchen.MagnesiumNitrate.Product.Id.ToString()]!;
        lot.IsTold.ShouldBeTrue(lot.ToString());
        lot.Value.Low.ShouldBeLessThan(-0.11);
        lot.Value.High.ShouldBeLessThan(0);
        reconciler[ErrorSourceKind.LotStrength, Kitchen.PotassiumNitrate.Product.Id.ToString()]!.Value.ShouldSatisfyAllConditions(value => value.Low.ShouldBeLessThan(0), value => value.High.ShouldBeGreaterThan(0));
        reconciler[ErrorSourceKind.EcPen, "EC pen"]!.Value.ShouldSatisfyAllConditions(value => value.Low.ShouldBeLessThan(0.005), value => value.High.ShouldBeGreaterThan(-0.005));
    }

    [Fact]
    public void A_pen_that_reads_high_is_told_from_its_standard_and_no_lot_is_blamed()
    {
        var reconciler = Reconciler.Of(History(8, 2, ecPen: 1.06), Standards(1.06, 0, 0, 3, 6));
        var pen = reconciler[ErrorSourceKind.EcPen, "EC pen"]!;
        pen.IsTold.ShouldBeTrue();
        pen.Value.Value.ShouldBe(Math.Log(1.06), 0.012);
        reconciler.Corrections.Where(each => each.Source.Kind == ErrorSourceKind.LotStrength).ShouldAllBe(lot => !lot.IsTold);
        reconciler.Cans[^1].EcAsLearned.Value.ShouldBeGreaterThan(reconciler.Cans[^1].EcByCard.Value * 1.04);
        reconciler.Cans.Skip(1).ShouldAllBe(can => !can.Warns);
    }

    [Fact]
    public void Without_a_standard_pen_and_lots_share_the_blame_and_none_is_told_alone()
    {
        var reconciler = Reconciler.Of(History(1, 3, ecPen: 1.06));
        reconciler.Corrections.ShouldAllBe(each => !each.IsTold);
        reconciler[ErrorSourceKind.EcPen, "EC pen"]!.Value.Value.ShouldBeGreaterThan(0.01);
    }

    [Fact]
    public void Quiet_cans_stay_inside_their_bands_nineteen_times_in_twenty()
    {
        var cans = Enumerable.Range(10, 20).SelectMany(seed => Reconciler.Of(History(10, seed), Standards(1, 0, 0)).Cans).ToList();

        // The truth here has fewer errors than the card allows for, so the card's bands are wide; what was learned must not be too narrow.
        cans.Count(can => can.MeasuredEc >= can.EcAsLearned.Low && can.MeasuredEc <= can.EcAsLearned.High).ShouldBeInRange((int)(0.93 * cans.Count), cans.Count);
        cans.Count(can => can.OutOfControl).ShouldBeLessThanOrEqualTo(cans.Count / 50);
        cans.Average(can => can.EcAsLearned.High - can.EcAsLearned.Low).ShouldBeLessThan(cans.Average(can => can.EcByCard.High - can.EcByCard.Low));
    }

    [Fact]
    public void A_can_filled_too_high_is_explained_by_its_volume_and_the_mark_is_looked_at()
    {
        var reconciler = Reconciler.Of(History(8, 4, lastVolume: 5.8), Standards(1, 0, 0, 6));
        var last = reconciler.Cans[^1];
        last.OutOfControl.ShouldBeTrue();
        // Grains at the bottom and a slow pen would read the same: the volume stands with them, and costs a look.
        last.Explanations.Take(3).ShouldContain(each => each.What.Contains("L in place of 5.0 L"));
        last.Explanations.Sum(each => each.Chance).ShouldBeLessThanOrEqualTo(1 + 1e-9);
        last.Explanations.ShouldAllBe(each => each.Minutes > 0 && each.Check.Length > 0);
    }

    [Fact]
    public void A_lot_known_to_be_weak_is_remembered_in_the_explanation()
    {
        var cans = History(11, 5, magnesiumNitrate: 0.88);
        var worse = History(1, 6, magnesiumNitrate: 0.78, first: 12);
        var last = Reconciler.Of([.. cans, .. worse], Standards(1, 0, 0, 6, 12)).Cans[^1];
        last.Warns.ShouldBeTrue();
        last.Explanations.ShouldContain(each => each.What.Contains("magnesium nitrate holds") && each.What.Contains("cans with it say"));
    }

    [Fact]
    public void Water_that_changed_shows_in_the_pH()
    {
        var cans = History(8, 7, tap: 0.25);
        var reconciler = Reconciler.Of(cans, Standards(1, 0, 0, 4));
        reconciler[ErrorSourceKind.WaterAlkalinity, "rain"]!.Value.ShouldSatisfyAllConditions(value => value.Value.ShouldBeGreaterThan(0.08), value => value.High.ShouldBeGreaterThan(0.2));
        reconciler[ErrorSourceKind.WaterAlkalinity, "rain"]!.IsTold.ShouldBeTrue();
    }

    [Fact]
    public void A_pen_set_to_its_standard_starts_anew()
    {
        var before = Standards(1.06, 0.3, 0);
        var adjusted = before.Select(each => each with { Adjusted = true });
        Reconciler.Of(History(1, 8), adjusted)[ErrorSourceKind.EcPen, "EC pen"]!.Value.Value.ShouldBe(0, 0.015);
        Reconciler.Of([], before)[ErrorSourceKind.EcPen, "EC pen"]!.Value.Value.ShouldBe(0.058 * 0.02 * 0.02 / (0.02 * 0.02 + 0.008 * 0.008), 0.002);
    }

    [Fact]
    public void What_was_believed_then_is_what_a_can_is_judged_by()
    {
        var cans = History(6, 9, magnesiumNitrate: 0.9);
        var early = Reconciler.Of(cans.Take(3)).Cans;
        var late = Reconciler.Of(cans).Cans;
        for (var i = 0; i < 3; i++)
        {
            late[i].EcAsLearned.ShouldBe(early[i].EcAsLearned);
        }
    }

    [Theory]
    [InlineData(65.0, 800.0, "6.5 was probably meant")]
    [InlineData(6.5, 0.83, "830 µS/cm")]
    public void Readings_that_cannot_be_are_refused_with_what_was_meant(double ph, double ec, string meant)
    {
        var can = History(1, 1)[0] with { MeasuredPH = ph, MeasuredEcMicrosiemensPerCm = ec };
        Should.Throw<ArgumentException>(() => Reconciler.Of([can])).Message.ShouldContain(meant);
    }

    // NIST's phthalate buffer: 4.008 at 25 °C and 3.999 at 15 °C (SP 260-53, from memory); potassium chloride 0.01 mol/L: 1278 µS/cm at 20 °C (printed on 1413 bottles, from memory).
    [Fact]
    public void Standards_follow_their_temperature()
    {
        PenStandards.BufferPH(4.01, 25).ShouldBe(4.008, 1e-9);
        PenStandards.BufferPH(4.01, 15).ShouldBe(3.999, 1e-9);
        PenStandards.BufferPH(5.55, 15).ShouldBe(5.55);
        PenStandards.PotassiumChlorideEc(20).ShouldBe(1278, 1e-9);
    }

    // The engine's own 0.01 mol/L potassium chloride against the printed table: two sources that know nothing of each other.
    [Theory]
    [InlineData(15)]
    [InlineData(20)]
    [InlineData(25)]
    public void The_chemistry_agrees_with_the_printed_standard(double celsius)
    {
        var molal = 0.01 / 0.9971;
        var solution = EquilibriumSolver.Solve(ComponentAmounts.From((Component.Potassium, molal), (Component.Chloride, molal)), new SolveConditions { Temperature = Temperature.FromCelsius(celsius) }).Required();
        solution.ConductivityMicrosiemensPerCm.ShouldBe(PenStandards.PotassiumChlorideEc(celsius), 0.01 * PenStandards.PotassiumChlorideEc(celsius));
    }
}
