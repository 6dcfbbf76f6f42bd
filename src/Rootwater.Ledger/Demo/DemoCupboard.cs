using System.Globalization;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo;

/// <summary>A product of products.csv: how it was entered, and what is truly in this lot.</summary>
/// <param name="Product">As the cupboard understands the entry.</param>
/// <param name="Entry">As typed.</param>
/// <param name="Preview">The entry as read.</param>
/// <param name="Holds">The table's column.</param>
/// <param name="LotId">The one package.</param>
/// <param name="LotGrams">What was in it.</param>
/// <param name="TrulyMolPerKg">What is really in it: the salts of the table, and this lot's own deviation.</param>
internal sealed record DemoProduct(Product Product, NewProduct Entry, ProductPreview Preview, string Holds, Guid LotId, double LotGrams, ComponentAmounts TrulyMolPerKg);

/// <summary>The demo's cupboard.</summary>
internal sealed class DemoCupboard
{
    // Lots of one product differ by this much (one standard deviation, relative); common practice, no source.
    private const double LotDeviation = 0.01;

    public DemoCupboard(Func<Guid> newId, Dice dice)
    {
        foreach (var row in DemoTable.Read("products.csv"))
        {
            var entry = EntryOf(row, newId());
            var preview = ProductEntries.Read(entry);
            var product = preview.Product ?? throw new InvalidOperationException($"The demo's {entry.Name} cannot be read: {string.Join("; ", preview.Problems)}");
            var truth = TruthOf(row["holds"]).Scaled(1 + LotDeviation * dice.Normal());
            Products[row["key"]] = new DemoProduct(product, entry, preview, row["holds"], newId(), Figure(row["lot_grams"]), truth);
        }
    }

    public Dictionary<string, DemoProduct> Products { get; } = [];

    /// <summary>Packages bought before the newest one of each product, oldest first.</summary>
    public List<(string Key, Guid LotId)> Older { get; } = [];

    /// <summary>A new package of a product, a little different from the last.</summary>
    public LotBought BuyAgain(string key, Guid lotId, Dice dice, DateOnly on)
    {
        var item = Products[key];
        Older.Add((key, item.LotId));
        Products[key] = item with { LotId = lotId, TrulyMolPerKg = TruthOf(item.Holds).Scaled(1 + LotDeviation * dice.Normal()) };
        return new LotBought(lotId, item.Product.Id, item.LotGrams, on, on, null, null);
    }

    public IEnumerable<(Guid Subject, FactPayload Payload, FactWhen? When)> Facts(DateOnly today)
    {
        foreach (var item in Products.Values)
        {
            yield return (item.Product.Id, new ProductSet(item.Product, item.Entry.Formula ?? item.Entry.Acid?.Formula, item.Preview.MadeOf), null);
            yield return (item.LotId, new LotBought(item.LotId, item.Product.Id, item.LotGrams, today.AddDays(-40), today.AddDays(-30), null, null), null);
        }
    }

    private static NewProduct EntryOf(IReadOnlyDictionary<string, string> row, Guid id)
    {
        var entry = new NewProduct
        {
            Id = id,
            Name = row["name"],
            Kind = Enum.Parse<ProductKind>(row["kind"]),
            DensityKgPerLitre = row["density_kg_per_l"].Length > 0 ? Figure(row["density_kg_per_l"]) : null,
            PricePerKg = decimal.Parse(row["price_per_kg"], CultureInfo.InvariantCulture),
        };
        var text = row["text"];
        return row["entry"] switch
        {
            "label" => entry with { LabelText = text },
            "formula" => entry with { Formula = text },
            _ => entry with { Acid = new AcidStrength(text.Split(':')[0], Figure(text.Split(':')[1])) },
        };
    }

    internal static ComponentAmounts TruthOf(string holds) => holds.Split('|').Select(part => part.Split(':')).Aggregate(ComponentAmounts.Zero, (sum, part) =>
    {
        var formula = Formula.Parse(part[0]);
        return sum.PlusScaled(formula.ComponentsPerMole, 1000 / formula.GramsPerMole * Figure(part[1]) / 100);
    });

    private static double Figure(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
