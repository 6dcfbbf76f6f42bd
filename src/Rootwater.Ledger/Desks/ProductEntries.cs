namespace Rootwater.Ledger.Desks;

/// <summary>Reads a product entry with what the growing floor knows of labels, formulas and strengths.</summary>
internal static class ProductEntries
{
    public static ProductPreview Read(NewProduct entry) => throw new NotSupportedException("Lands with Cupboard.ProductFactory.");
}
