using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads a product entry with what the growing floor knows of labels, formulas and strengths.</summary>
internal static class ProductEntries
{
    private const decimal MostPricePerKg = 1_000_000;

    public static ProductPreview Read(NewProduct entry)
    {
        var problems = new List<InputProblem>();
        var outcome = OutcomeOf(entry, problems);
        problems.AddRange(outcome?.Problems ?? []);
        if (entry.PricePerKg is < 0 or > MostPricePerKg)
        {
            problems.Add(InputProblem.Error("price", entry.PricePerKg.Value.ToString(CultureInfo.InvariantCulture), "0 to 1,000,000 per kilogram."));
        }

        if (entry.TolerancePercent is { } tolerance && (entry.LabelText is null || tolerance is not (> 0 and <= Label.MostTolerancePercent)))
        {
            problems.Add(InputProblem.Error("tolerance", tolerance.ToString(CultureInfo.InvariantCulture), "± percent, above 0 and up to 30, for a product known by its label; leave it empty where nothing says so."));
        }

        var product = outcome?.Product is { } made
            ? made with
            {
                Name = entry.Name.Trim(),
                Kind = entry.Kind ?? made.Kind,
                // As far as the figure means anything: what an iterative solve leaves in the last bits is no knowledge.
                PHUncertainty = Math.Round(made.PHUncertainty, 4),
                EcUncertaintyMicrosiemensPerCm = Math.Round(made.EcUncertaintyMicrosiemensPerCm, 2),
                RelativeUncertainty = Math.Round(made.RelativeUncertainty, 6),
                DensityKgPerLitre = made.DensityKgPerLitre ?? entry.DensityKgPerLitre,
                PricePerKg = entry.PricePerKg,
                LabelText = entry.LabelText ?? made.LabelText,
            }
            : null;
        return new ProductPreview
        {
            Product = product,
            MadeOf = outcome?.Inversion is { } inversion ? [.. inversion.Best.Salts.Select(share => string.Create(CultureInfo.InvariantCulture, $"{share.Salt.Name} {share.KgPerKg:0.0 %}"))] : [],
            Problems = [.. problems.Where(problem => problem.Severity == Severity.Error).Distinct().Select(EntryProblems.Of)],
            Warnings = [.. problems.Where(problem => problem.Severity != Severity.Error).Distinct().Select(problem => $"{problem.Field}: {problem.Message}")],
        };
    }

    private static ProductOutcome? OutcomeOf(NewProduct entry, List<InputProblem> problems)
    {
        var ways = (entry.LabelText is null ? 0 : 1) + (entry.Formula is null ? 0 : 1) + (entry.Acid is null ? 0 : 1);
        if (ways != 1)
        {
            problems.Add(InputProblem.Error("contents", null, "Say what it is in exactly one way: its label, a formula, or an acid or base with its strength."));
            return null;
        }

        if (string.IsNullOrWhiteSpace(entry.Name))
        {
            problems.Add(InputProblem.Error("name", entry.Name, "Give the product a name, as you would find it on the shelf."));
            return null;
        }

        return entry switch
        {
            { Formula: { } formula } when entry.DensityKgPerLitre is { } density => ProductFactory.FromStrength(entry.Name, formula, entry.PurityPercent, density, entry.Id),
            { Formula: { } formula } => ProductFactory.FromFormula(entry.Name, formula, entry.PurityPercent, entry.Id),
            { Acid: { } acid } => ProductFactory.FromStrength(entry.Name, acid.Formula, acid.PercentByWeight, entry.DensityKgPerLitre, entry.Id),
            _ => FromLabel(entry, problems),
        };
    }

    private static ProductOutcome? FromLabel(NewProduct entry, List<InputProblem> problems)
    {
        var reading = LabelText.Parse(entry.LabelText!, entry.DensityKgPerLitre);
        problems.AddRange(reading.Problems);
        return reading.IsUsable ? ProductFactory.FromLabel(reading.Label! with { Name = entry.Name, RelativeTolerance = entry.TolerancePercent is { } percent ? Label.ToleranceOf(percent) : reading.Label!.RelativeTolerance }, entry.Kind, entry.Id) : null;
    }
}

/// <summary>The growing floor's problems as entries show them.</summary>
internal static class EntryProblems
{
    public static EntryProblem Of(InputProblem problem) => new(problem.Field, problem.Value, problem.Message);
}
