namespace Rootwater.Ledger.Rows;

/// <summary>A vessel to mix in.</summary>
public sealed class VesselRow
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    public double Litres { get; set; }
    public double RelativeVolumeError { get; set; }
}
