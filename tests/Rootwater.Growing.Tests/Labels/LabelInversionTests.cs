using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Tests.Labels;

/// <summary>Labels printed from recipes that are known here, and what the inversion makes of them.</summary>
public sealed class LabelInversionTests(ITestOutputHelper output)
{
    private sealed record Recipe(string Name, params (string Salt, double KgPerKg)[] Salts);

    private static readonly Recipe[] s_recipes =
    [
        new("urea-free feed", ("KNO3", 0.30), ("NH4H2PO4", 0.07), ("5Ca(NO3)2·NH4NO3·10H2O", 0.30), ("Mg(NO3)2·6H2O", 0.20), ("NH4NO3", 0.11)),
        new("bloom salt", ("KH2PO4", 0.52), ("NH4NO3", 0.26), ("MgSO4·7H2O", 0.15)),
        new("all-round feed", ("KNO3", 0.22), ("CO(NH2)2", 0.25), ("NH4H2PO4", 0.20), ("K2SO4", 0.16), ("MgSO4·7H2O", 0.10)),
        new("acid feed", ("CO(NH2)2·H3PO4", 0.25), ("KNO3", 0.35), ("(NH4)2SO4", 0.20), ("MgSO4·7H2O", 0.15)),
        new("calcium nitrate", ("5Ca(NO3)2·NH4NO3·10H2O", 0.99)),
        new("potash", ("K2SO4", 0.98)),
    ];

