using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Tests.Cupboard;

public sealed class ProductFactoryTests
{
    [Fact]
    public void A_salt_by_formula_has_its_moles_solubility_and_hazards()
    {
        var product = ProductFactory.FromFormula("magnesium sulfate heptahydrate", "MgSO4.7H2O", 98).Product.ShouldNotBeNull();
        product.MgPerKg[Nutrient.Magnesium].ShouldBe(98_610 * 0.98, 10);
        product.MolPerKg.NetCharge().ShouldBe(0, 1e-12);
        product.SolubilityGramsPerLitre.ShouldBe(710);
        product.IsLiquid.ShouldBeFalse();
        product.Kind.ShouldBe(ProductKind.Salt);
        ProductFactory.FromFormula("saltpetre", "KNO3").Product!.Hazards.HasFlag(Hazards.Oxidiser).ShouldBeTrue();
    }

    [Fact]
    public void An_acid_by_strength_brings_its_protons()
    {
        var product = ProductFactory.FromStrength("phosphoric acid 24 %", "H3PO4", 24, 1.14).Product.ShouldNotBeNull();
        product.Kind.ShouldBe(ProductKind.Acid);
        product.MolPerKg[Component.Hydrogen].ShouldBe(3 * product.MolPerKg[Component.Phosphate], 1e-12);
        product.MolPerKg[Component.Phosphate].ShouldBe(240 / 97.994, 1e-3);
        product.Hazards.ShouldBe(Hazards.Irritant);
        ProductFactory.FromStrength("phosphoric acid 85 %", "H3PO4", 85, 1.685).Product!.Hazards.ShouldBe(Hazards.CorrosiveAcid);
        ProductFactory.FromStrength("nitric acid 70 %", "HNO3", 70, 1.413).Product!.Hazards.ShouldBe(Hazards.CorrosiveAcid | Hazards.Oxidiser);
        ProductFactory.FromStrength("potash lye", "KOH", 30, 1.29).Product!.Hazards.ShouldBe(Hazards.CorrosiveBase);
    }

    [Theory]
    [InlineData("H3PO4", 24.0, null, "density")]
    [InlineData("H3PO4", 24.0, 1140.0, "density")]
    [InlineData("H3PO4", 0.0, 1.14, "strength")]
    [InlineData("H3PO4", 101.0, 1.14, "strength")]
    [InlineData("H3PO4", double.NaN, 1.14, "strength")]
    [InlineData("Xx9", 24.0, 1.14, "formula")]
    [InlineData("", 24.0, 1.14, "formula")]
    public void What_is_missing_or_absurd_is_named_and_nothing_is_made(string formula, double percent, double? density, string field)
    {
        var outcome = ProductFactory.FromStrength("acid", formula, percent, density);
        outcome.Product.ShouldBeNull();
        outcome.Problems.Where(problem => problem.Severity == Severity.Error).ShouldContain(problem => problem.Field == field);
    }

    [Fact]
    public void A_missing_density_is_suggested_from_the_strength() =>
        ProductFactory.FromStrength("phosphoric acid 24 %", "H3PO4", 24, null).Problems.ShouldHaveSingleItem().Message.ShouldContain("about 1.14");

    [Fact]
    public void A_product_without_a_name_is_not_made() => ProductFactory.FromFormula(" ", "KNO3").Problems.ShouldHaveSingleItem().Field.ShouldBe("name");

    [Fact]
    public void A_dissolved_substance_is_not_taken_for_a_powder() => ProductFactory.FromFormula("nitric acid", "HNO3").Product.ShouldBeNull();

    [Fact]
    public void A_label_becomes_a_product_with_its_uncertainty()
    {
        var label = LabelText.Parse(TestFiles.Read("Labels", "LabelTextTests", "EnglishNameFirst")).Label!;
        var outcome = ProductFactory.FromLabel(label);
        var product = outcome.Product.ShouldNotBeNull();
        product.Kind.ShouldBe(ProductKind.Fertilizer);
        product.MolPerKg.NetCharge().ShouldBe(0, 1e-9);
        product.MgPerKg.TotalNitrogen.ShouldBe(140_000, 1_500);
        product.PHUncertainty.ShouldBeGreaterThan(0.05);
        product.ChelateHighestPH.ShouldBe(6.5);
        product.LabelText.ShouldBe(label.Text);
        ProductFactory.FromLabel(LabelText.Parse(TestFiles.Read("Labels", "LabelTextTests", "TraceMix")).Label!).Product!.Kind.ShouldBe(ProductKind.Supplement);
    }

    [Fact]
    public void A_label_with_an_error_becomes_no_product() =>
        ProductFactory.FromLabel(LabelText.Parse(TestFiles.Read("Labels", "LabelTextTests", "AddsTo112")).Label!).Product.ShouldBeNull();

    [Fact]
    public void Every_salt_of_the_table_can_be_read_is_neutral_and_says_where_its_solubility_is_from()
    {
        SaltTable.All.Count.ShouldBeGreaterThan(40);
        foreach (var salt in SaltTable.All)
        {
            salt.MolPerKg.NetCharge().ShouldBe(0, 1e-9, salt.Formula);
            SaltFacts.Find(salt.Formula)!.SolubilitySource.ShouldNotBeNullOrWhiteSpace(salt.Formula);
            salt.Rarity.ShouldBeInRange(0, 12, salt.Formula);
        }
    }
}
