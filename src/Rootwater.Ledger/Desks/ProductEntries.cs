using Rootwater.Chemistry.Formulas;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads a product entry with what the growing floor knows of labels, formulas and strengths.</summary>
internal static class ProductEntries
{
    // Interim, until Cupboard.ProductFactory lands: formulas and strengths only.
    public static ProductPreview Read(NewProduct entry)
    {
        var (text, percent) = entry.Acid is { } acid ? (acid.Formula, acid.PercentByWeight) : (entry.Formula, entry.PurityPercent);
        if (text is null || !Formula.TryParse(text, out var formula, out var reason))
        {
            return new ProductPreview { Product = null, MadeOf = [], Warnings = [], Problems = [new EntryProblem("formula", text, "a formula such as MgSO4·7H2O")] };
        }

        return new ProductPreview
        {
            Product = new Product
            {
                Id = entry.Id,
                Name = entry.Name,
                Kind = entry.Kind,
                MolPerKg = formula!.ComponentsPerMole.Scaled(1000 / formula.GramsPerMole * percent / 100),
                DensityKgPerLitre = entry.DensityKgPerLitre,
                PricePerKg = entry.PricePerKg,
                Hazards = SaltTable.Find(text)?.Hazards ?? Hazards.None,
                SolubilityGramsPerLitre = SaltTable.Find(text)?.SolubilityGramsPerLitre,
            },
            MadeOf = [],
            Problems = [],
            Warnings = [],
        };
    }
}