    public static TheoryData<string> Names => [.. s_recipes.Select(recipe => recipe.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_true_pH_and_EC_of_a_recipe_lie_inside_the_band_found_from_its_label(string name)
    {
        var recipe = s_recipes.Single(recipe => recipe.Name == name);
        var (label, molPerKg) = Print(recipe);
        var truth = EquilibriumSolver.Solve(molPerKg.Scaled(1e-3 / 0.99705)).Required();
        var inversion = LabelInversion.Explain(label);

        output.WriteLine($"{name}: true pH {truth.PH:0.00}, EC {truth.ConductivityMicrosiemensPerCm:0}; found pH {inversion.PHAt1GramPerLitre.Low:0.00} {inversion.PHAt1GramPerLitre.Value:0.00} {inversion.PHAt1GramPerLitre.High:0.00}, "
            + $"EC {inversion.EcAt1GramPerLitreMicrosiemensPerCm.Low:0} {inversion.EcAt1GramPerLitreMicrosiemensPerCm.Value:0} {inversion.EcAt1GramPerLitreMicrosiemensPerCm.High:0}, largest residual {inversion.LargestRelativeResidual:0.0%}");
        truth.PH.ShouldBeInRange(inversion.PHAt1GramPerLitre.Low, inversion.PHAt1GramPerLitre.High);
        truth.ConductivityMicrosiemensPerCm.ShouldBeInRange(inversion.EcAt1GramPerLitreMicrosiemensPerCm.Low, inversion.EcAt1GramPerLitreMicrosiemensPerCm.High);
    }

    // The bands are meant for nine in ten; random blends of usual salts are harsher than what is sold, so four in five is asked.
    [Fact]
    public void Bands_hold_the_truth_for_most_random_blends()
    {
        string[] usual = ["KNO3", "5Ca(NO3)2·NH4NO3·10H2O", "Mg(NO3)2·6H2O", "NH4NO3", "CO(NH2)2", "KH2PO4", "NH4H2PO4", "K2SO4", "(NH4)2SO4", "MgSO4·7H2O", "KCl", "CO(NH2)2·H3PO4"];
        var random = new Random(20);
        int cases = 60, pHInside = 0, ecInside = 0;
        double worstPH = 0, worstEc = 0;
        for (var i = 0; i < cases; i++)
        {
            var salts = usual.OrderBy(_ => random.Next()).Take(random.Next(2, 6)).Select(salt => (Salt: salt, Part: 0.1 + random.NextDouble())).ToList();
            var filled = 0.8 + 0.2 * random.NextDouble();
            var recipe = new Recipe("blend", [.. salts.Select(share => (share.Salt, filled * share.Part / salts.Sum(other => other.Part)))]);
            var (label, molPerKg) = Print(recipe);
            var truth = EquilibriumSolver.Solve(molPerKg.Scaled(1e-3 / 0.99705)).Required();
            var (pH, ec) = (LabelInversion.Explain(label).PHAt1GramPerLitre, LabelInversion.Explain(label).EcAt1GramPerLitreMicrosiemensPerCm);
            pHInside += truth.PH >= pH.Low - 1e-9 && truth.PH <= pH.High + 1e-9 ? 1 : 0;
            ecInside += truth.ConductivityMicrosiemensPerCm >= ec.Low && truth.ConductivityMicrosiemensPerCm <= ec.High ? 1 : 0;
            worstPH = Math.Max(worstPH, Math.Abs(pH.Value - truth.PH));
            worstEc = Math.Max(worstEc, Math.Abs(ec.Value / truth.ConductivityMicrosiemensPerCm - 1));
        }

        output.WriteLine($"{cases} blends: pH inside its band {pHInside}, EC inside its band {ecInside}; best value off by at most {worstPH:0.00} in pH and {worstEc:0.0%} in EC");
        pHInside.ShouldBeGreaterThanOrEqualTo(cases * 4 / 5);
        ecInside.ShouldBeGreaterThanOrEqualTo(cases * 4 / 5);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_mix_is_neutral_not_negative_and_fits_into_a_kilogram(string name)
    {
        foreach (var mix in LabelInversion.Explain(Print(s_recipes.Single(recipe => recipe.Name == name)).Label).Mixes)
        {
            mix.Salts.ShouldAllBe(share => share.KgPerKg >= 0);
            mix.Salts.Sum(share => share.KgPerKg).ShouldBeLessThanOrEqualTo(1 + 1e-6);
            mix.MolPerKg.NetCharge().ShouldBe(0, 1e-9);
        }
    }

    [Theory]
    [InlineData("EnglishNameFirst", 0.01)]
    [InlineData("GermanAmountFirst", 0.01)]
    [InlineData("FrenchOneLine", 0.01)]
    [InlineData("OfWhich", 0.01)]
    [InlineData("GradePlusOxide", 0.025)] // the double salt holds 25.95 % CaO where trade prints 26.5
    [InlineData("OddLineBreaks", 0.01)]
    [InlineData("LiquidByVolume", 0.01)]
    [InlineData("TraceMix", 0.02)]
    public void Invented_labels_are_explained_to_within_this_residual(string name, double largestRelative)
    {
        var inversion = LabelInversion.Explain(LabelText.Parse(TestFiles.Read("Labels", nameof(LabelTextTests), name)).Label!);
        output.WriteLine($"{name}: residual {inversion.LargestRelativeResidual:0.00%}, pH {inversion.PHAt1GramPerLitre.Low:0.00}-{inversion.PHAt1GramPerLitre.High:0.00}, EC {inversion.EcAt1GramPerLitreMicrosiemensPerCm.Low:0}-{inversion.EcAt1GramPerLitreMicrosiemensPerCm.High:0}, {inversion.Mixes.Count} mixes");
        inversion.LargestRelativeResidual.ShouldBeLessThan(largestRelative);
        inversion.Problems.ShouldBeEmpty();
    }

    [Fact]
    public void A_single_salt_s_label_is_that_salt()
    {
        var label = new Label { Name = "monopotassium phosphate", Declarations = [] }.Declaring(DeclaredForm.PhosphorusPentoxide, 52.1).Declaring(DeclaredForm.PotassiumOxide, 34.6);
        LabelInversion.Explain(label).Best.Salts.ShouldHaveSingleItem().Salt.Formula.ShouldBe("KH2PO4");
    }

    [Fact]
    public void A_label_that_does_not_say_the_form_of_nitrogen_leaves_EC_wide_open()
    {
        var silent = new Label { Name = "feed", Declarations = [] }.Declaring(DeclaredForm.TotalNitrogen, 20).Declaring(DeclaredForm.Phosphorus, 2.2).Declaring(DeclaredForm.Potassium, 15.8);
        var spread = LabelInversion.Explain(silent).EcAt1GramPerLitreMicrosiemensPerCm;
        (spread.High / spread.Low).ShouldBeGreaterThan(2, "urea carries no current, ammonium nitrate does");

        var said = silent.Declaring(DeclaredForm.NitrateNitrogen, 12).Declaring(DeclaredForm.AmmoniacalNitrogen, 8);
        var told = LabelInversion.Explain(said).EcAt1GramPerLitreMicrosiemensPerCm;
        (told.High / told.Low).ShouldBeLessThan(1.3);
    }

    [Fact]
    public void A_stated_EC_decides_between_mixes()
    {
        var silent = new Label { Name = "feed", Declarations = [] }.Declaring(DeclaredForm.TotalNitrogen, 20).Declaring(DeclaredForm.Phosphorus, 2.2).Declaring(DeclaredForm.Potassium, 15.8);
        var stated = LabelInversion.Explain(silent with { StatedEcMicrosiemensPerCm = new StatedReading(540, 1) });
        stated.Best.Salts.ShouldContain(share => share.Salt.Formula == "CO(NH2)2");
        stated.EcAt1GramPerLitreMicrosiemensPerCm.Value.ShouldBe(540, 60);
    }

    // The ambiguity named in docs/science/labels.md: potassium chloride with urea phosphate prints the same label as monopotassium phosphate with urea.
    [Fact]
    public void A_test_can_in_the_grower_s_own_water_tells_mixes_apart_that_the_label_cannot()
    {
        var recipe = new Recipe("acid in disguise", ("KCl", 0.287), ("CO(NH2)2·H3PO4", 0.381), ("CO(NH2)2", 0.164));
        var (label, molPerKg) = Print(recipe);
        var hardWater = ComponentAmounts.From((Component.Calcium, 1.5e-3), (Component.Carbonate, 3.2e-3), (Component.Hydrogen, 3.4e-3));
        var can = new TestCan { GramsPerLitre = 1, WaterMolPerKgWater = hardWater };
        var read = EquilibriumSolver.Solve(hardWater.PlusScaled(molPerKg, 1e-3 / 0.99705)).Required();

        var (pHBefore, ecBefore) = LabelInversion.Explain(label).ExpectedIn(can);
        var told = LabelInversion.Explain(label, [can with { PH = read.PH, EcMicrosiemensPerCm = read.ConductivityMicrosiemensPerCm }]);
        var (pHAfter, ecAfter) = told.ExpectedIn(can);
        (pHBefore.High - pHBefore.Low).ShouldBeGreaterThan(pHAfter.High - pHAfter.Low);
        (ecBefore.High - ecBefore.Low).ShouldBeGreaterThan(ecAfter.High - ecAfter.Low);
        pHAfter.Value.ShouldBe(read.PH, 0.3);
        ecAfter.Value.ShouldBe(read.ConductivityMicrosiemensPerCm, read.ConductivityMicrosiemensPerCm * 0.05);
        told.Best.Salts.Select(share => share.Salt.Formula).ShouldContain("CO(NH2)2·H3PO4", "the acid is found; whether chloride or sulfate goes with potassium stays open");
    }

    [Fact]
    public void What_a_label_says_it_is_made_from_is_believed()
    {
        var label = new Label { Name = "feed", Declarations = [] }.Declaring(DeclaredForm.NitrateNitrogen, 7).Declaring(DeclaredForm.AmmoniacalNitrogen, 3).Declaring(DeclaredForm.PhosphorusPentoxide, 10).Declaring(DeclaredForm.PotassiumOxide, 20);
        var withMonoammonium = LabelInversion.Explain(label with { DerivedFrom = ["KNO3", "NH4H2PO4", "NH4NO3"] });
        withMonoammonium.Best.Salts.Select(share => share.Salt.Formula).ShouldContain("NH4H2PO4");
        withMonoammonium.Best.Salts.Select(share => share.Salt.Formula).ShouldNotContain("KH2PO4");
    }

    [Fact]
    public void The_same_seed_gives_the_same_answer()
    {
        var label = Print(s_recipes[2]).Label;
        LabelInversion.Explain(label, seed: 7).Best.MolPerKg.ShouldBe(LabelInversion.Explain(label, seed: 7).Best.MolPerKg);
    }

    [Fact]
    public void A_label_that_no_known_salts_explain_says_which_line_fails()
    {
        // Nothing but potassium nitrate brings this little potassium with this much nitrate and no other cation.
        var label = new Label { Name = "odd", Declarations = [] }.Declaring(DeclaredForm.NitrateNitrogen, 14).Declaring(DeclaredForm.PotassiumOxide, 5).Declaring(DeclaredForm.Sodium, 0);
        LabelInversion.Explain(label).Problems.ShouldNotBeEmpty();
    }

    private static (Label Label, ComponentAmounts MolPerKg) Print(Recipe recipe)
    {
        var molPerKg = recipe.Salts.Aggregate(ComponentAmounts.Zero, (sum, share) => sum.PlusScaled(SaltTable.Find(share.Salt)!.MolPerKg, share.KgPerKg));
        var mgPerKg = Nutrients.MilligramsIn(molPerKg);
        var label = new Label { Name = recipe.Name, Declarations = [] };
        (DeclaredForm Form, Nutrient Nutrient)[] lines =
        [
            (DeclaredForm.NitrateNitrogen, Nutrient.NitrateNitrogen), (DeclaredForm.AmmoniacalNitrogen, Nutrient.AmmoniumNitrogen), (DeclaredForm.UreaNitrogen, Nutrient.UreaNitrogen),
            (DeclaredForm.PhosphorusPentoxide, Nutrient.Phosphorus), (DeclaredForm.PotassiumOxide, Nutrient.Potassium), (DeclaredForm.CalciumOxide, Nutrient.Calcium),
            (DeclaredForm.MagnesiumOxide, Nutrient.Magnesium), (DeclaredForm.SulfurTrioxide, Nutrient.Sulfur),
        ];
        foreach (var (form, nutrient) in lines.Where(line => mgPerKg[line.Nutrient] > 0))
        {
            label = label with { Declarations = [.. label.Declarations, new Declaration(form, Math.Round(mgPerKg[nutrient] / 1e4 / form.ElementFraction(), 1)) { RoundingPercent = 0.05 }] };
        }

        return (label, molPerKg);
    }
}
