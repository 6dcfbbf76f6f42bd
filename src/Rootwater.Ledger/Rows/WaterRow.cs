namespace Rootwater.Ledger.Rows;

/// <summary>A water to draw on.</summary>
public sealed class WaterRow
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    public double? AvailableLitres { get; set; }
    public decimal PricePerLitre { get; set; }
}
