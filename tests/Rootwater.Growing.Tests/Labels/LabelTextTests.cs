using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Tests.Labels;

/// <summary>Invented labels in the layouts that packages and shop pages use.</summary>
public sealed class LabelTextTests
{
    private static LabelReading Read(string name) => LabelText.Parse(TestFiles.Read("Labels", nameof(LabelTextTests), name));

    private static void ShouldDeclare(Label label, DeclaredForm form, double percent, Chelator chelator = Chelator.None)
    {
        var lines = label.Declarations.Where(line => line.Form == form && line.Chelator == chelator).ToList();
        lines.ShouldNotBeEmpty($"{form} {chelator} was not read");
        lines.ShouldContain(line => Math.Abs(line.Percent - percent) < 1e-9, $"{form}: read {string.Join(", ", lines.Select(line => line.Percent))}, printed {percent}");
    }

    [Fact]
    public void Reads_an_analysis_with_names_first_and_parts_indented()
    {
        var reading = Read("EnglishNameFirst");
        var label = reading.Label!;
        reading.IsUsable.ShouldBeTrue(string.Join("; ", reading.Problems));
        label.Name.ShouldBe("Orchid Feed 14-4-12 with Calcium and Magnesium");
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, 14);
        ShouldDeclare(label, DeclaredForm.NitrateNitrogen, 11.5);
        ShouldDeclare(label, DeclaredForm.AmmoniacalNitrogen, 2.5);
        ShouldDeclare(label, DeclaredForm.PhosphorusPentoxide, 4);
        ShouldDeclare(label, DeclaredForm.PotassiumOxide, 12);
        ShouldDeclare(label, DeclaredForm.Calcium, 6);
        ShouldDeclare(label, DeclaredForm.Magnesium, 1.8);
        ShouldDeclare(label, DeclaredForm.Boron, 0.02);
        ShouldDeclare(label, DeclaredForm.Iron, 0.2);
        ShouldDeclare(label, DeclaredForm.Iron, 0.2, Chelator.Unnamed);
        ShouldDeclare(label, DeclaredForm.Molybdenum, 0.005);
        label.Contents().MgPerKg[Nutrient.Iron].ShouldBe(2000, 1e-6, "the chelated iron is a part of the iron, not more iron");
        label.DerivedFrom.ShouldContain("KNO3");
        label.DerivedFrom.ShouldContain("KH2PO4");
        label.DerivedFrom.ShouldContain("Na2ZnEDTA");
        label.DerivedFrom.ShouldNotContain("ZnSO4·7H2O");
        label.Directions.ShouldBe("Directions: use 1 g per litre at every second watering.");
    }

    [Fact]
    public void Reads_amounts_first_with_decimal_commas_in_German()
    {
        var label = Read("GermanAmountFirst").Label!;
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, 15);
        ShouldDeclare(label, DeclaredForm.NitrateNitrogen, 8.5);
        ShouldDeclare(label, DeclaredForm.AmmoniacalNitrogen, 6.5);
        ShouldDeclare(label, DeclaredForm.PhosphorusPentoxide, 10);
        ShouldDeclare(label, DeclaredForm.PotassiumOxide, 15);
        ShouldDeclare(label, DeclaredForm.MagnesiumOxide, 2);
        ShouldDeclare(label, DeclaredForm.Copper, 0.02, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Iron, 0.05, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Manganese, 0.03, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Molybdenum, 0.002);
        ShouldDeclare(label, DeclaredForm.Zinc, 0.01, Chelator.Edta);
        label.Directions.ShouldNotBeNull().ShouldContain("Gießwasser");
    }

    [Fact]
    public void Reads_running_text_in_French()
    {
        var label = Read("FrenchOneLine").Label!;
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, 20);
        ShouldDeclare(label, DeclaredForm.NitrateNitrogen, 6);
        ShouldDeclare(label, DeclaredForm.AmmoniacalNitrogen, 4);
        ShouldDeclare(label, DeclaredForm.UreaNitrogen, 10);
        label.Contents().MgPerKg[Nutrient.Phosphorus].ShouldBe(50_000 * DeclaredForm.PhosphorusPentoxide.ElementFraction(), 1e-6);
        label.Contents().MgPerKg[Nutrient.Potassium].ShouldBe(100_000 * DeclaredForm.PotassiumOxide.ElementFraction(), 1e-6);
        ShouldDeclare(label, DeclaredForm.MagnesiumOxide, 2.5);
        ShouldDeclare(label, DeclaredForm.Iron, 0.1, Chelator.Dtpa);
    }

    [Fact]
    public void Reads_forms_of_nitrogen_after_of_which()
    {
        var label = Read("OfWhich").Label!;
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, 14);
        ShouldDeclare(label, DeclaredForm.NitrateNitrogen, 6);
        ShouldDeclare(label, DeclaredForm.AmmoniacalNitrogen, 6);
        ShouldDeclare(label, DeclaredForm.UreaNitrogen, 2);
        ShouldDeclare(label, DeclaredForm.PhosphorusPentoxide, 27);
        ShouldDeclare(label, DeclaredForm.PotassiumOxide, 18);
        label.Declarations.Count.ShouldBe(6);
    }

    [Fact]
    public void Reads_a_grade_with_what_is_added_to_it()
    {
        var label = Read("GradePlusOxide").Label!;
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, 15.5);
        ShouldDeclare(label, DeclaredForm.PhosphorusPentoxide, 0);
        ShouldDeclare(label, DeclaredForm.CalciumOxide, 26.5);
        label.Declarations.Count.ShouldBe(4);
    }

    [Theory]
    [InlineData("14-4-12", 14, 4, 12)]
    [InlineData("feed 14 – 4 – 12", 14, 4, 12)]
    [InlineData("NPK 14:4:12", 14, 4, 12)]
    [InlineData("N-P-K: 14+4+12", 14, 4, 12)]
    [InlineData("NPK 14,5-4-12", 14.5, 4, 12)]
    [InlineData("N 14 P2O5 4 K2O 12", 14, 4, 12)]
    [InlineData("N: 14% | P₂O₅: 4% | K₂O: 12%", 14, 4, 12)]
    [InlineData("14 % N, 4 % P2O5, 12 % K2O", 14, 4, 12)]
    [InlineData("N=14%; P205=4%; K20=12%", 14, 4, 12)]
    [InlineData("Nitrogen 14 %\nPhosphate 4 %\nPotash 12 %", 14, 4, 12)]
    [InlineData("Stickstoff (N): 14 Gew.-%\nPhosphat (P2O5): 4 Gew.-%\nKali (K2O): 12 Gew.-%", 14, 4, 12)]
    [InlineData("N 140 g/kg, P2O5 40 g/kg, K2O 120 g/kg", 14, 4, 12)]
    [InlineData("N l4 %, P2O5 4 . 0 %, K2O I2 %", 14, 4, 12)]
    public void Reads_the_same_three_numbers_in_any_layout(string text, double nitrogen, double phosphate, double potash)
    {
        var label = LabelText.Parse(text).Label.ShouldNotBeNull();
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, nitrogen);
        ShouldDeclare(label, DeclaredForm.PhosphorusPentoxide, phosphate);
        ShouldDeclare(label, DeclaredForm.PotassiumOxide, potash);
        label.Declarations.Count.ShouldBe(3);
    }

    [Fact]
    public void Reads_through_line_breaks_in_odd_places_and_letters_that_a_camera_mistakes()
    {
        var label = Read("OddLineBreaks").Label!;
        ShouldDeclare(label, DeclaredForm.TotalNitrogen, 9);
        ShouldDeclare(label, DeclaredForm.NitrateNitrogen, 4.5);
        ShouldDeclare(label, DeclaredForm.AmmoniacalNitrogen, 4.5);
        ShouldDeclare(label, DeclaredForm.PhosphorusPentoxide, 27);
        ShouldDeclare(label, DeclaredForm.PotassiumOxide, 18);
    }

    [Theory]
    [InlineData("Tolerance 5 %", 5.0)]
    [InlineData("Tolerance: ± 5 %", 5.0)]
    [InlineData("Toleranz der Gehalte +/- 2,5 %", 2.5)]
    [InlineData("tolérance 4 %", 4.0)]
    [InlineData("± 3 % tolerance", 3.0)]
    [InlineData("all contents ± 5 %", 5.0)]
    [InlineData("", null)]
    public void Reads_the_tolerance_of_the_whole_label_and_pairs_it_with_no_nutrient(string line, double? percent)
    {
        var reading = LabelText.Parse($"Feed\nNitrogen (N) 14 %\nPotassium oxide (K2O) 12 %\n{line}");

        reading.Label!.RelativeTolerance.ShouldBe(percent / 100 / 1.96);
        reading.Label.Declarations.Select(each => each.Percent).ShouldBe([14, 12]);
        reading.Problems.Where(problem => problem.Severity != Severity.Note).ShouldBeEmpty();
    }

    [Fact]
    public void A_tolerance_behind_an_amount_is_not_that_of_the_label_and_one_too_wide_is_said_and_left_out()
    {
        LabelText.Parse("Feed\nNitrogen (N) 14 % ± 0.4 %\nPotassium oxide (K2O) 12 %").Label!.RelativeTolerance.ShouldBeNull();
        var wide = LabelText.Parse("Feed\nNitrogen (N) 14 %\nTolerance 60 %");
        wide.Label!.RelativeTolerance.ShouldBeNull();
        wide.Problems.ShouldContain(problem => problem.Field == "tolerance" && problem.Value == "60");
    }

    [Fact]
    public void Reads_a_liquid_by_volume_with_its_density()
    {
        var label = Read("LiquidByVolume").Label!;
        label.Basis.ShouldBe(LabelBasis.ByVolume);
        label.DensityKgPerLitre.ShouldBe(1.18);
        label.StatedPH!.Value.ShouldBe(3.2);
        ShouldDeclare(label, DeclaredForm.Iron, 0.12, Chelator.Dtpa);
        // 4 g per 100 mL of 118 g.
        label.Contents().MgPerKg[Nutrient.Calcium].ShouldBe(40_000 / 1.18, 1e-6);
    }

    [Fact]
    public void A_product_by_volume_without_a_density_is_an_error_that_names_the_density()
    {
        var reading = Read("LiquidNoDensity");
        reading.IsUsable.ShouldBeFalse();
        reading.Problems.Where(problem => problem.Severity == Severity.Error).ShouldHaveSingleItem().Field.ShouldBe("density");
        Should.Throw<InvalidOperationException>(() => reading.Label!.Contents());
        LabelText.Parse(reading.Label!.Text!, densityKgPerLitre: 1.26).IsUsable.ShouldBeTrue("the grower may add it");
    }

    [Fact]
    public void Forms_of_nitrogen_that_exceed_the_total_are_an_error()
    {
        var error = Read("PartsDoNotAdd").Problems.Where(problem => problem.Severity == Severity.Error).ShouldHaveSingleItem();
        error.Field.ShouldBe("total nitrogen");
        error.Message.ShouldContain("17 %");
    }

    [Fact]
    public void A_label_whose_lightest_ions_and_oxides_outweigh_it_is_an_error_with_the_sum()
    {
        var error = Read("AddsTo112").Problems.Where(problem => problem.Severity == Severity.Error).ShouldHaveSingleItem();
        error.Field.ShouldBe("analysis");
        // By hand: NO3 43.8 + P2O5 20 + K 33.2 + SO4 12.0 + Mg 2.4 = 111.4; charges: K 849 + Mg 198 - N 707 - S 250 = +90 meq per 100 g, as oxide 0.7.
        error.Message.ShouldStartWith("This label adds to 112 %");
    }

    [Fact]
    public void A_grade_that_counts_elements_is_read_as_elements()
    {
        var label = Read("ElementalGrade").Label!;
        label.Declarations.ShouldNotContain(line => line.Form == DeclaredForm.PhosphorusPentoxide || line.Form == DeclaredForm.PotassiumOxide);
        label.Contents().MgPerKg[Nutrient.Phosphorus].ShouldBe(22_000, 1e-6);
        label.Contents().MgPerKg[Nutrient.Potassium].ShouldBe(158_000, 1e-6);
    }

    [Fact]
    public void A_chelator_named_for_all_trace_metals_is_given_to_each()
    {
        var label = Read("TraceMix").Label!;
        ShouldDeclare(label, DeclaredForm.Iron, 7, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Manganese, 3.5, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Zinc, 0.7, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Copper, 0.3, Chelator.Edta);
        ShouldDeclare(label, DeclaredForm.Boron, 0.65);
        ShouldDeclare(label, DeclaredForm.Molybdenum, 0.3);
        label.StatedPH.ShouldBe(new StatedReading(4.5, 10));
        label.StatedEcMicrosiemensPerCm.ShouldNotBeNull().Value.ShouldBe(680, 1e-9);
    }

    [Fact]
    public void A_chelated_part_stays_inside_its_total()
    {
        var iron = Read("ChelatedShare").Label!.Contents().Declared[Nutrient.Iron];
        iron.MgPerKg.ShouldBe(60_000, 1e-6);
        iron.ChelatedMgPerKg[Chelator.Eddha].ShouldBe(48_000, 1e-6);
    }

    [Fact]
    public void A_text_that_is_no_label_says_so()
    {
        var reading = Read("NotALabel");
        reading.Label.ShouldBeNull();
        reading.Problems.ShouldHaveSingleItem().Message.ShouldContain("No nutrient with an amount");
    }

    [Fact]
    public void An_amount_that_belongs_to_no_nutrient_is_reported_and_not_paired()
    {
        var reading = Read("UnknownShare");
        reading.Label!.Declarations.Count.ShouldBe(3);
        var warning = reading.Problems.Where(problem => problem.Value == "12 %").ShouldHaveSingleItem();
        warning.Message.ShouldContain("humic extract 12 %");
    }

    [Fact]
    public void Every_declaration_points_at_the_characters_it_was_read_from()
    {
        var label = Read("GermanAmountFirst").Label!;
        foreach (var line in label.Declarations)
        {
            var from = line.ReadFrom.ShouldNotBeNull().In(label.Text!);
            from.ShouldContain(line.Percent.ToString(System.Globalization.CultureInfo.GetCultureInfo("de-DE")));
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("   \n ")]
    public void No_text_is_an_error(string text) => LabelText.Parse(text).IsUsable.ShouldBeFalse();

    [Fact]
    public void No_text_however_odd_makes_the_reader_fall()
    {
        var letters = CsCheck.Gen.Char["N PKCaMgO2350%,.-+()/:;\n\tEDTAµ₂²·lI|g"];
        CsCheck.Check.Sample(CsCheck.Gen.String[letters, 0, 80], text =>
        {
            var reading = LabelText.Parse(text);
            (reading.Label is not null || reading.Problems.Count > 0).ShouldBeTrue();
        }, iter: 3000);
    }
}
