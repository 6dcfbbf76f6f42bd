using CsCheck;
using Rootwater.Chemistry.Quantities;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Mixing;

public sealed class MixingOrderTests
{
    private static readonly CanChemistry s_chemistry = new(Temperature.FromCelsius(20));

    private static (MixingOrder Order, IReadOnlyList<Addition> Additions) Of(WaterSource water, params (SupplyItem Item, double PerLitre)[] doses)
    {
        var additions = doses.Select((dose, i) => new Addition(i, 1, dose.Item.Product.MolPerKg.Scaled(dose.PerLitre * (dose.Item.Product.DensityKgPerLitre ?? 1) / 1000 / s_chemistry.KgWaterPerLitre))).ToList();
        return (new MixingOrder(s_chemistry, water.MolPerKgWater, additions), additions);
    }

    private static readonly (SupplyItem, double)[] s_feedInHardWater =
        [(Kitchen.CalciumNitrate, 0.8), (Kitchen.MonopotassiumPhosphate, 0.3), (Kitchen.MagnesiumSulfate, 0.4), (Kitchen.PotassiumNitrate, 0.3), (Kitchen.NitricAcid, 2.0)];

    [Fact]
    public void The_derived_order_is_no_worse_than_any_other_and_better_than_naive_ones()
    {
        var (order, additions) = Of(Kitchen.HardTap, s_feedInHardWater);

        var best = order.WorstOf(order.Best()).Index;

        var naive = new[] { new[] { 0, 1, 2, 3, 4 }, [1, 2, 3, 0, 4], [3, 2, 1, 0, 4] };
        TestContext.Current.TestOutputHelper!.WriteLine($"derived {best:0.00}; naive {string.Join(" ", naive.Select(each => order.WorstOf(each).Index.ToString("0.00")))}");
        Permutations(additions.Count).ShouldAllBe(each => best <= order.WorstOf(each).Index + 0.1 + 1e-9);
        naive.ShouldAllBe(each => best < order.WorstOf(each).Index - 0.3);
    }

    [Fact]
    public void In_alkaline_water_the_acid_goes_before_calcium_meets_phosphate()
    {
        var (order, _) = Of(Kitchen.HardTap, s_feedInHardWater);
        var sequence = order.Best().ToList();

        sequence.IndexOf(4).ShouldBeLessThan(Math.Max(sequence.IndexOf(0), sequence.IndexOf(1)));
    }

    [Fact]
    public void Silicate_goes_in_before_calcium_meets_its_high_pH()
    {
        var (order, _) = Of(Kitchen.Rain, (Kitchen.CalciumNitrate, 0.6), (Kitchen.MonopotassiumPhosphate, 0.15), (Kitchen.PotassiumSilicate, 0.1), (Kitchen.NitricAcid, 1.2));
        var sequence = order.Best().ToList();

        sequence.IndexOf(2).ShouldBeLessThan(sequence.IndexOf(0));
    }

    [Fact]
    public void The_end_state_does_not_depend_on_the_order() => Gen.Shuffle(Enumerable.Range(0, 5).ToArray()).Sample(permutation =>
    {
        var (order, additions) = Of(Kitchen.HardTap, s_feedInHardWater);
        var totals = permutation.Aggregate(Kitchen.HardTap.MolPerKgWater, (sum, i) => sum.Plus(additions[i].Brought));
        var can = s_chemistry.Solve(totals).ShouldNotBeNull();
        var straight = s_chemistry.Solve(additions.Aggregate(Kitchen.HardTap.MolPerKgWater, (sum, each) => sum.Plus(each.Brought))).ShouldNotBeNull();
        can.PH.ShouldBe(straight.PH, 1e-9);
        can.EcMicrosiemensPerCm.ShouldBe(straight.EcMicrosiemensPerCm, 1e-6);
        order.Stirred(31).Index.ShouldBe(can.Closest!.Value.Index, 1e-9);
    }, iter: 60);

    private static IEnumerable<int[]> Permutations(int count) => count == 1
        ? [[0]]
        : Permutations(count - 1).SelectMany(rest => Enumerable.Range(0, count).Select(at => rest[..at].Append(count - 1).Concat(rest[at..]).ToArray()));
}
