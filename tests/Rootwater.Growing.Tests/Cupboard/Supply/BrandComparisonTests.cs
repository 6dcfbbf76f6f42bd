using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Growing.Tests.Mixing;

namespace Rootwater.Growing.Tests.Cupboard.Supply;

public sealed class BrandComparisonTests
{
    [Fact]
    public void At_equal_potassium_the_sulfate_brings_sulfur_and_the_nitrate_nitrogen()
    {
        var comparison = BrandComparison.AtEqual(Kitchen.PotassiumNitrate.Product, Kitchen.PotassiumSulfate.Product, Nutrient.Potassium, 100, Kitchen.Rain.MolPerKgWater);

        // By hand from atomic weights: 100 mg K is 2.558 mmol; KNO3 101.10 g/mol, K2SO4 174.26 g/mol.
        comparison.One.GramsPerLitre.ShouldBe(0.2586, 0.0005);
        comparison.Other.GramsPerLitre.ShouldBe(0.2229, 0.0005);
        comparison.Differences.Single(each => each.Nutrient == Nutrient.NitrateNitrogen).MgPerLitre.ShouldBe(-35.8, 0.1);
        comparison.Differences.Single(each => each.Nutrient == Nutrient.Sulfur).MgPerLitre.ShouldBe(41.0, 0.1);
        comparison.Differences.ShouldNotContain(each => each.Nutrient == Nutrient.Potassium);
    }

    [Fact]
    public void At_equal_EC_both_read_the_same()
    {
        var comparison = BrandComparison.AtEqualEc(Kitchen.CalciumNitrate.Product, Kitchen.MagnesiumSulfate.Product, 800, Kitchen.Rain.MolPerKgWater);
        comparison.One.EcMicrosiemensPerCm.ShouldBe(800, 0.1);
        comparison.Other.EcMicrosiemensPerCm.ShouldBe(800, 0.1);
    }

    [Fact]
    public void What_EC_cannot_see_is_not_compared_by_EC() =>
        Should.Throw<ArgumentException>(() => BrandComparison.AtEqualEc(Kitchen.Urea.Product, Kitchen.PotassiumNitrate.Product, 800, ComponentAmounts.Zero)).Message.ShouldContain("EC cannot see");

    [Fact]
    public void A_nutrient_one_of_them_lacks_is_no_measure() =>
        Should.Throw<ArgumentException>(() => BrandComparison.AtEqual(Kitchen.PotassiumNitrate.Product, Kitchen.CalciumNitrate.Product, Nutrient.Potassium, 100, ComponentAmounts.Zero)).Message.ShouldContain("has no potassium");
}
