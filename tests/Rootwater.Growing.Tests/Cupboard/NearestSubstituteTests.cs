using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Tests.Cupboard;

public sealed class NearestSubstituteTests
{
    private static Product Salt(string formula) => ProductFactory.FromFormula(formula, formula).Product!;

    private static Product Acid(string name, string formula, double percent, double density) => ProductFactory.FromStrength(name, formula, percent, density).Product!;

    private static readonly Product[] s_shelf =
    [
        Salt("KNO3"), Salt("Ca(NO3)2·4H2O"), Salt("Mg(NO3)2·6H2O"), Salt("MgSO4·7H2O"), Salt("KH2PO4"), Salt("K2SO4"), Acid("nitric acid 38 %", "HNO3", 38, 1.23), Acid("citric acid 50 %", "C6H8O7", 50, 1.24),
    ];

    // By hand: the double salt holds 18.5 % Ca and 14.2 % nitrate N, the tetrahydrate 17.0 and 11.9 %: 1.09 g for the calcium, 1.20 g for the nitrate; its ammonium is lost.
    [Fact]
    public void The_other_calcium_nitrate_stands_in_and_its_ammonium_is_missed()
    {
        var missing = Salt("5Ca(NO3)2·NH4NO3·10H2O");
        var nearest = NearestSubstitute.For(missing, s_shelf)[0];
        var (product, grams) = nearest.Parts.ShouldHaveSingleItem();
        product.Name.ShouldBe("Ca(NO3)2·4H2O");
        grams.ShouldBe(1.15, 0.08);
        nearest.Covers.ShouldBeGreaterThan(0.85);
        nearest.Changes.ShouldContain(change => change.Nutrient == Nutrient.AmmoniumNitrogen && change.MgPerGram < -10);
    }

    [Fact]
    public void Magnesium_sulfate_keeps_the_magnesium_of_the_nitrate_and_the_lost_nitrogen_is_said()
    {
        var nearest = NearestSubstitute.For(Salt("Mg(NO3)2·6H2O"), [Salt("MgSO4·7H2O"), Salt("KNO3"), Salt("Ca(NO3)2·4H2O"), Salt("KCl")])[0];
        nearest.Parts.Select(part => part.Product.Name).ShouldContain("MgSO4·7H2O");
        nearest.Changes.ShouldContain(change => change.Nutrient == Nutrient.Sulfur && change.MgPerGram > 0);
        nearest.Changes.ShouldContain(change => change.Nutrient == Nutrient.NitrateNitrogen && change.MgPerGram < -50);
        nearest.Covers.ShouldBeLessThan(0.5);
    }

    [Fact]
    public void An_acid_is_replaced_by_an_acid_of_the_same_effect()
    {
        var missing = Acid("nitric acid 60 %", "HNO3", 60, 1.37);
        var nearest = NearestSubstitute.For(missing, s_shelf)[0];
        nearest.Parts.ShouldHaveSingleItem().Product.Name.ShouldBe("nitric acid 38 %");
        nearest.Parts[0].Grams.ShouldBe(60.0 / 38, 1e-6);
        nearest.ChangesPH.ShouldBeFalse();
        nearest.Covers.ShouldBe(1, 1e-6);
    }

    [Fact]
    public void Nothing_is_named_where_nothing_comes_near() => NearestSubstitute.For(Salt("Na2MoO4·2H2O"), [Salt("KNO3"), Salt("KCl")]).ShouldBeEmpty();

    [Fact]
    public void A_product_is_no_substitute_for_itself() => NearestSubstitute.For(s_shelf[0], [s_shelf[0]]).ShouldBeEmpty();
}
