using System.Globalization;
using Rootwater.Chemistry.Formulas;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Cupboard;

/// <summary>A product as made from what was entered, or why it could not be made.</summary>
/// <param name="Product">Null when there is an error.</param>
/// <param name="Inversion">How the label was explained; null for a salt, acid or base.</param>
/// <param name="Problems">What is wrong or doubtful.</param>
public sealed record ProductOutcome(Product? Product, LabelInversion? Inversion, IReadOnlyList<InputProblem> Problems);

/// <summary>Makes products from what a grower knows of them: a formula, a strength, or a label.</summary>
public static class ProductFactory
{
    private const double LeastDensityKgPerLitre = 0.7, MostDensityKgPerLitre = 2.2;

    // The table's lines are good to 0.01, labels round to 0.01 or 0.02; more than this is another strength.
    private const double DoubtfulKgPerLitre = 0.06;

    // Single salts are sold purer than mixed feeds are uniform (common practice, no source).
    private const double SaltRelativeUncertainty = 0.01, AcidRelativeUncertainty = 0.02, FeedRelativeUncertainty = 0.03;

    /// <summary>A salt by its formula, as a solid.</summary>
    /// <param name="name">What the grower calls it.</param>
    /// <param name="formula">"MgSO4·7H2O", "5Ca(NO3)2·NH4NO3·10H2O".</param>
    /// <param name="purityPercent">By weight, above 0 to 100; what is not the salt counts as inert.</param>
    /// <param name="id">Of the product; a new one when null.</param>
    public static ProductOutcome FromFormula(string name, string formula, double purityPercent = 100, Guid? id = null)
    {
        var problems = new List<InputProblem>();
        CheckName(name, problems);
        CheckPercent("purity", purityPercent, problems);
        var read = ReadFormula(formula, problems);
        if (read is null || HasError(problems))
        {
            return new ProductOutcome(null, null, problems);
        }

        var salt = SaltTable.Find(formula);
        if (salt is null)
        {
            problems.Add(InputProblem.Note("formula", formula, "It is not in the salt table, so its solubility and hazards are not known here. Look at its label."));
        }
        else if (salt.OnlyDissolved)
        {
            problems.Add(InputProblem.Error("formula", formula, $"{Capital(salt.Name)} is sold dissolved. Enter its strength in percent by weight and its density."));
            return new ProductOutcome(null, null, problems);
        }

        var facts = SaltFacts.Find(formula);
        return new ProductOutcome(
            new Product
            {
                Id = id ?? Guid.CreateVersion7(),
                Name = name.Trim(),
                Kind = facts?.Kind ?? ProductKind.Salt,
                MolPerKg = read.ComponentsPerMole.Scaled(10 * purityPercent / read.GramsPerMole),
                RelativeUncertainty = SaltRelativeUncertainty,
                SolubilityGramsPerLitre = facts?.SolubilityGramsPerLitre,
                Hazards = facts?.Hazards ?? Hazards.None,
                ChelateHighestPH = salt is null ? null : ChelateRanges.HighestPH([salt]),
            },
            null,
            problems);
    }

    /// <summary>An acid, base or other liquid by its strength: moles per kilogram = 10 × percent / molar mass.</summary>
    /// <param name="name">What the grower calls it ("phosphoric acid 24 %").</param>
    /// <param name="formula">"H3PO4", "HNO3", "H2SO4", "C6H8O7", "KOH".</param>
    /// <param name="percentByWeight">Above 0 to 100.</param>
    /// <param name="densityKgPerLitre">From the label or safety sheet (24 % phosphoric acid: about 1.14).</param>
    /// <param name="id">Of the product; a new one when null.</param>
    public static ProductOutcome FromStrength(string name, string formula, double percentByWeight, double? densityKgPerLitre, Guid? id = null)
    {
        var problems = new List<InputProblem>();
        CheckName(name, problems);
        CheckPercent("strength", percentByWeight, problems);
        var read = ReadFormula(formula, problems);
        if (densityKgPerLitre is null)
        {
            problems.Add(InputProblem.Error("density", null, "A liquid is measured by volume, so its density in kg/L is needed. Weigh 100 mL of it: 114 g is 1.14 kg/L."
                + (LiquidDensities.KgPerLitre(formula ?? string.Empty, percentByWeight) is { } about ? $" At {Say(percentByWeight)} % it is about {about.ToString("0.00", CultureInfo.InvariantCulture)}." : string.Empty)));
        }
        else if (densityKgPerLitre is not (>= LeastDensityKgPerLitre and <= MostDensityKgPerLitre))
        {
            problems.Add(InputProblem.Error("density", Say(densityKgPerLitre.Value), $"A density must lie between {LeastDensityKgPerLitre} and {MostDensityKgPerLitre} kg/L."));
        }

        else if (LiquidDensities.KgPerLitre(formula ?? string.Empty, percentByWeight) is { } usual && Math.Abs(densityKgPerLitre.Value - usual) > DoubtfulKgPerLitre)
        {
            problems.Add(InputProblem.Warning("density", Say(densityKgPerLitre.Value), $"{formula} of {Say(percentByWeight)} % is about {usual.ToString("0.00", CultureInfo.InvariantCulture)} kg/L. Is the strength or the density another product's?"));
        }

        if (read is null || HasError(problems))
        {
            return new ProductOutcome(null, null, problems);
        }

        var salt = SaltTable.Find(formula!);
        return new ProductOutcome(
            new Product
            {
                Id = id ?? Guid.CreateVersion7(),
                Name = name.Trim(),
                Kind = SaltFacts.Find(formula!)?.Kind ?? KindOf(read),
                MolPerKg = read.ComponentsPerMole.Scaled(10 * percentByWeight / read.GramsPerMole),
                DensityKgPerLitre = densityKgPerLitre,
                RelativeUncertainty = AcidRelativeUncertainty,
                Hazards = HazardLimits.Of(formula!, percentByWeight),
                ChelateHighestPH = salt is null ? null : ChelateRanges.HighestPH([salt]),
            },
            null,
            problems);
    }

