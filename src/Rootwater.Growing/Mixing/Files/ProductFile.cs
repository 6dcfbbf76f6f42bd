using System.Globalization;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Mixing.Files;

/// <summary>Products as the files write them: by formula, by components, or by label text.</summary>
internal static class ProductFile
{
    public static SupplyItem? Read(ProductDto dto, string at, List<PlanRequestProblem> found)
    {
        var before = found.Count;
        var name = dto.Name ?? dto.Formula ?? "";
        PlanRequestFile.Required(name, $"{at}.name", "a name for the product", found);
        var ways = new[] { dto.Formula, dto.Label, dto.MolPerKg is null ? null : "molPerKg" }.Count(way => way is not null);
        if (ways != 1)
        {
            found.Add(new(at, null, "exactly one of formula, label and molPerKg"));
            return null;
        }

        if (dto.Millilitres is not null && dto.DensityKgPerLitre is null)
        {
            found.Add(new($"{at}.densityKgPerLitre", null, "a product given by volume needs its density, kg per litre; weigh 100 mL of it to find it"));
        }

        var id = dto.Id ?? Guid.CreateVersion7();
        var product = dto.Label is not null && found.Count == before ? LabelFile.Read(dto, name, id, at, found) : FromContents(dto, name, id, at, found);
        if (found.Count > before || product is null)
        {
            return null;
        }

        product = product with
        {
            RelativeUncertainty = dto.RelativeUncertainty ?? product.RelativeUncertainty,
            PHUncertainty = dto.PHUncertainty ?? product.PHUncertainty,
            PricePerKg = dto.PricePerKg,
            SolubilityGramsPerLitre = dto.SolubilityGramsPerLitre ?? product.SolubilityGramsPerLitre,
        };
        var grams = dto.Grams ?? dto.Millilitres * dto.DensityKgPerLitre ?? 1000;
        return new SupplyItem(product, [new Lot { Id = Guid.CreateVersion7(), ProductId = id, GramsLeft = grams, BoughtOn = dto.BoughtOn }]);
    }

    private static Product? FromContents(ProductDto dto, string name, Guid id, string at, List<PlanRequestProblem> found)
    {
        var amounts = dto.Formula is not null ? FromFormula(dto, at, found) : ComponentFile.Read(dto.MolPerKg, 1, $"{at}.molPerKg", found);
        if (amounts is null)
        {
            return null;
        }

        var salt = dto.Formula is null ? null : SaltFacts.Find(dto.Formula);
        var kind = dto.Kind ?? KindOf(amounts);
        return new Product
        {
            Id = id,
            Name = name,
            Kind = kind,
            MolPerKg = amounts,
            DensityKgPerLitre = dto.DensityKgPerLitre,
            RelativeUncertainty = 0.01,
            PHUncertainty = 0.03,
            SolubilityGramsPerLitre = salt?.SolubilityGramsPerLitre,
            Hazards = dto.DensityKgPerLitre is null ? salt?.Hazards ?? HazardsOf(kind) : HazardsOf(kind),
        };
    }

    private static ComponentAmounts? FromFormula(ProductDto dto, string at, List<PlanRequestProblem> found)
    {
        if (!Formula.TryParse(dto.Formula!, out var formula, out var reason))
        {
            found.Add(new($"{at}.formula", dto.Formula, reason ?? "a formula such as \"Ca(NO3)2·4H2O\""));
            return null;
        }

        var percent = dto.PercentByWeight ?? 100;
        if (percent is not (> 0 and <= 100))
        {
            found.Add(new($"{at}.percentByWeight", percent.ToString(CultureInfo.InvariantCulture), "above 0 and up to 100"));
            return null;
        }

        try
        {
            return formula!.ComponentsPerMole.Scaled(10 * percent / formula.GramsPerMole);
        }
        catch (Exception problem) when (problem is InvalidOperationException or FormatException or NotSupportedException)
        {
            found.Add(new($"{at}.formula", dto.Formula, problem.Message));
            return null;
        }
    }

    // A liquid that brings protons and little else is an acid, one that takes them a base; silicate is told by its silicon.
    private static ProductKind KindOf(ComponentAmounts molPerKg)
    {
        if (molPerKg[Component.Silicate] > 0.5)
        {
            return ProductKind.Silicate;
        }

        var free = molPerKg[Component.Hydrogen] - 2 * molPerKg[Component.Phosphate] - 2 * molPerKg[Component.Carbonate];
        return free > 0.3 ? ProductKind.Acid : free < -0.3 ? ProductKind.Base : ProductKind.Salt;
    }

    private static Hazards HazardsOf(ProductKind kind) => kind switch
    {
        ProductKind.Acid => Hazards.CorrosiveAcid,
        ProductKind.Base or ProductKind.Silicate => Hazards.CorrosiveBase,
        _ => Hazards.None,
    };
}

/// <summary>Products by their label's text: read, inverted to salts, and refused with what the label floor says of it.</summary>
internal static class LabelFile
{
    public static Product? Read(ProductDto dto, string name, Guid id, string at, List<PlanRequestProblem> found)
    {
        var reading = LabelText.Parse(dto.Label!, dto.DensityKgPerLitre);
        var outcome = reading.Label is { } label && reading.IsUsable ? ProductFactory.FromLabel(label with { Name = name }, dto.Kind, id) : null;
        if (outcome?.Product is { } product)
        {
            return product;
        }

        var errors = (outcome?.Problems ?? reading.Problems).Where(problem => problem.Severity == Severity.Error).ToList();
        found.AddRange(errors.Select(problem => new PlanRequestProblem($"{at}.label, {problem.Field}", problem.Value, problem.Message)));
        if (errors.Count == 0)
        {
            found.Add(new($"{at}.label", null, "a label that declares something: \"N 14 %, P2O5 4 %, K2O 12 %\""));
        }

        return null;
    }
}
