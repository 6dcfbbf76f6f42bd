using System.Globalization;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;

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

        var amounts = dto.Formula is not null ? FromFormula(dto, at, found)
            : dto.MolPerKg is not null ? ComponentFile.Read(dto.MolPerKg, 1, $"{at}.molPerKg", found)
            : LabelFile.Read(dto, at, found);
        if (found.Count > before || amounts is null)
        {
            return null;
        }

        var id = dto.Id ?? Guid.CreateVersion7();
        var kind = dto.Kind ?? KindOf(amounts, dto);
        var product = new Product
        {
            Id = id,
            Name = name,
            Kind = kind,
            MolPerKg = amounts,
            DensityKgPerLitre = dto.DensityKgPerLitre,
            RelativeUncertainty = dto.RelativeUncertainty ?? (dto.Label is null ? 0.01 : 0.03),
            PHUncertainty = dto.PHUncertainty ?? (dto.Label is null ? 0.03 : 0.1),
            PricePerKg = dto.PricePerKg,
            SolubilityGramsPerLitre = dto.SolubilityGramsPerLitre,
            Hazards = HazardsOf(kind),
            LabelText = dto.Label,
        };
        var grams = dto.Grams ?? dto.Millilitres * dto.DensityKgPerLitre ?? 1000;
        return new SupplyItem(product, [new Lot { Id = Guid.CreateVersion7(), ProductId = id, GramsLeft = grams, BoughtOn = dto.BoughtOn }]);
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
    private static ProductKind KindOf(ComponentAmounts molPerKg, ProductDto dto)
    {
        if (molPerKg[Component.Silicate] > 0.5)
        {
            return ProductKind.Silicate;
        }

        var free = molPerKg[Component.Hydrogen] - 2 * molPerKg[Component.Phosphate] - 2 * molPerKg[Component.Carbonate];
        return dto.Label is not null ? ProductKind.Fertilizer : free > 0.3 ? ProductKind.Acid : free < -0.3 ? ProductKind.Base : ProductKind.Salt;
    }

    private static Hazards HazardsOf(ProductKind kind) => kind switch
    {
        ProductKind.Acid => Hazards.CorrosiveAcid,
        ProductKind.Base or ProductKind.Silicate => Hazards.CorrosiveBase,
        _ => Hazards.None,
    };
}

/// <summary>Products by their label's text.</summary>
internal static class LabelFile
{
    public static ComponentAmounts? Read(ProductDto dto, string at, List<PlanRequestProblem> found)
    {
        found.Add(new($"{at}.label", dto.Label, "labels cannot be read from a request file yet; give formula or molPerKg"));
        return null;
    }
}
