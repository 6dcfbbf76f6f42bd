namespace Rootwater.Ledger.Rows;

/// <summary>Where pots stand.</summary>
public sealed class PlaceRow
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    public int WalkOrder { get; set; }
    public required string Light { get; set; }
    public required string Warmth { get; set; }
}