    /// <summary>A product by its label, through <see cref="LabelInversion"/>.</summary>
    /// <param name="label">The label.</param>
    /// <param name="kind">What it is for; found from its contents when null.</param>
    /// <param name="id">Of the product; a new one when null.</param>
    public static ProductOutcome FromLabel(Label label, ProductKind? kind = null, Guid? id = null)
    {
        var problems = new List<InputProblem>(LabelCheck.Of(label));
        CheckName(label.Name, problems);
        if (HasError(problems))
        {
            return new ProductOutcome(null, null, problems);
        }

        LabelInversion inversion;
        try
        {
            inversion = LabelInversion.Explain(label);
        }
        catch (InvalidOperationException unsolved)
        {
            problems.Add(InputProblem.Error("analysis", null, $"The chemistry of this label could not be solved ({unsolved.Message}). Look for a line that is far out."));
            return new ProductOutcome(null, null, problems);
        }

        problems.AddRange(inversion.Problems);
        var best = inversion.Best;
        if (best.Salts.Count == 0)
        {
            problems.Add(InputProblem.Error("analysis", null, "No known salt explains what it declares, so nothing can be computed with it."));
            return new ProductOutcome(null, inversion, problems);
        }

        if (best.MolPerKg[Chemistry.Species.Component.Urea] > 0 && Biuret.DeclaredIn(label.Text) is null)
        {
            problems.Add(Biuret.Undeclared);
        }

        var salts = best.Salts.Select(share => share.Salt).ToList();
        return new ProductOutcome(
            new Product
            {
                Id = id ?? Guid.CreateVersion7(),
                Name = label.Name.Trim(),
                Kind = kind ?? KindOf(best),
                MolPerKg = best.MolPerKg,
                DensityKgPerLitre = label.DensityKgPerLitre,
                // What is in it is known as well as labels are; which salts bring it moves the EC and the pH, not the contents.
                RelativeUncertainty = label.RelativeTolerance ?? FeedRelativeUncertainty,
                EcUncertaintyMicrosiemensPerCm = inversion.EcAt1GramPerLitreMicrosiemensPerCm.StandardDeviation,
                BiuretPercent = Biuret.DeclaredIn(label.Text),
                PHUncertainty = inversion.PHAt1GramPerLitre.StandardDeviation,
                SolubilityGramsPerLitre = LeastSoluble(best),
                Hazards = HazardsOf(best, label.IsLiquid),
                ChelateHighestPH = ChelateRanges.HighestPH(salts),
                LabelText = label.Text,
            },
            inversion,
            problems);
    }

    // A mix dissolves as far as its least soluble salt; gypsum and the like are then left behind, so only what makes up a hundredth counts.
    private static double? LeastSoluble(SaltMix mix) => mix.Salts.Where(share => share.KgPerKg >= 0.01)
        .Select(share => SaltFacts.Find(share.Salt.Formula)?.SolubilityGramsPerLitre is { } solubility ? solubility / share.KgPerKg : (double?)null).Min();

    // Salts in a blend keep their hazard from a tenth of it on (a rule of thumb in place of the classification the label carries).
    private static Hazards HazardsOf(SaltMix mix, bool liquid) => mix.Salts.Aggregate(Hazards.None, (all, share) => all | (liquid && share.Salt.OnlyDissolved
        ? HazardLimits.Of(share.Salt.Formula, share.KgPerKg * 100)
        : share.KgPerKg >= 0.1 ? SaltFacts.Find(share.Salt.Formula)!.Hazards : Hazards.None));

    private static ProductKind KindOf(SaltMix mix)
    {
        var largest = SaltFacts.Find(mix.Salts[0].Salt.Formula)!.Kind;
        if (largest == ProductKind.Silicate || mix.Salts.Count == 1)
        {
            return largest;
        }

        // Without nitrogen, phosphorus or potassium worth the name it supplements a feed and is none.
        var mgPerKg = Nutrients.MilligramsIn(mix.MolPerKg);
        return mgPerKg.TotalNitrogen + mgPerKg[Nutrient.Phosphorus] + mgPerKg[Nutrient.Potassium] < 30_000 ? ProductKind.Supplement : ProductKind.Fertilizer;
    }

    private static ProductKind KindOf(Formula formula) => formula.ComponentsPerMole[Chemistry.Species.Component.Hydrogen] switch
    {
        > 0.5 when formula.ComponentsPerMole.Present().Length == 2 => ProductKind.Acid,
        < -0.5 => ProductKind.Base,
        _ => ProductKind.Salt,
    };

    private static Formula? ReadFormula(string formula, List<InputProblem> problems)
    {
        if (Formula.TryParse(formula ?? string.Empty, out var read, out var reason))
        {
            return read;
        }

        problems.Add(InputProblem.Error("formula", formula, reason ?? "It cannot be read."));
        return null;
    }

    private static void CheckName(string name, List<InputProblem> problems)
    {
        if (string.IsNullOrWhiteSpace(name))
        {
            problems.Add(InputProblem.Error("name", name, "Give the product a name, as you would find it on the shelf."));
        }
    }

    private static void CheckPercent(string field, double percent, List<InputProblem> problems)
    {
        if (!(percent is > 0 and <= 100))
        {
            problems.Add(InputProblem.Error(field, Say(percent), "It must be above 0 and at most 100 % by weight."));
        }
    }

    private static bool HasError(List<InputProblem> problems) => problems.Any(problem => problem.Severity == Severity.Error);

    private static string Say(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
