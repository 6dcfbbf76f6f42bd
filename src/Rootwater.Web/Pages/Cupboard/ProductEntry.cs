using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Cupboard;

/// <summary>How the grower knows what is in the package.</summary>
public enum ProductEntryWay
{
    Label,
    Formula,
    Acid,
}

/// <summary>The form of a new product as typed; it becomes a <see cref="NewProduct"/> or names every field that is wrong.</summary>
public sealed class ProductEntry
{
    public const string PercentField = "percent", DensityField = "density", PriceField = "price", ToleranceField = "tolerance";

    /// <summary>Fields that have a place on the page for what is wrong with them.</summary>
    public static IReadOnlyList<string> Placed { get; } =
    [
        "Name", "product name", "Formula", "Acid", "acid formula", "Purity", "Strength", "purity percent", "percent by weight",
        PercentField, DensityField, PriceField, ToleranceField,
    ];

    // One id from the first look to the last save: pressed twice, the product is kept once.
    private readonly Guid _id = Guid.CreateVersion7();

    public ProductEntryWay Way { get; set; }
    public string Name { get; set; } = "";

    /// <summary>Null: as it follows from what it is.</summary>
    public ProductKind? Kind { get; set; }
    public string LabelText { get; set; } = "";
    public string Formula { get; set; } = "";
    public string Percent { get; set; } = "100";
    public string Density { get; set; } = "";
    public string Price { get; set; } = "";

    /// <summary>± percent; empty: as the label says, or as labels usually keep.</summary>
    public string Tolerance { get; set; } = "";

    /// <exception cref="EntryException">Names every field that cannot be read as a number.</exception>
    public NewProduct ToNewProduct()
    {
        var problems = new List<EntryProblem>();
        if (string.IsNullOrWhiteSpace(Name))
            problems.Add(new EntryProblem("Name", null, "give it a name you will know it by on the card."));
        if (Way == ProductEntryWay.Label && string.IsNullOrWhiteSpace(LabelText))
            problems.Add(new EntryProblem("Label", null, "paste or type what the package declares."));
        if (Way != ProductEntryWay.Label && string.IsNullOrWhiteSpace(Formula))
            problems.Add(new EntryProblem("Formula", null, "type a formula, such as MgSO4·7H2O or H3PO4."));
        var percent = 100.0;
        if (Way != ProductEntryWay.Label && (!Entry.TryRead(Percent, out percent) || percent is <= 0 or > 100))
            problems.Add(new EntryProblem(PercentField, Percent, "type a percentage by weight, above 0 and up to 100."));
        if (!Entry.TryReadOptional(Density, out var density) || density is <= 0)
            problems.Add(new EntryProblem(DensityField, Density, "type kilograms per litre, such as 1,14; leave it empty for a solid."));
        if (!Entry.TryReadOptional(Price, out var price) || price is < 0)
            problems.Add(new EntryProblem(PriceField, Price, "type a price per kilogram, or leave it empty."));
        double? tolerance = null;
        if (Way == ProductEntryWay.Label && (!Entry.TryReadOptional(Tolerance, out tolerance) || tolerance is <= 0 or > Label.MostTolerancePercent))
            problems.Add(new EntryProblem(ToleranceField, Tolerance, "type ± percent, above 0 and up to 30, or leave it empty."));
        if (problems.Count > 0)
            throw new EntryException(problems);
        return new NewProduct
        {
            Id = _id,
            Name = Name.Trim(),
            Kind = Kind,
            LabelText = Way == ProductEntryWay.Label ? LabelText : null,
            Formula = Way == ProductEntryWay.Formula ? Formula.Trim() : null,
            PurityPercent = Way == ProductEntryWay.Formula ? percent : 100,
            Acid = Way == ProductEntryWay.Acid ? new AcidStrength(Formula.Trim(), percent) : null,
            DensityKgPerLitre = density,
            PricePerKg = (decimal?)price,
            TolerancePercent = tolerance,
        };
    }
}
