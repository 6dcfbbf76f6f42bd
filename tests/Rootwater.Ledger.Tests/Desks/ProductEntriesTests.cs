using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Desks;

public sealed class ProductEntriesTests
{
    [Fact]
    public void A_label_becomes_a_product_that_holds_what_it_declares()
    {
        var read = ProductEntries.Read(new NewProduct { Name = "feed", LabelText = "Total nitrogen (N) 13.8 %: 13.8 % nitrate nitrogen. Potassium oxide (K2O) 46.5 %." });

        read.Problems.ShouldBeEmpty();
        read.Product!.MgPerKg[Nutrient.NitrateNitrogen].ShouldBe(138_000, 2_000);
        read.MadeOf.ShouldContain(part => part.StartsWith("potassium nitrate", StringComparison.Ordinal));
        read.Product.LabelText!.ShouldContain("46.5");
    }

    [Fact]
    public void A_formula_becomes_the_pure_salt()
    {
        var read = ProductEntries.Read(new NewProduct { Name = "magnesium sulfate", Formula = "MgSO4·7H2O" });

        // 246.47 g/mol from IUPAC atomic weights: 4.0573 mol in a kilogram.
        read.Product!.MolPerKg[Component.Magnesium].ShouldBe(1000 / 246.47, 0.001);
        read.Product.Kind.ShouldBe(ProductKind.Salt);
    }

    [Fact]
    public void An_acid_is_taken_by_its_strength()
    {
        var read = ProductEntries.Read(new NewProduct { Name = "pH-down", Acid = new AcidStrength("H3PO4", 24), DensityKgPerLitre = 1.14 });

        // 240 g of 97.994 g/mol in a kilogram.
        read.Product!.MolPerKg[Component.Phosphate].ShouldBe(240 / 97.994, 0.001);
        read.Product.IsLiquid.ShouldBeTrue();
    }

    [Fact]
    public void A_tolerance_typed_beside_the_label_goes_before_the_one_in_its_text()
    {
        var entry = new NewProduct { Name = "feed", LabelText = "Total nitrogen (N) 13.8 %: 13.8 % nitrate nitrogen. Potassium oxide (K2O) 46.5 %.\nTolerance 8 %" };

        ProductEntries.Read(entry).Product!.RelativeUncertainty.ShouldBe(0.08 / 1.96, 1e-6);
        ProductEntries.Read(entry with { TolerancePercent = 2 }).Product!.RelativeUncertainty.ShouldBe(0.02 / 1.96, 1e-6);
    }

    public static TheoryData<NewProduct, string> Refused => new()
    {
        { new NewProduct { Name = "nothing said" }, "contents" },
        { new NewProduct { Name = "said twice", Formula = "KNO3", LabelText = "N 13.8 %" }, "contents" },
        { new NewProduct { Name = " ", Formula = "KNO3" }, "name" },
        { new NewProduct { Name = "mystery", Formula = "Xy2" }, "formula" },
        { new NewProduct { Name = "too pure", Formula = "KNO3", PurityPercent = 112 }, "purity" },
        { new NewProduct { Name = "poured, but how heavy", Acid = new AcidStrength("H3PO4", 24) }, "density" },
        { new NewProduct { Name = "as wide as that", LabelText = "N 13.8 %", TolerancePercent = 60 }, "tolerance" },
        { new NewProduct { Name = "a pure salt has none", Formula = "KNO3", TolerancePercent = 5 }, "tolerance" },
        { new NewProduct { Name = "dear", Formula = "KNO3", PricePerKg = -1 }, "price" },
    };

    [Theory]
    [MemberData(nameof(Refused), DisableDiscoveryEnumeration = true)]
    public void What_cannot_be_used_is_refused_by_field_with_what_would_do(NewProduct entry, string field)
    {
        var read = ProductEntries.Read(entry);

        read.Problems.Select(problem => problem.Field).ShouldContain(field);
        read.Problems.ShouldAllBe(problem => problem.Accepted.Length > 10);
    }

    [Fact]
    public void A_label_over_100_percent_is_refused()
    {
        var read = ProductEntries.Read(new NewProduct { Name = "too much of a good thing", LabelText = "Total nitrogen (N) 40 %: 40 % nitrate nitrogen. Phosphorus pentoxide (P2O5) 40 %. Potassium oxide (K2O) 40 %." });

        read.Problems.ShouldNotBeEmpty();
    }
}
