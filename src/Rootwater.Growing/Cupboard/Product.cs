using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard;

/// <summary>What a product is for; the mixing order and the cautions depend on it.</summary>
public enum ProductKind
{
    Fertilizer,
    Salt,
    Acid,
    Base,
    Supplement,
    Silicate,
    Concentrate,
}

/// <summary>What can hurt; each flag has a caution text shown wherever the product is handled.</summary>
[Flags]
public enum Hazards
{
    None = 0,
    CorrosiveAcid = 1,
    CorrosiveBase = 2,
    Oxidiser = 4,
    Irritant = 8,
}

/// <summary>A product in the cupboard: one thing that is weighed or measured into a can.</summary>
/// <remarks>
/// <see cref="MolPerKg"/> is the chemistry's view: moles of each component (hydrogen included, electrically neutral as a whole) in one
/// kilogram of product as sold. It comes from a formula (salts) or from label inversion (mixed fertilizers).
/// </remarks>
public sealed record Product
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public required ProductKind Kind { get; init; }

    /// <summary>Moles of each component in one kilogram of product.</summary>
    public required ComponentAmounts MolPerKg { get; init; }

    /// <summary>Kilograms per litre; null for solids. A liquid is dosed in millilitres.</summary>
    public double? DensityKgPerLitre { get; init; }

    public bool IsLiquid => DensityKgPerLitre is not null;

    /// <summary>One standard deviation of what is in it against what it declares, relative (0.02 is 2 %).</summary>
    public double RelativeUncertainty { get; init; } = 0.02;

    /// <summary>One standard deviation of the pH a 1 g/L solution would show, because a label declares nutrients and not acidity.</summary>
    public double PHUncertainty { get; init; } = 0.05;

    /// <summary>One standard deviation of the EC of 1 g/L, µS/cm, because a label leaves open which salts bring what it declares; what it declares is known better.</summary>
    public double EcUncertaintyMicrosiemensPerCm { get; init; }

    /// <summary>Biuret its label declares, percent by weight; null where it says nothing.</summary>
    public double? BiuretPercent { get; init; }

    public decimal? PricePerKg { get; init; }

    /// <summary>Grams of product that dissolve in a litre of cold water; null where unknown.</summary>
    public double? SolubilityGramsPerLitre { get; init; }

    public Hazards Hazards { get; init; }

    /// <summary>Highest pH at which its chelate holds its metal, where it has one.</summary>
    public double? ChelateHighestPH { get; init; }

    /// <summary>The label as read, kept word for word.</summary>
    public string? LabelText { get; init; }

    /// <summary>Milligrams of each nutrient in one kilogram (which is micrograms per gram times a thousand).</summary>
    public NutrientAmounts MgPerKg => Nutrients.MilligramsIn(MolPerKg);
}

/// <summary>A bought package of a product and what is left of it.</summary>
public sealed record Lot
{
    public required Guid Id { get; init; }
    public required Guid ProductId { get; init; }

    /// <summary>What is left, in grams (liquids too: volume times density).</summary>
    public required double GramsLeft { get; init; }
    public DateOnly? BoughtOn { get; init; }
    public DateOnly? OpenedOn { get; init; }
    public DateOnly? BestBefore { get; init; }
    public string? Note { get; init; }
}

/// <summary>A product with its lots: one place in the cupboard.</summary>
public sealed record SupplyItem(Product Product, IReadOnlyList<Lot> Lots)
{
    public double GramsLeft => Lots.Sum(lot => lot.GramsLeft);
}
