namespace Rootwater.Ledger.Rows;

/// <summary>A registered or own cross.</summary>
public sealed class CrossRow
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    public required string SeedParent { get; set; }
    public required string PollenParent { get; set; }
}
